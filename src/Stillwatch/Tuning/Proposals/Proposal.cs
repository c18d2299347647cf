using Stillwatch.Alarms;
using Stillwatch.Quantities;
using Stillwatch.Time;

namespace Stillwatch.Tuning.Proposals;

/// <summary>Settings for low SpO2 as a candidate: what the search varies.</summary>
public sealed record CandidateSettings(LimitSettings<Percent> SpO2Low, BackstopSettings? Backstop, Duration Averaging);

/// <summary>A number with its interval from resampling patients.</summary>
public sealed record Estimate(double Value, double? Low, double? High);

/// <summary>What the evidence says of one candidate over a set of recordings.</summary>
public sealed record CandidateEvidence
{
    public required CandidateSettings Settings { get; init; }

    /// <summary>Physiological signals per 24 h of valid time, pooled per patient (R12).</summary>
    public required Estimate SignalsPerDay { get; init; }

    public required double SignalMinutesPerDay { get; init; }

    public required int MustCatchEvents { get; init; }

    public required int Missed { get; init; }

    public required int Late { get; init; }

    /// <summary>Exact one-sided 95 % upper bound on the share of events missed, 0–1.</summary>
    public required double MissedUpperBoundEvents { get; init; }

    /// <summary>The same over patients: a patient with any missed event counts.</summary>
    public required double MissedUpperBoundPatients { get; init; }

    public required Duration? WorstTimeToSignal { get; init; }

    public required Duration? MedianTimeToSignal { get; init; }
}

/// <summary>
/// Settings that the evidence supports, with that evidence, for a person to accept or not; or the reasons for refusing.
/// Never applied by itself.
/// </summary>
public sealed record Proposal
{
    /// <summary>Null when refused.</summary>
    public required CandidateEvidence? Chosen { get; init; }

    /// <summary>The best candidate looked at, even when refused, so that the evidence can be shown; null when none could be computed.</summary>
    public required CandidateEvidence? Best { get; init; }

    /// <summary>The present settings under the same evidence.</summary>
    public required CandidateEvidence? Present { get; init; }

    /// <summary>Reasons in words, each naming its R14 line; empty: not refused.</summary>
    public required IReadOnlyList<string> RefusedBecause { get; init; }

    /// <summary>What limits a proposal that is made, and what the reader should know.</summary>
    public required IReadOnlyList<string> Caveats { get; init; }

    public bool IsRefused => RefusedBecause.Count > 0;
}
