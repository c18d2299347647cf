using Stillwatch.Alarms;
using Stillwatch.Reports.Drawing;
using Stillwatch.Reports.Model;
using Stillwatch.Reports.Wording;
using Stillwatch.Time;
using Stillwatch.Tuning.MustCatch;

namespace Stillwatch.Reports.Plots;

/// <summary>The rows of the strip: events and review marks under SpO2, alarm signals under all panels.</summary>
internal sealed class StripRows
{
    private const double EventsHeight = 30;
    private const double LightEventsHeight = 14;
    private const double MarksHeight = 24;
    private const double LaneHeight = SignalRow.Height + 7;

    private readonly TimeAxisScale time;
    private readonly List<StripEvent> falls;
    private readonly List<StripEvent> mustCatch;
    private readonly List<(string Reviewer, List<ReviewMark> Marks)> marks;
    private readonly List<(string Name, string Label, List<StripSignal> Signals)> lanes;

    public StripRows(StripModel model, TimeAxisScale time)
    {
        this.time = time;
        falls = [.. model.Events.Where(e => !e.IsMustCatch).OrderBy(e => e.Span.Start)];
        mustCatch = [.. model.Events.Where(e => e.IsMustCatch).OrderBy(e => e.Span.Start)];
        marks = [.. model.Marks.GroupBy(m => m.Reviewer, StringComparer.OrdinalIgnoreCase).Select(g => (g.First().Reviewer, g.OrderBy(m => m.Span.Start).ToList()))];
        lanes = [];
        foreach (var lane in model.Lanes)
        {
            lanes.Add((lane.Name, lane.Name, [.. lane.Signals.Where(s => !s.IsTechnical)]));
            var technical = lane.Signals.Where(s => s.IsTechnical).ToList();
            if (technical.Count > 0) lanes.Add((lane.Name, "technical", technical));
        }
    }

    public double Height =>
        (falls.Count > 0 ? LightEventsHeight : 0) + (mustCatch.Count > 0 ? EventsHeight : 0) + marks.Count * MarksHeight + lanes.Count * LaneHeight;

    /// <returns>Where the next thing may begin.</returns>
    public double DrawEvents(Canvas canvas, double y)
    {
        if (falls.Count > 0)
        {
            Name(canvas, "Falls", y + 9, Count(falls.Select(f => f.Span)));
            foreach (var fall in falls.Where(f => Visible(f.Span))) Bracket(canvas, fall.Span, y + 1, 6, 1.1);
            y += LightEventsHeight;
        }

        if (mustCatch.Count > 0)
        {
            Name(canvas, "Must-catch", y + 15, Count(mustCatch.Select(f => f.Span)));
            double free = double.NegativeInfinity;
            foreach (var one in mustCatch.Where(f => Visible(f.Span)))
            {
                Bracket(canvas, one.Span, y + 1, 8, 2.2);
                double x = (time.At(one.Span.Start) + time.At(one.Span.End)) / 2;
                OverviewPlot.Mark(canvas, one.Answer is { } verdict ? new CatchAnswer(verdict, null) : null, x, y + 16, one.Tip);
                var style = new TextStyle(TextStyle.Small, Halo: Ink.Paper);
                if (one.Label.Length == 0 || x < free) continue;
                bool hasRoom = x + 9 + style.WidthOf(one.Label) <= time.Right;
                canvas.Text(hasRoom ? x + 9 : x - 9, y + 21, one.Label, hasRoom ? style : style with { Anchor = Anchor.End });
                free = x + 22 + style.WidthOf(one.Label);
            }

            y += EventsHeight;
        }

        foreach (var (reviewer, own) in marks)
        {
            Name(canvas, reviewer, y + 15, Count(own.Select(m => m.Span), "mark"));
            foreach (var mark in own.Where(m => Visible(m.Span)))
            {
                double x = time.At(mark.Span.Start), end = time.At(mark.Span.End);
                if (end - x > 3) canvas.Line(x, y + 20.5, end, y + 20.5, Paint.Line(Ink.Text, 1.6));
                VerdictFlag.Draw(canvas, x, y + 1, mark.Verdict, $"{VerdictFlag.WordsOf(mark.Verdict)}, {mark.Reviewer}: {time.Clock.At(mark.Span.Start)}{(mark.Note.Length > 0 ? $", “{mark.Note}”" : "")}");
            }

            y += MarksHeight;
        }

        return y;
    }

    /// <returns>Where the next thing may begin.</returns>
    public double DrawLanes(Canvas canvas, double y)
    {
        foreach (var (name, label, signals) in lanes)
        {
            Name(canvas, label, y + 13, Count(signals.Select(s => s.Span)));
            canvas.Line(time.Left, y + SignalRow.Height, time.Right, y + SignalRow.Height, Paint.Line(Ink.Grid));
            Lane(canvas, y, name, signals);
            y += LaneHeight;
        }

        return y;
    }

    // Signals that touch on the screen become one bar, or a thousand outlines would hide their fill.
    private void Lane(Canvas canvas, double top, string lane, List<StripSignal> signals)
    {
        Bar? open = null;
        foreach (var signal in signals.Where(s => Visible(s.Span)).OrderBy(s => s.Span.Start))
        {
            double left = time.At(signal.Span.Start), right = Math.Max(time.At(signal.Span.End), left + 2);
            if (open is { } bar && left <= bar.Right + 0.3)
            {
                open = bar with { Right = Math.Max(bar.Right, right), Priority = Higher(bar.Priority, signal.Priority), Count = bar.Count + 1 };
                continue;
            }

            Draw(canvas, top, lane, open);
            open = new Bar(left, right, signal.Priority, 1, signal);
        }

        Draw(canvas, top, lane, open);
    }

    private void Draw(Canvas canvas, double top, string lane, Bar? drawn)
    {
        if (drawn is not { } bar) return;
        double height = bar.Priority is { } p ? SignalRow.HeightOf(p) : 10;
        string priority = bar.Priority is { } known ? $"{known.ToString().ToLowerInvariant()} priority" : "priority signal of a kind not known";
        string tip = bar.Count > 1
            ? $"{lane}: {Words.Count(bar.Count, "signal")} close together, highest {priority}"
            : $"{lane}: {bar.First.Text}, {priority}, {time.Clock.At(bar.First.Span.Start)}{(bar.First.Span.Length > Duration.Zero ? $" for {Words.Span(bar.First.Span.Length)}" : ", length not known")}";
        canvas.Rect(bar.Left, top + SignalRow.Height - height, bar.Right - bar.Left, height, new Paint(bar.Priority is { } q ? Ink.Of(q) : Ink.Paper, Ink.Text, 0.7), tip);
    }

    private static AlarmPriority? Higher(AlarmPriority? a, AlarmPriority? b) => a is null ? b : b is null ? a : a > b ? a : b;

    private void Bracket(Canvas canvas, TimeSlice span, double top, double depth, double width)
    {
        double left = time.At(span.Start), right = Math.Max(time.At(span.End), left + 2);
        canvas.Path(new PathText().MoveTo(left, top).LineTo(left, top + depth).LineTo(right, top + depth).LineTo(right, top), Paint.Line(Ink.Text, width));
    }

    private void Name(Canvas canvas, string name, double baseline, string count)
    {
        var style = new TextStyle(TextStyle.Small, Anchor.End);
        canvas.Text(time.Left - 6, baseline, style.Fit(name, StripView.PlotLeft - 8), style);
        canvas.Text(time.Right + 8, baseline, count, new TextStyle(TextStyle.Small, Fill: Ink.Muted));
    }

    private string Count(IEnumerable<TimeSlice> spans, string? what = null)
    {
        int all = spans.Count(), here = spans.Count(Visible);
        return here != all ? $"{here} of {Words.Number(all, 0)} here" : what is null ? Words.Number(all, 0) : Words.Count(all, what);
    }

    private bool Visible(TimeSlice span) => span.End >= time.From && span.Start <= time.To;

    private readonly record struct Bar(double Left, double Right, AlarmPriority? Priority, int Count, StripSignal First);
}
