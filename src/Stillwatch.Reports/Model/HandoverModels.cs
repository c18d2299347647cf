using Stillwatch.Alarms;
using Stillwatch.Tuning.MustCatch;
using Stillwatch.Tuning.Proposals;

namespace Stillwatch.Reports.Model;

/// <summary>One page for a recording.</summary>
public sealed record RecordingPageModel
{
    /// <summary>The page's heading: "Bed 4, night of 3 November".</summary>
    public required string Title { get; init; }

    public required RecordingSection Recording { get; init; }

    /// <summary>Review marks; each reviewer apart.</summary>
    public IReadOnlyList<ReviewMark> Marks { get; init; } = [];

    /// <summary>What the person who hands over wants said, a sentence each.</summary>
    public IReadOnlyList<string> Remarks { get; init; } = [];

    public bool IsInvented { get; init; }

    public required Provenance Provenance { get; init; }
}

/// <summary>One page for a settings decision: what was decided, on which evidence, by whom, until when.</summary>
public sealed record DecisionModel
{
    /// <summary>"Low limit and delay for adults".</summary>
    public required string Title { get; init; }

    /// <summary>For whom: "All adults of unit A", "Patient P-014".</summary>
    public required string Scope { get; init; }

    /// <summary>What was decided, with its evidence: the proposal's choice, or settings that somebody asked about; null: no change.</summary>
    public required CandidateEvidence? Decided { get; init; }

    /// <summary>Name of the decided settings where they are not the proposed ones; null: they are, or there are none.</summary>
    public string? DecidedName { get; init; }

    /// <summary>The evidence that stood beside the decision: map, present, proposal or refusal with its reasons (R14).</summary>
    public required SettingsSection Evidence { get; init; }

    /// <summary>
    /// The lines of R14 that can be judged of any settings (<see cref="SettingsJudgement"/>), of those decided. Needed where the search did not look for
    /// these very settings: without them the page says that they were not judged. Its own findings are of other settings.
    /// </summary>
    public IReadOnlyList<RuleFinding> OfDecided { get; init; } = [];

    /// <summary>Adds the settings map over the width of a second page; in less room its numbers could not be read.</summary>
    public bool WithMap { get; init; }

    /// <summary>Why, in the words of whoever decided; empty: not said.</summary>
    public string Why { get; init; } = "";

    /// <summary>Who takes responsibility; null: nobody has accepted it yet, and the page has lines to sign.</summary>
    public string? AcceptedBy { get; init; }

    /// <summary>When, as it should be printed.</summary>
    public string? AcceptedOn { get; init; }

    /// <summary>Until when it holds, as it should be printed; null: no end was named, and the page says so.</summary>
    public string? Until { get; init; }

    public bool IsInvented { get; init; }

    public required Provenance Provenance { get; init; }
}

/// <summary>A line of the settings card.</summary>
/// <param name="Label">"SpO2 low limit".</param>
/// <param name="Value">"88 %", with its unit.</param>
/// <param name="Reason">Why this number: its source, the prescription, or "unit policy, no source".</param>
/// <param name="UnitDefault">The unit's default (of before, where these settings become it) where it differs; null: it does not, or there is none.</param>
public sealed record CardLine(string Label, string Value, string Reason, string? UnitDefault = null);

/// <summary>The settings card of a patient or a category, to be printed and to hang at the bed.</summary>
public sealed record SettingsCardModel
{
    /// <summary>For whom: a pseudonym or a category. Never a name.</summary>
    public required string For { get; init; }

    /// <summary>Category, age, oxygen, prescribed target: in words.</summary>
    public required string About { get; init; }

    /// <summary>True: a start to think from, nobody has decided on it. False: decided settings.</summary>
    public required bool IsStart { get; init; }

    public required IReadOnlyList<CardLine> Lines { get; init; }

    /// <summary>The source's averaging where known, and ours: "by the monitor 8 s; ours none".</summary>
    public required string Averaging { get; init; }

    /// <summary>Who decided; null: nobody yet, and the card has a line to sign.</summary>
    public string? DecidedBy { get; init; }

    public string? DecidedOn { get; init; }

    /// <summary>Until when the settings hold, and with them what differs from the unit's default; null: not named, and the card says so.</summary>
    public string? DeviationEnds { get; init; }

    /// <summary>What the evidence had against these settings, a few words each: "outside the bounds"; empty: nothing, or there was none.</summary>
    public IReadOnlyList<string> Against { get; init; } = [];

    /// <summary>What to know besides, a sentence each.</summary>
    public IReadOnlyList<string> Remarks { get; init; } = [];

    public bool IsInvented { get; init; }

    public required Provenance Provenance { get; init; }
}

/// <summary>A setting that was changed during a shift.</summary>
/// <param name="At">When, as it should be printed.</param>
/// <param name="What">From what to what.</param>
/// <param name="Why">In the words of whoever changed it.</param>
/// <param name="By">Who.</param>
public sealed record ShiftChange(string At, string What, string Why, string By);

/// <summary>One patient in a shift summary, or the unit as a whole. What a recording tells by itself is worded by the page and does not stand in the lists.</summary>
public sealed record ShiftPatient
{
    /// <summary>A pseudonym.</summary>
    public required string Patient { get; init; }

    /// <summary>Category in words.</summary>
    public required string About { get; init; }

    /// <summary>"88–92 %"; null: no prescribed range is known.</summary>
    public string? Prescribed { get; init; }

    /// <summary>This is no patient: what was changed and what is pending for the unit itself.</summary>
    public bool IsWholeUnit { get; init; }

    /// <summary>What was recorded during the shift; null: nothing.</summary>
    public RecordingSection? Recording { get; init; }

    /// <summary>What happened, a sentence each, beside what the recording says itself.</summary>
    public IReadOnlyList<string> Happened { get; init; } = [];

    public IReadOnlyList<ShiftChange> Changed { get; init; } = [];

    /// <summary>What was changed after the shift's end: to know, and no part of what the shift did.</summary>
    public IReadOnlyList<ShiftChange> ChangedSince { get; init; } = [];

    /// <summary>What to watch besides.</summary>
    public IReadOnlyList<string> Watch { get; init; } = [];

    /// <summary>What is pending, and with whom.</summary>
    public IReadOnlyList<string> Pending { get; init; } = [];
}

/// <summary>What one shift hands to the next: a page for one patient, a line for each of a ward.</summary>
public sealed record ShiftSummaryModel
{
    /// <summary>"Unit A, night of 3 November".</summary>
    public required string Title { get; init; }

    /// <summary>From when to when, as it should be printed.</summary>
    public required string Period { get; init; }

    /// <summary>In the order in which they should be read: who needs eyes first stands first.</summary>
    public required IReadOnlyList<ShiftPatient> Patients { get; init; }

    public bool IsInvented { get; init; }

    public required Provenance Provenance { get; init; }
}
