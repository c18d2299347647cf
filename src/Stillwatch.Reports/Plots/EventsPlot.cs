using Stillwatch.Alarms;
using Stillwatch.Conditioning;
using Stillwatch.Quantities;
using Stillwatch.Replay;
using Stillwatch.Reports.Drawing;
using Stillwatch.Reports.Model;
using Stillwatch.Reports.Wording;
using Stillwatch.Time;

namespace Stillwatch.Reports.Plots;

/// <summary>The worst events side by side on one SpO2 scale, three minutes around each, with the signals that settings gave.</summary>
internal sealed class EventsPlot
{
    private const double Width = 1000;
    private const int PerRow = 3;
    private const double Cell = 322;
    private const double Between = 17;
    private const double PlotTop = 44;
    private const double PlotHeight = 132;
    private const double PlotLeft = 34;
    private const double SignalsHeight = 36;
    private static readonly Duration Around = new(180_000);
    private static readonly Duration Longest = new(1_800_000);

    private readonly RecordingSection section;
    private readonly ConditionedSeries spO2;
    private readonly Clock clock;
    private readonly Canvas canvas;
    private readonly double floor;
    private readonly double rowHeight;

    private EventsPlot(RecordingSection section, ConditionedSeries spO2, IReadOnlyList<WorstEvent> events, string id)
    {
        this.section = section;
        this.spO2 = spO2;
        clock = new Clock(section.Recording.Start);
        double lowest = events.Min(e => (double)e.Nadir.Value);
        floor = Math.Floor((Math.Min(lowest, 84) - 1) / 5) * 5;
        rowHeight = PlotTop + PlotHeight + 26 + (section.PresentSignals is null ? 0 : SignalsHeight) + (section.ProposedSignals is null ? 0 : SignalsHeight) + 18;
        canvas = new Canvas(id, Width, rowHeight * ((events.Count + PerRow - 1) / PerRow), "The worst events", Sentences.WorstEvents(events, clock));
    }

    public static Picture Draw(RecordingSection section, int atMost, string id)
    {
        if (section.SpO2 is not { } spO2) return Picture.None;
        var events = WorstEvent.Of(section, atMost);
        if (events.Count == 0) return Picture.None;
        var plot = new EventsPlot(section, spO2, events, id);
        for (int i = 0; i < events.Count; i++)
            plot.Panel(events[i], i % PerRow * (Cell + Between), i / PerRow * plot.rowHeight);
        return plot.canvas.Finish();
    }

    private void Panel(WorstEvent worst, double x, double y)
    {
        var centre = worst.NadirTime ?? worst.Start;
        bool tooLong = worst.Length > Longest;
        var from = tooLong ? centre - new Duration(Longest.Milliseconds / 2) : worst.Start - Around;
        var to = tooLong ? centre + new Duration(Longest.Milliseconds / 2) : worst.End + Around;
        var time = new TimeAxisScale(from, to, x + PlotLeft, x + Cell, clock);
        var ticks = time.TicksAt(58);
        double top = y + PlotTop, bottom = top + PlotHeight;
        var scale = new LinearScale(floor, 101, bottom, top);

        canvas.Text(x, y + 13, clock.WithDayAt(worst.Start), new TextStyle(Bold: true));
        if (worst.MustCatch.Count > 0)
        {
            string which = string.Join(", ", worst.MustCatch.Select(m => m.Number));
            canvas.Text(x + Cell, y + 13, $"must-catch {which}", new TextStyle(TextStyle.Small, Anchor.End, Bold: true));
        }

        canvas.Text(x, y + 30, Summary(worst), new TextStyle(TextStyle.Small, Fill: Ink.Muted));
        var panel = new TracePanel(canvas, time, scale, top, bottom);
        canvas.Rect(time.At(worst.Start), top, time.At(worst.End) - time.At(worst.Start), bottom - top, new Paint(Ink.Wash));
        panel.Grid(Ticks.Round(floor, 100, 4), ticks, v => Words.Number(v, 0));
        panel.Gaps(spO2);
        if (worst.Baseline is { } baseline)
        {
            double level = scale.Within((double)baseline.Value);
            canvas.Line(time.At(from), level, time.At(worst.Start), level, Paint.Line(Ink.Muted, 1.5, "2 3"));
        }

        if (section.PresentSettings?.SpO2Low is { } low) Limit(low.Limit, time, scale, Ink.Text, "7 4");
        if (section.ProposedSettings?.SpO2Low is { } other && other.Limit != section.PresentSettings?.SpO2Low?.Limit) Limit(other.Limit, time, scale, Ink.Proposed, "2 4");
        using (canvas.ClipTo(time.Left, top, time.Right - time.Left, PlotHeight)) panel.Trace(spO2);
        foreach (var (_, outcome) in worst.MustCatch)
        {
            double onset = time.At(outcome.Event.Onset);
            canvas.Path(new PathText().MoveTo(onset - 5, top).LineTo(onset + 5, top).LineTo(onset, top + 8).Close(), new Paint(Ink.Text));
            canvas.Line(onset, top, onset, bottom, Paint.Line(Ink.Text));
        }

        if (worst.NadirTime is { } nadir)
        {
            canvas.Circle(time.At(nadir), scale.Within((double)worst.Nadir.Value), 3.5, new Paint(Ink.Paper, Ink.Trace, 1.8));
        }

        canvas.Line(time.Left, bottom, time.Right, bottom, Paint.Line(Ink.Axis));
        foreach (var tick in ticks.Where(t => time.At(t.Time) < time.Right - 13)) canvas.Text(time.At(tick.Time), bottom + 15, tick.Label, TextStyle.Tick with { Size = 11.5 });
        double row = bottom + 24;
        // The name of the settings stands above all panels; within one it would run into the next.
        if (section.PresentSignals is { } present) row = Signals(present, section.ReplayedName is null ? "present settings" : "replayed settings", worst, Only(worst)?.Present, time, row);
        if (section.ProposedSignals is { } proposed) Signals(proposed, "proposed settings", worst, Only(worst)?.Proposed, time, row);
    }

    private void Limit(Percent limit, TimeAxisScale time, LinearScale scale, string ink, string dash)
    {
        double y = scale.Within((double)limit.Value);
        canvas.Line(time.Left, y, time.Right, y, Paint.Line(ink, 1.3, dash));
    }

    private double Signals(IReadOnlyList<ReplayedSignal> signals, string word, WorstEvent worst, CatchAnswer? answer, TimeAxisScale time, double y)
    {
        var low = signals.Where(s => s.Condition == AlarmCondition.SpO2Low && s.End > time.From && s.Start < time.To).ToList();
        canvas.Line(time.Left, y + 14 + SignalRow.Height, time.Right, y + 14 + SignalRow.Height, Paint.Line(Ink.Grid));
        SignalRow.Draw(canvas, time, y + 14, low);
        var first = low.Where(s => s.End > worst.Start && s.Start < worst.End).Select(s => (Time.SampleTime?)s.Start).Min();
        string text = answer is not null ? $"{word}: {Answered(answer)}"
            : first is not { } start ? $"{word}: no signal"
            : start <= worst.Start ? $"{word}: already on"
            : $"{word}: after {Words.Span(start - worst.Start)}";
        canvas.Text(time.Left, y + 10, text, new TextStyle(TextStyle.Small));
        return y + SignalsHeight;
    }

    /// <summary>The one must-catch event of a panel: its answers are those of the tables, counted from its own onset.</summary>
    private static MustCatchOutcome? Only(WorstEvent worst) => worst.MustCatch.Count == 1 ? worst.MustCatch[0].Outcome : null;

    private static string Answered(CatchAnswer answer) => answer.TimeToSignal switch
    {
        null => Words.Of(answer.Verdict),
        { } time when time <= Duration.Zero => $"{Words.Of(answer.Verdict)}, already on",
        { } time => $"{Words.Of(answer.Verdict)}, after {Words.Span(time)}",
    };

    private static string Summary(WorstEvent worst)
    {
        string depth = worst.Baseline is { } b ? $", {Words.Number((double)(b.Value - worst.Nadir.Value), 0)}\u00a0points down" : "";
        return $"lowest {Words.Saturation(worst.Nadir)}{depth}, {Words.Span(worst.Length)}";
    }
}
