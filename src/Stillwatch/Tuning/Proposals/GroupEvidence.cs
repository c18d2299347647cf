using Stillwatch.Time;

namespace Stillwatch.Tuning.Proposals;

/// <summary>Everything computed on one group of like recordings, before it is judged line by line.</summary>
internal sealed record GroupEvidence
{
    public required GroupKey Key { get; init; }

    /// <summary>How many groups the set fell into.</summary>
    public required int Groups { get; init; }

    public required ProposalRules Rules { get; init; }

    public required SearchTable Table { get; init; }

    public required Totals Totals { get; init; }

    public required SearchResult Result { get; init; }

    /// <summary>Best, Plain and Present over the whole group; null where there is none.</summary>
    public required CandidateEvidence? Best { get; init; }

    public required CandidateEvidence? Present { get; init; }

    /// <summary>The present settings were given, whether or not they could be computed.</summary>
    public required bool PresentGiven { get; init; }

    public required HeldOutCheck? HeldOut { get; init; }

    public required IReadOnlyList<EarlierSignal> SignalledEarlier { get; init; }

    public required IReadOnlyList<PatientShare> Contributors { get; init; }

    public required IReadOnlyList<LeftOut> LeavingOneOut { get; init; }

    public required double? ChosenAgain { get; init; }

    public required Estimate? LoadChangePercent { get; init; }

    public required BlindSample? BlindSample { get; init; }

    public required MarkCounts Marks { get; init; }

    /// <summary>What the cheapest candidate outside the bounds would give, for line 5; null: none is cheaper.</summary>
    public required CandidateEvidence? CheaperOutside { get; init; }

    /// <summary>The lowest load inside the guard rails as recorded, where a later line set it aside.</summary>
    public required CandidateEvidence? SetAside { get; init; }

    public required Shortcomings SetAsideFor { get; init; }

    public int Patients => Table.Patients.Count;

    public int Recordings => Table.Patients.Sum(p => p.Recordings);

    public Duration Valid => new(Totals.ValidMilliseconds);
}
