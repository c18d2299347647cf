using Stillwatch.Time;

namespace Stillwatch.Oximetry.Feed;

/// <summary>The even grid for a channel's times.</summary>
internal sealed record GridChoice(SampleRate Rate, SampleTime Start, FeedGrid Grid)
{
    /// <summary>How far a row lies from its place on a snapped grid at most.</summary>
    public double GreatestJitterSeconds { get; init; }

    /// <summary>Median step between the source's rows; at least 1.</summary>
    public long StepMilliseconds { get; init; } = 1;

    /// <summary>Where a snapped grid begins, from the first row on: between −1 and 1 ms.</summary>
    public double OffsetMilliseconds { get; init; }

    /// <summary>Set where the first rows lie evenly at this rate and later times are all whole hundredths of a second: times that were rounded, not rows that came unevenly.</summary>
    public double? CountedHz { get; init; }

    public const double LeastHz = 25, GreatestHz = 500;

    /// <exception cref="FeedRefusedException">No rows, or a rate outside 25 to 500 a second.</exception>
    public static GridChoice For(string label, TimeAxis times)
    {
        string where = $"channel '{label}'";
        if (times.Count == 0) throw new FeedRefusedException(where, "no rows", "samples", "the recording ended before it began, or another channel was meant");
        if (times.Rate is { } even)
        {
            CheckRate(where, even);
            return new GridChoice(even, times.First, FeedGrid.Even) { StepMilliseconds = even.Period.Milliseconds };
        }

        var found = GridFinder.Find(times) ?? throw new FeedRefusedException(where, "several uneven rows in a millisecond", "25 to 500 samples a second", "times read in a wrong unit");
        CheckRate(where, found.Rate);
        return found;
    }

    private static void CheckRate(string where, SampleRate rate)
    {
        if (rate.Hertz is >= LeastHz and <= GreatestHz) return;
        throw new FeedRefusedException(
            where, rate.ToString(), "25 to 500 samples a second", rate.Hertz < LeastHz ? "a trend of numerics instead of a waveform, or times read in a wrong unit" : "times read in a wrong unit");
    }
}
