using Stillwatch.Conditioning;
using Stillwatch.Signals;
using Stillwatch.Time;
using Stillwatch.Tuning.MustCatch;

namespace Stillwatch.Tuning.Proposals;

/// <summary>Whether the patient breathed added oxygen while recorded: settings are not transferred from one to the other (R14.7).</summary>
public enum OxygenStatus
{
    Unknown,
    OnAir,
    OnOxygen,
}

/// <summary>One patient's recordings: the unit of every count of patients, of folds and of resamples.</summary>
/// <param name="Patient">A pseudonym; recordings with the same one are the same patient.</param>
/// <param name="Category">The patient category.</param>
/// <param name="Recordings">In any order.</param>
public sealed record PatientRecordings(string Patient, PatientCategory Category, IReadOnlyList<TuningRecording> Recordings);

/// <summary>One recording as evidence for settings.</summary>
public sealed record TuningRecording
{
    /// <summary>A name to show, never a patient's.</summary>
    public required string Name { get; init; }

    public RecordingStart Start { get; init; } = new RecordingStart.Unknown();

    public required ConditionedSource SpO2 { get; init; }

    public SourceAveraging SourceAveraging { get; init; } = SourceAveraging.Unknown;

    public OxygenStatus Oxygen { get; init; }

    /// <summary>What had to be found; its lines also say which invalid time could hide an event (R14.4).</summary>
    public required MustCatchDefinition Definition { get; init; }

    /// <summary>The must-catch events after the reviewers' marks (R13, R14.3).</summary>
    public required IReadOnlyList<MustCatchEvent> MustCatch { get; init; }

    /// <summary>What the marks did to the list.</summary>
    public MarkCounts Marks { get; init; } = MarkCounts.None;

    /// <summary>Stretches that a reviewer has looked at without knowing the alarms (R14.10).</summary>
    public IReadOnlyList<TimeSlice> ReviewedBlind { get; init; } = [];

    /// <summary>Finds the must-catch events by definition and lets the reviewers have their say; null where there is no SpO2.</summary>
    /// <param name="recording">Its name, clock, SpO2 and source averaging are taken over.</param>
    /// <param name="oxygen">Whether the patient breathed added oxygen.</param>
    /// <param name="definition">What must be found.</param>
    /// <param name="marks">Review marks; none: by definition alone.</param>
    /// <param name="conditioning">Validity and gap tolerance.</param>
    /// <param name="qualityThresholdMicro">As in <see cref="ConditionedSource.SpO2Of"/>.</param>
    public static TuningRecording? Of(
        Recording recording, OxygenStatus oxygen, MustCatchDefinition definition, IReadOnlyList<ReviewMark> marks,
        ConditioningSettings conditioning, int? qualityThresholdMicro = null)
    {
        if (ConditionedSource.SpO2Of(recording, qualityThresholdMicro) is not { } spO2) return null;
        var series = MustCatchFinder.SeriesFor(spO2, conditioning);
        var result = MarkedEvents.Apply(series, MustCatchFinder.Find(series, definition), marks);
        return new TuningRecording
        {
            Name = recording.Name,
            Start = recording.Start,
            SpO2 = spO2,
            SourceAveraging = recording.SourceAveraging,
            Oxygen = oxygen,
            Definition = definition,
            MustCatch = result.Events,
            Marks = MarkCounts.Of(result, marks),
        };
    }
}

/// <summary>What review marks did to the must-catch events of a recording (R14.3).</summary>
/// <param name="RemovedByAgreement">Events that at least two reviewers agreed to be artefact: no longer must-catch.</param>
/// <param name="KeptDespiteArtefactMark">Events with an artefact mark that still count as real: a single mark, or reviewers who disagree.</param>
/// <param name="AddedAsSignificant">Events that no definition found and a reviewer marked significant.</param>
public sealed record MarkCounts(int RemovedByAgreement, int KeptDespiteArtefactMark, int AddedAsSignificant)
{
    public static readonly MarkCounts None = new(0, 0, 0);

    public static MarkCounts Of(MarkedResult result, IReadOnlyList<ReviewMark> marks) => new(
        result.Decisions.Count(d => d.Outcome == MarkOutcome.Removed),
        result.Decisions.Count(d => d.Outcome != MarkOutcome.Removed
            && marks.Any(m => m.Verdict == MarkVerdict.Artefact && m.Touches(d.Event.Onset, d.Event.End))),
        result.Decisions.Count(d => d.Outcome == MarkOutcome.Added));

    public static MarkCounts operator +(MarkCounts left, MarkCounts right) => new(
        left.RemovedByAgreement + right.RemovedByAgreement,
        left.KeptDespiteArtefactMark + right.KeptDespiteArtefactMark,
        left.AddedAsSignificant + right.AddedAsSignificant);
}

/// <summary>
/// What must be alike for evidence to be put together (R14.7). Unknown is a value of its own: it is alike only to unknown,
/// and never answers for anything known.
/// </summary>
public sealed record GroupKey(
    PatientCategory Category, Duration? SourceAveraging, OxygenStatus Oxygen, Duration Period, string Definition)
{
    public static GroupKey Of(PatientCategory category, TuningRecording recording) => new(
        category, recording.SourceAveraging.Window, recording.Oxygen, recording.SpO2.Channel.Times.Period, recording.Definition.Name);

    /// <summary>A fixed order of groups, whatever order the recordings come in.</summary>
    internal (int, long, int, long, string) Order =>
        ((int)Category, SourceAveraging?.Milliseconds ?? -1, (int)Oxygen, Period.Milliseconds, Definition);

    public override string ToString() =>
        $"{Category.InWords()}, source averaging {(SourceAveraging is { } s ? $"{s}" : "not known")}, "
        + $"{(Oxygen switch { OxygenStatus.OnAir => "on air", OxygenStatus.OnOxygen => "on oxygen", _ => "oxygen not known" })}, "
        + $"a value every {Period}, must-catch: {Definition}";
}
