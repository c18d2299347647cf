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

    /// <summary>The part of the valid time in signal beyond what the must-catch events last, 0–1.</summary>
    public double SignalTimeShare { get; init; }

    public required int MustCatchEvents { get; init; }

    public required int Missed { get; init; }

    public required int Late { get; init; }

    /// <summary>Exact one-sided 95 % upper bound on the share of events missed, 0–1.</summary>
    public required double MissedUpperBoundEvents { get; init; }

    /// <summary>The same over patients: a patient with any missed event counts.</summary>
    public required double MissedUpperBoundPatients { get; init; }

    public required Duration? WorstTimeToSignal { get; init; }

    public required Duration? MedianTimeToSignal { get; init; }

    /// <summary>Technical signals per 24 h connected; never to be added to the physiological ones (R12).</summary>
    public Estimate TechnicalSignalsPerDay { get; init; } = new(0, null, null);

    /// <summary>Physiological signals counted: the numerator of <see cref="SignalsPerDay"/>.</summary>
    public long Signals { get; init; }

    /// <summary>Technical signals counted.</summary>
    public long TechnicalSignals { get; init; }

    /// <summary>Patients with at least one must-catch event.</summary>
    public int PatientsWithEvents { get; init; }

    public int PatientsMissed { get; init; }

    /// <summary>Missed were each event half as long (R14.2).</summary>
    public int MissedAtHalfLength { get; init; }

    /// <summary>Best and worst case of invalid time (R14.4).</summary>
    public InvalidTimeCases InvalidTime { get; init; } = new(0, 0, 0, 0, 0, 0);

    /// <summary>Whether it may be proposed at all (R14.5).</summary>
    public bool IsInsideBounds { get; init; }
}

/// <summary>Misses in the best case (invalid time hid nothing) and the worst (it hid an event wherever it could).</summary>
/// <param name="PossibleEvents">Stretches that could have hidden an event.</param>
/// <param name="BestMissed">Missed of the certain events.</param>
/// <param name="BestUpperBound">Exact 95 % upper bound on that share of events, 0–1.</param>
/// <param name="WorstMissed">Missed of the certain events, and missed or late of the possible ones.</param>
/// <param name="WorstUpperBound">Its exact 95 % upper bound over events, 0–1.</param>
/// <param name="WorstUpperBoundPatients">The same over patients.</param>
public sealed record InvalidTimeCases(
    int PossibleEvents, int BestMissed, double BestUpperBound, int WorstMissed, double WorstUpperBound, double WorstUpperBoundPatients);

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

    /// <summary>All ten lines of R14 in order, each with its verdict in words; a line may have more than one.</summary>
    public IReadOnlyList<RuleFinding> Findings { get; init; } = [];

    /// <summary>Candidates that no other beats in both load and worst time to signal, from the lowest load up; none misses an event.</summary>
    public IReadOnlyList<FrontPoint> Front { get; init; } = [];

    /// <summary>In-sample beside held-out (R14.6); null with fewer than two patients.</summary>
    public HeldOutCheck? HeldOut { get; init; }

    /// <summary>Events that the present settings signalled earlier than <see cref="Best"/>, worst first (R14.2).</summary>
    public IReadOnlyList<EarlierSignal> SignalledEarlier { get; init; } = [];

    /// <summary>Who gives the signals under the present settings, or under <see cref="Best"/> where those are not known; the most first.</summary>
    public IReadOnlyList<PatientShare> Contributors { get; init; } = [];

    /// <summary>Answers that change when one patient is left out.</summary>
    public IReadOnlyList<LeftOut> LeavingOneOut { get; init; } = [];

    /// <summary>Of the resamples of patients, the share in which the whole search chose <see cref="Best"/> again, 0–1; null without resamples or with one patient.</summary>
    public double? ChosenAgain { get; init; }

    /// <summary>Change of the load from present to <see cref="Best"/> in percent (negative: less), with its interval from the same resamples; null without present settings or load.</summary>
    public Estimate? LoadChangePercent { get; init; }

    /// <summary>Stretches for reviewers, drawn blind (R14.10).</summary>
    public BlindSample? BlindSample { get; init; }

    /// <summary>How the numbers were made: denominators, interval method, seed, bounds.</summary>
    public string Method { get; init; } = "";
}

/// <summary>What a line of R14 does to a proposal.</summary>
public enum RuleVerdict
{
    /// <summary>Nothing against the proposal.</summary>
    Met,

    /// <summary>The proposal stands, and the reader must know this.</summary>
    Limits,
    Refuses,
}

/// <summary>One line of R14 in words a monitoring lead understands, with its numbers.</summary>
/// <param name="Line">1–10.</param>
/// <param name="Verdict">What it does.</param>
/// <param name="Words">Without the rule's name; <see cref="ToString"/> puts it in front.</param>
public sealed record RuleFinding(int Line, RuleVerdict Verdict, string Words)
{
    public override string ToString() => $"R14.{Line}: {Words}";
}

/// <summary>One point of the front of load against worst time to signal.</summary>
public sealed record FrontPoint(CandidateSettings Settings, double SignalsPerDay, Duration WorstTimeToSignal, bool IsInsideBounds);

/// <summary>An event that the present settings signalled earlier than the proposed ones: staff may have cut it short.</summary>
/// <remarks>Times are from onset to signal. Proposed is null where the proposed settings would not have signalled at all; so is Lost, the seconds by which the signal would come later.</remarks>
public sealed record EarlierSignal(
    string Patient, string Recording, SampleTime Onset, SampleTime End, Duration Present, Duration? Proposed, Duration? Lost);

/// <summary>One patient's part in the load; the share is of all signals, 0–1.</summary>
public sealed record PatientShare(string Patient, long Signals, double SignalsPerDay, double Share);

/// <summary>The search repeated without one patient, where its answer changed; null: without that patient it had none. The share is that of <see cref="Proposal.Contributors"/>.</summary>
public sealed record LeftOut(string Patient, double ShareOfSignals, CandidateSettings? ChosenWithout, double? SignalsPerDayWithout);
