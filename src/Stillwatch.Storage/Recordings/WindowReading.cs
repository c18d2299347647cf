using Stillwatch.Quantities;
using Stillwatch.Signals;
using Stillwatch.Storage.Samples;
using Stillwatch.Storage.Sql;
using Stillwatch.Time;

namespace Stillwatch.Storage.Recordings;

/// <summary>One channel between two times, in columns: from the level that is just fine enough, and only from the chunks that the window touches.</summary>
internal sealed class WindowReading : IDisposable
{
    private readonly Session session;
    private readonly AxisRow axis;
    private readonly ChannelRow channel;
    private readonly long from;
    private readonly long to;
    private readonly Packing packing = new();
    private readonly Calibration? calibration;
    private readonly ChannelWindow window;

    public WindowReading(Session session, RecordingHead head, ChannelRow channel, SampleTime from, SampleTime to, int columns)
    {
        this.session = session;
        this.channel = channel;
        axis = head.AxisOf(channel);
        (this.from, this.to) = (from.Milliseconds, to.Milliseconds);
        calibration = channel.Holds == ChannelRow.Counts ? RecordingHead.CalibrationOf(channel) : null;
        var (least, greatest) = (new float[columns], new float[columns]);
        Array.Fill(least, float.NaN);
        Array.Fill(greatest, float.NaN);
        window = new ChannelWindow(from, to, least, greatest, new int[columns]);
    }

    public async Task<ChannelWindow> ReadAsync()
    {
        var shape = new PyramidShape(channel.EntryMilliseconds, channel.Levels);
        if (!shape.IsPossible) throw new InvalidDataException($"channel {channel.Number} has {shape.Levels} levels, of which the first is {shape.EntryMilliseconds} ms long");
        int level = shape.LevelFor(to - from, window.Columns);
        var asked = new { Recording = channel.Recording, Owner = channel.Number, Level = level, FromMilliseconds = from, ToMilliseconds = to };
        var chunks = await session.ReadAsync<ChunkRow>("samples/sample-chunks-between", asked).ConfigureAwait(false);
        foreach (var chunk in chunks)
        {
            session.Cancellation.ThrowIfCancellationRequested();
            if (level == 0) AddSamples(chunk, await TimesAsync(chunk).ConfigureAwait(false));
            else AddEntries(chunk, shape.WidthOf(level));
        }

        return window;
    }

    public void Dispose() => packing.Dispose();

    private void AddEntries(ChunkRow chunk, long width)
    {
        foreach (var entry in ChunkReading.Entries(packing, chunk))
        {
            long start = axis.FirstMilliseconds + entry.Bin * width;
            // One that reaches over the left edge is part of the first column: nothing that is in sight is left out.
            if (start < to && start + width > from) Add(Math.Max(start, from), entry.Least, entry.Greatest, entry.Rows);
        }
    }

    private void AddSamples(ChunkRow chunk, long[] times)
    {
        var samples = ChunkReading.Samples(packing, chunk, new int[TimeAxis.ChunkLength]);
        for (int i = 0; i < samples.Length; i++)
        {
            if (samples[i] != ValueColumn.Missing && times[i] >= from && times[i] < to) Add(times[i], samples[i], samples[i], 1);
        }
    }

    private async Task<long[]> TimesAsync(ChunkRow chunk)
    {
        long[] times = new long[TimeAxis.ChunkLength];
        if (axis.RateSamples is { } samples && axis.RateMilliseconds is { } milliseconds)
        {
            var rate = SampleRate.Of(samples, milliseconds);
            int rows = ChunkReading.Rows(chunk);
            for (int i = 0; i < rows; i++) times[i] = axis.FirstMilliseconds + rate.MillisecondsAt((long)chunk.Chunk * TimeAxis.ChunkLength + i);
            return times;
        }

        var stored = await session.FirstAsync<ChunkRow>("samples/time-chunk", new { Recording = channel.Recording, Owner = axis.Number, Chunk = chunk.Chunk }).ConfigureAwait(false)
            ?? throw new InvalidDataException($"the times of chunk {chunk.Chunk} are missing");
        if (ChunkReading.Times(packing, stored, times).Length != chunk.RowCount) throw new InvalidDataException($"chunk {chunk.Chunk} has more or fewer times than samples");
        return times;
    }

    private void Add(long time, int least, int greatest, int rows)
    {
        int column = (int)((Int128)(time - from) * window.Columns / (to - from));
        float one = ValueOf(least), other = ValueOf(greatest);
        // A channel that is upside down has its least value where its counts are greatest.
        var (low, high) = one <= other ? (one, other) : (other, one);
        bool isFirst = window.Rows[column] == 0;
        window.Least[column] = isFirst ? low : Math.Min(window.Least[column], low);
        window.Greatest[column] = isFirst ? high : Math.Max(window.Greatest[column], high);
        window.Rows[column] += rows;
    }

    private float ValueOf(int sample) => (float)(calibration?.ValueOf(sample) ?? sample / (double)FixedPoint.One);
}
