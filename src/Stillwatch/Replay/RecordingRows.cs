using Stillwatch.Alarms;
using Stillwatch.Conditioning;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Replay;

/// <summary>
/// The rows of a recording in time order, its channels put together instant by instant: channels of one file may share their
/// times or have their own.
/// </summary>
internal sealed class RecordingRows
{
    private readonly Cursor? spO2;
    private readonly Cursor? pulseRate;
    private readonly Cursor? perfusion;
    private readonly OutsideJudge judge;

    public RecordingRows(Channel? spO2, Channel? pulseRate, Channel? perfusion, Channel? sourceValid, Channel? quality)
    {
        this.spO2 = Cursor.On(spO2);
        this.pulseRate = Cursor.On(pulseRate);
        this.perfusion = Cursor.On(perfusion);
        judge = new OutsideJudge(sourceValid, quality);
        Feed = new AlarmFeed(spO2?.Times.Period, pulseRate?.Times.Period, perfusion?.Times.Period);
        var axes = new[] { spO2, pulseRate }.OfType<Channel>().Select(c => c.Times).Where(t => t.Count > 0).ToList();
        HasRows = axes.Count > 0;
        First = HasRows ? axes.Min(t => t.First) : default;
        End = HasRows ? axes.Max(t => t.End) : default;
    }

    public AlarmFeed Feed { get; }

    /// <summary>Whether a monitored channel has any row, with or without a number.</summary>
    public bool HasRows { get; }

    public SampleTime First { get; }

    /// <summary>R1; with several channels, the latest of their ends.</summary>
    public SampleTime End { get; }

    public bool TryNext(out AlarmRow row)
    {
        long time = Math.Min(spO2?.Time ?? long.MaxValue, Math.Min(pulseRate?.Time ?? long.MaxValue, perfusion?.Time ?? long.MaxValue));
        if (time == long.MaxValue || time >= End.Milliseconds)
        {
            row = default;
            return false;
        }

        row = new AlarmRow(
            new SampleTime(time),
            Take(spO2, time),
            Take(pulseRate, time),
            Take(perfusion, time),
            judge.QualityMicro(time),
            judge.IsFlagged(time) ? SourceStates.NotValid : SourceStates.None);
        return true;
    }

    private static int Take(Cursor? cursor, long time) => cursor?.TakeAt(time) ?? ValueColumn.Missing;

    /// <summary>A place in one channel, its chunks opened one by one.</summary>
    private sealed class Cursor
    {
        private readonly Channel channel;
        private readonly long[] times = new long[TimeAxis.ChunkLength];
        private readonly int[] values = new int[TimeAxis.ChunkLength];
        private int chunk;
        private int length;
        private int index;

        private Cursor(Channel channel)
        {
            this.channel = channel;
            Open();
        }

        public static Cursor? On(Channel? channel) => channel is null ? null : new Cursor(channel);

        public long Time { get; private set; }

        public int TakeAt(long time)
        {
            if (Time != time) return ValueColumn.Missing;
            int value = values[index++];
            if (index < length)
            {
                Time = times[index];
            }
            else
            {
                chunk++;
                Open();
            }

            return value;
        }

        private void Open()
        {
            index = 0;
            if (chunk == channel.Times.ChunkCount)
            {
                Time = long.MaxValue;
                return;
            }

            length = channel.Times.CopyChunk(chunk, times);
            channel.Values.CopyChunk(chunk, values);
            Time = times[0];
        }
    }
}
