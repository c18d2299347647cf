using Stillwatch.Alarms;
using Stillwatch.Replay;
using Stillwatch.Replay.Fidelity;
using Stillwatch.Time;
using Stillwatch.Tuning.MustCatch;

namespace Stillwatch.Reports.Model;

/// <summary>All that the detail strip shows of one recording within one window. It holds no more than the window needs.</summary>
public sealed record StripModel
{
    /// <summary>For those who hear the page: a name to show, never a patient's.</summary>
    public required string Name { get; init; }

    /// <summary>What is known of the clock; unknown: the axis shows elapsed time and says so.</summary>
    public required RecordingStart Start { get; init; }

    /// <summary>Drawn in the order of <see cref="StripPanelKind"/>, those of one kind in the order given.</summary>
    public required IReadOnlyList<StripPanel> Panels { get; init; }

    /// <summary>Why there is no value; a stretch without a value and without a reason here is hatched as "no value".</summary>
    public IReadOnlyList<StripGap> Gaps { get; init; } = [];

    public IReadOnlyList<StripLimit> Limits { get; init; } = [];

    /// <summary>Alarm signals: as the monitor's log has them, under the present settings, under each candidate, in the order to show.</summary>
    public IReadOnlyList<StripLane> Lanes { get; init; } = [];

    public IReadOnlyList<StripEvent> Events { get; init; } = [];

    /// <summary>Review marks; each reviewer has a row of their own.</summary>
    public IReadOnlyList<ReviewMark> Marks { get; init; } = [];
}

/// <summary>A stretch in which a panel has no value that counts.</summary>
/// <param name="Span">From when to when.</param>
/// <param name="Reason">In words: "no reading", "flagged by the source", "doubted jump", "sensor off".</param>
/// <param name="HadNumbers">There were numbers, and they do not count: dotted instead of hatched.</param>
/// <param name="Panel">The panel it concerns; null: SpO2 and pulse rate.</param>
public sealed record StripGap(TimeSlice Span, string Reason, bool HadNumbers = false, StripPanelKind? Panel = null);

/// <summary>An alarm limit as a labelled line.</summary>
/// <param name="Panel">On which panel.</param>
/// <param name="Value">In the panel's unit.</param>
/// <param name="Label">Without the number: "low limit", "backstop", "candidate A".</param>
/// <param name="IsCandidate">Looked at, not in force: dotted, in the tone of what is compared.</param>
/// <param name="During">When it was in force; null: throughout.</param>
public sealed record StripLimit(StripPanelKind Panel, double Value, string Label, bool IsCandidate = false, TimeSlice? During = null);

/// <summary>A named row of alarm signals. Physiological and technical ones stand in rows of their own (R12).</summary>
/// <param name="Name">"Monitor's log", "Present settings", "Candidate A".</param>
/// <param name="Signals">In any order.</param>
public sealed record StripLane(string Name, IReadOnlyList<StripSignal> Signals);

/// <summary>An alarm signal of a lane.</summary>
/// <param name="Span">A moment (start = end) where its length is not known.</param>
/// <param name="Text">What it is about, in words.</param>
/// <param name="Priority">Null: not known; drawn without an alarm colour.</param>
/// <param name="IsTechnical">Goes into the row of technical signals.</param>
public sealed record StripSignal(TimeSlice Span, string Text, AlarmPriority? Priority, bool IsTechnical)
{
    public static StripSignal Of(ReplayedSignal signal) =>
        new(signal.Span, Wording.Words.Of(signal.Condition), signal.HighestPriority, !signal.Condition.IsPhysiological());

    /// <summary>As the monitor noted it; a text that is not understood stays as it is and counts as technical.</summary>
    public static StripSignal Of(LoggedSignal signal) =>
        new(new TimeSlice(signal.Start, signal.End ?? signal.Start), signal.Text, signal.Priority, signal.Condition is not { } condition || !condition.IsPhysiological());
}

/// <summary>A bracket under the SpO2 panel.</summary>
/// <param name="Span">From onset to end.</param>
/// <param name="Label">Short: a number; may be empty.</param>
/// <param name="Tip">In words.</param>
/// <param name="IsMustCatch">An event that settings may not miss: a heavy bracket with its label; else a light one.</param>
/// <param name="Answer">What the settings in force made of it; null: no word on it.</param>
public sealed record StripEvent(TimeSlice Span, string Label, string Tip, bool IsMustCatch, CatchVerdict? Answer = null);

/// <summary>Which stretch is drawn, and how large.</summary>
/// <param name="Window">Left and right end of the time axis.</param>
/// <param name="Width">Pixels, 320 to 8000.</param>
/// <param name="Height">Pixels; panels share what rows and axis leave. Where that is too little for them the picture is taller.</param>
public sealed record StripView(TimeSlice Window, double Width, double Height)
{
    /// <summary>Where the time axis begins, in pixels from the left edge of the picture.</summary>
    public const double PlotLeft = 148;

    /// <summary>What stands to the right of the time axis.</summary>
    public const double Margin = 116;

    /// <summary>Chosen by the reader: shaded.</summary>
    public TimeSlice? Selection { get; init; }

    /// <summary>On an overview: the window that the detail below shows, framed.</summary>
    public TimeSlice? Frame { get; init; }

    /// <summary>Where the time axis ends.</summary>
    public double PlotRight => Width - Margin;

    /// <summary>As many columns as a panel has pixels: more are not seen, fewer are coarse.</summary>
    public int Columns => Math.Max(1, (int)(PlotRight - PlotLeft));
}
