using Stillwatch.Oximetry.Calibration;
using Stillwatch.Time;

namespace Stillwatch.Oximetry;

/// <summary>What was derived from a recording's light: the source's samples stay with the recording.</summary>
public sealed record DerivedRecording
{
    /// <summary>Which channels were used as what, and why.</summary>
    public required OpticalPlan Plan { get; init; }

    public required OximetrySettings Settings { get; init; }

    /// <summary>Time of the first sample; second 0 of <see cref="Seconds"/> begins here, and so do the beats' seconds.</summary>
    public required SampleTime Start { get; init; }

    /// <summary>In order of time.</summary>
    public required IReadOnlyList<Beat> Beats { get; init; }

    /// <summary>One for every second that has begun, gaps too.</summary>
    public required IReadOnlyList<SecondReading> Seconds { get; init; }

    /// <summary>Windows side by side from second 0 on; a rest shorter than a window has none.</summary>
    public required IReadOnlyList<BreathingReading> Breathing { get; init; }
}

/// <summary>Which channels the chain reads, as what, at which rate.</summary>
public sealed record OpticalPlan
{
    /// <summary>Label of the channel that pulses are found in: infrared, or the one pleth.</summary>
    public required string PulseLabel { get; init; }

    /// <summary>Label of the red channel; null: no saturation can be had.</summary>
    public string? RedLabel { get; init; }

    /// <summary>Why no saturation can be had, in words that follow "no SpO2, for"; null where it can.</summary>
    public string? NoSaturationBecause { get; init; }

    /// <summary>Whether the values fall when blood volume rises, as light through tissue does.</summary>
    public required bool FallsWithBlood { get; init; }

    /// <summary>Whether zero means no light, so that perfusion and ratios can be had. A pleth's zero is usually somewhere else.</summary>
    public required bool IsLight { get; init; }

    /// <summary>The even rate at which the chain runs: the source's, or that of the resampling.</summary>
    public required SampleRate Rate { get; init; }

    /// <summary>How the channels came to be chosen: candidates with their mean quality.</summary>
    public required IReadOnlyList<ChannelCandidate> Candidates { get; init; }

    /// <summary>Set where the source's samples are uneven and were brought onto an even grid.</summary>
    public ResamplingReport? Resampling { get; init; }
}

/// <summary>A channel that might hold a pulse, and how well it does.</summary>
/// <param name="Label">Of the channel.</param>
/// <param name="MeanQuality">0 to 1; NaN where it was chosen by its kind and nothing was compared.</param>
/// <param name="Chosen">Whether it is used.</param>
/// <param name="Reason">Why, or why not.</param>
public sealed record ChannelCandidate(string Label, double MeanQuality, bool Chosen, string Reason)
{
    /// <summary>Whether it cannot be what it is called, alone as little as in a pair.</summary>
    internal bool IsUnfit { get; init; }

    /// <summary>Of a refusal, and what helps; null: not known.</summary>
    internal string? LikelyCause { get; init; }
}

/// <summary>What resampling cost.</summary>
/// <param name="RateHz">Of the even grid.</param>
/// <param name="GreatestStepSeconds">Longest step that was bridged; longer ones are gaps.</param>
/// <param name="RelativeError">
/// Root mean square of the difference when every other sample is left out and found again, over the root mean square of the pulse: an upper
/// estimate, for twice the step was bridged.
/// </param>
public sealed record ResamplingReport(double RateHz, double GreatestStepSeconds, double RelativeError)
{
    /// <summary>Rows that came so soon after the one before that both were taken for one, at their mean.</summary>
    public long JoinedRows { get; init; }

    /// <summary>Where the first rows lie evenly at this rate and later times are whole hundredths of a second; null: they do not.</summary>
    public double? CountedHz { get; init; }

    /// <summary>What is to be said of coarse times, and what helps; null: nothing.</summary>
    public string? CoarseTimesInWords => CountedHz is not { } hertz ? null : string.Create(System.Globalization.CultureInfo.InvariantCulture,
        $"the times look rounded: the first rows lie evenly at {hertz:0} a second, later times are all whole hundredths of a second, so that rows share a time or are unevenly apart. If no row is missing in the source, --map time=none --rate {hertz:0} takes the rows by their count and loses none");
}
