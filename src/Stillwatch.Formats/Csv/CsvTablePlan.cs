using Stillwatch.Formats.Csv.Times;
using Stillwatch.Formats.Json;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Formats.Csv;

/// <summary>How a recording becomes a table: what its time column tells, and what its cells hold.</summary>
/// <param name="Start">What the times are written from; unknown: elapsed seconds.</param>
/// <param name="IsShared">All channels have the same times.</param>
/// <param name="HoldsCounts">For each channel whether its cells hold a converter's counts, because values in the unit would not lead back to them.</param>
internal sealed record CsvTablePlan(RecordingStart Start, bool IsShared, IReadOnlyList<bool> HoldsCounts)
{
    public const string NoNumber = "NaN";
    public const string ElapsedHeader = "time_s";
    public const string TimeOfDayHeader = "time of day";
    public const string TimeHeader = "time";

    private const long HalfDayMilliseconds = ClockText.DayMilliseconds / 2;

    public static CsvTablePlan Of(Recording recording) => new(
        FitsClock(recording) ? recording.Start : new RecordingStart.Unknown(),
        IsSharedBy(AxisHeader.Of(recording.Channels)),
        [.. recording.Channels.Select(c => c.Counts is { } counts && !LeadsBack(counts))]);

    public static bool IsSharedBy(IReadOnlyList<AxisHeader> axes) => axes.Skip(1).All(a => a is AxisHeader.Same { Channel: 0 });

    /// <summary>The count nearest to a value; null where none is in reach.</summary>
    public static int? CountOf(Calibration calibration, double value)
    {
        double count = Math.Round((value - (double)calibration.Offset) * (double)calibration.Denominator / (double)calibration.Numerator) + calibration.Origin;
        return count is > int.MinValue and <= int.MaxValue ? (int)count : null;
    }

    /// <summary>The next row of the table: the earliest time that a channel has not been written up to.</summary>
    public static SampleTime? NextTime(Recording recording, int[] next)
    {
        SampleTime? first = null;
        for (int c = 0; c < next.Length; c++)
        {
            var times = recording.Channels[c].Times;
            if (next[c] >= times.Count) continue;
            var time = times.TimeAt(next[c]);
            if (first is null || time < first) first = time;
        }

        return first;
    }

    private static bool LeadsBack(CountColumn counts)
    {
        var chunk = new int[TimeAxis.ChunkLength];
        for (int c = 0; c < counts.ChunkCount; c++)
        {
            int length = counts.CopyChunk(c, chunk);
            foreach (int count in chunk.AsSpan(0, length))
            {
                if (count != CountColumn.Missing && CountOf(counts.Calibration, counts.Calibration.ValueOf(count)) != count) return false;
            }
        }

        return true;
    }

    private static bool FitsClock(Recording recording)
    {
        var filled = recording.Channels.Select(c => c.Times).Where(t => t.Count > 0).ToList();
        if (filled.Count == 0) return true;
        var (first, last) = (filled.Min(t => t.First).Milliseconds, filled.Max(t => t.Last).Milliseconds);
        return recording.Start switch
        {
            RecordingStart.TimeOfDay => LongestStep(recording) < HalfDayMilliseconds,
            RecordingStart.Local local => Holds(local.DateTime, first, last),
            RecordingStart.Zoned zoned => Holds(zoned.DateTime.DateTime, first, last) && Holds(zoned.DateTime.UtcDateTime, first, last),
            _ => true,
        };
    }

    private static bool Holds(DateTime start, long first, long last)
    {
        long before = start.Ticks / TimeSpan.TicksPerMillisecond;
        long after = (DateTime.MaxValue.Ticks - start.Ticks) / TimeSpan.TicksPerMillisecond;
        return -first <= before && last <= after;
    }

    // Between rows of the table, and from the origin to the first of them.
    private static long LongestStep(Recording recording)
    {
        var next = new int[recording.Channels.Count];
        long longest = 0, before = 0;
        while (NextTime(recording, next) is { } time)
        {
            longest = Math.Max(longest, Math.Abs(time.Milliseconds - before));
            before = time.Milliseconds;
            for (int c = 0; c < next.Length; c++)
            {
                var times = recording.Channels[c].Times;
                if (next[c] < times.Count && times.TimeAt(next[c]) == time) next[c]++;
            }
        }

        return longest;
    }
}
