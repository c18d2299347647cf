using Stillwatch.Time;

namespace Stillwatch.Oximetry.Feed;

/// <summary>What a feed gave.</summary>
/// <param name="Rate">Of the even grid.</param>
/// <param name="Start">Time of the grid's first sample.</param>
/// <param name="Samples">Of the grid, gaps included.</param>
/// <param name="MissingSamples">Of them, those that no row of the source stands for.</param>
/// <param name="Grid">How the source's times relate to the grid.</param>
/// <param name="GreatestJitterSeconds">How far a row's time lies from its place on the grid at most; 0 where the times were even, NaN where they were resampled.</param>
/// <param name="JoinedRows">Rows that came within a quarter of the median step of the one before and were taken together with it.</param>
/// <param name="Resampling">What resampling cost; null where rows were taken as they are.</param>
public sealed record FeedSummary(
    SampleRate Rate,
    SampleTime Start,
    long Samples,
    long MissingSamples,
    FeedGrid Grid,
    double GreatestJitterSeconds,
    long JoinedRows,
    ResamplingReport? Resampling);

/// <summary>How the source's times relate to the even grid that the chain runs on.</summary>
public enum FeedGrid
{
    /// <summary>The source's own even rate.</summary>
    Even,

    /// <summary>
    /// Every row lies within 1 ms (and a quarter of a step) of an even grid, whose places are taken for the times; rows that are missing are gaps.
    /// </summary>
    Snapped,

    /// <summary>Times are uneven: values are interpolated onto an even grid.</summary>
    Resampled,
}
