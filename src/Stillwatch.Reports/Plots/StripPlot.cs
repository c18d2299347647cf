using Stillwatch.Reports.Drawing;
using Stillwatch.Reports.Model;
using Stillwatch.Reports.Wording;
using Stillwatch.Time;

namespace Stillwatch.Reports.Plots;

/// <summary>The detail strip: panels, events, marks and alarm signals of one window under each other on one time axis.</summary>
internal sealed class StripPlot
{
    private const double Top = 10;
    private const double Between = 10;
    private const double Foot = 42;

    private readonly StripModel model;
    private readonly StripView view;
    private readonly IReadOnlyList<StripPanel> panels;
    private readonly StripRows rows;
    private readonly TimeAxisScale time;
    private readonly IReadOnlyList<TimeAxisScale.Tick> ticks;
    private readonly Canvas canvas;
    private double y = Top;

    private StripPlot(StripModel model, StripView view, string id)
    {
        this.model = model;
        this.view = view;
        panels = [.. model.Panels.OrderBy(p => p.Kind)];
        var clock = new Clock(model.Start);
        time = new TimeAxisScale(view.Window.Start, view.Window.End, StripView.PlotLeft, Math.Max(view.PlotRight, StripView.PlotLeft + 40), clock);
        ticks = time.TicksAt(82);
        rows = new StripRows(model, time);
        double least = Top + rows.Height + panels.Sum(p => LeastOf(p) + Between) + Foot;
        canvas = new Canvas(id, time.Right + StripView.Margin, Math.Max(view.Height, least), $"Detail of {model.Name}", StripSentence.Of(model, view, clock));
    }

    public static Picture Draw(StripModel model, StripView view, string id) => new StripPlot(model, view, id).Draw();

    private Picture Draw()
    {
        double spare = Math.Max(0, canvas.Height - Top - Foot - rows.Height - panels.Sum(p => LeastOf(p) + Between));
        double shares = panels.Sum(ShareOf);
        Shade();
        bool rowsDrawn = false;
        for (int i = 0; i < panels.Count; i++)
        {
            Panel(panels[i], LeastOf(panels[i]) + spare * ShareOf(panels[i]) / shares);
            bool isLastOfSpO2 = i + 1 == panels.Count || panels[i + 1].Kind != StripPanelKind.SpO2;
            if (rowsDrawn || !isLastOfSpO2) continue;
            y = rows.DrawEvents(canvas, y); // right under the SpO2 panel, which they are about
            rowsDrawn = true;
        }

        if (!rowsDrawn) y = rows.DrawEvents(canvas, y);
        y = rows.DrawLanes(canvas, y);
        Foots();
        return canvas.Finish();
    }

    private static double LeastOf(StripPanel panel) => panel.Kind switch
    {
        StripPanelKind.SpO2 => 64,
        StripPanelKind.PulseRate or StripPanelKind.Pleth => 42,
        _ => 28,
    };

    private static double ShareOf(StripPanel panel) => panel.Kind switch
    {
        StripPanelKind.SpO2 => 4,
        StripPanelKind.Pleth => 1.8,
        StripPanelKind.PulseRate => 1.4,
        _ => 0.3,
    };

    private void Shade()
    {
        double bottom = canvas.Height - Foot;
        if (view.Frame is { } frame && Visible(frame))
        {
            double left = time.At(frame.Start), right = Math.Max(time.At(frame.End), left + 3);
            canvas.Rect(left, Top - 4, right - left, bottom - Top + 6, new Paint(Ink.Wash, Ink.Proposed, 2), "The window shown in detail", 2);
        }

        if (view.Selection is { } chosen && Visible(chosen))
        {
            double left = time.At(chosen.Start), right = Math.Max(time.At(chosen.End), left + 2);
            canvas.Rect(left, Top - 4, right - left, bottom - Top + 4, new Paint(Ink.Grid), $"Selected: {time.Clock.At(chosen.Start)} to {time.Clock.At(chosen.End)}");
            canvas.Line(left, Top - 4, left, bottom, Paint.Line(Ink.Proposed, 1.5));
            canvas.Line(right, Top - 4, right, bottom, Paint.Line(Ink.Proposed, 1.5));
        }
    }

    private bool Visible(TimeSlice span) => span.End >= time.From && span.Start <= time.To;

    private void Panel(StripPanel panel, double height)
    {
        double bottom = y + height;
        var limits = model.Limits.Where(l => l.Panel == panel.Kind && (l.During is not { } d || Visible(d))).ToList();
        var trace = new StripTrace(panel, time);
        var (from, to) = panel.Range ?? trace.Range(limits.Select(l => l.Value));
        var scale = new LinearScale(from, to, bottom, y);
        Grid(panel, scale, bottom, height);
        using (canvas.ClipTo(time.Left, y - 1, time.Right - time.Left, height + 2))
        {
            Gaps(panel, trace, bottom);
            foreach (var limit in limits) LimitLine(limit, scale);
            trace.Draw(canvas, scale);
        }

        LimitLabels(limits, scale, bottom);
        canvas.Line(time.Left, y, time.Left, bottom, Paint.Line(Ink.Axis));
        canvas.Line(time.Left, bottom, time.Right, bottom, Paint.Line(Ink.Axis));
        var name = new TextStyle(TextStyle.Small, Bold: true);
        // The numbers of the scale begin where the name ends; the unit goes before the name is cut.
        string withUnit = panel.Unit.Length > 0 ? $"{panel.Label}, {panel.Unit}" : panel.Label;
        canvas.Text(0, y + 11, name.WidthOf(withUnit) <= StripView.PlotLeft - 30 ? withUnit : name.Fit(panel.Label, StripView.PlotLeft - 40), name);
        if (height > 76) Legend(panel, trace);
        y = bottom + Between;
    }

    private void Legend(StripPanel panel, StripTrace trace)
    {
        double line = y + 28;
        void Entry(string text, Action<double> key)
        {
            key(line - 4);
            canvas.Text(21, line, text, new TextStyle(TextStyle.Small, Fill: Ink.Muted));
            line += 16;
        }

        if (trace.IsDense)
        {
            if (panel.Kind == StripPanelKind.SpO2) Entry("lowest", at => canvas.Line(0, at, 16, at, Paint.Line(Ink.Trace, 1.6)));
            Entry("low to high", at => canvas.Rect(0, at - 5, 16, 10, new Paint(Ink.Envelope)));
        }

        if (panel.Kind != StripPanelKind.SpO2) return;
        Entry("no value", at => canvas.Rect(0, at - 5, 16, 10, new Paint(canvas.Fill(Pattern.Gap), Ink.Hatch, 0.5)));
        if (model.Gaps.Any(g => g.HadNumbers)) Entry("does not count", at => canvas.Rect(0, at - 5, 16, 10, new Paint(canvas.Fill(Pattern.Doubted), Ink.Hatch, 0.5)));
    }

    private void Grid(StripPanel panel, LinearScale scale, double bottom, double height)
    {
        foreach (var tick in ticks) canvas.Line(time.At(tick.Time), y, time.At(tick.Time), bottom, Paint.Line(Ink.Grid));
        if (panel.Kind == StripPanelKind.Pleth) return; // its height means nothing from one moment to the next
        double top = panel.Kind == StripPanelKind.SpO2 ? Math.Min(scale.To, 100) : scale.To;
        int most = Math.Max(1, (int)(height / 22));
        double step = Ticks.Step(top - scale.From, most);
        int decimals = Math.Clamp((int)Math.Ceiling(-Math.Log10(step)), 0, 4);
        double free = double.PositiveInfinity;
        foreach (double tick in Ticks.Round(scale.From, top, most))
        {
            double at = scale.At(tick);
            canvas.Line(time.Left, at, time.Right, at, Paint.Line(Ink.Grid));
            if (at > free) continue;
            canvas.Text(time.Left - 6, Math.Clamp(at + 4, y + 9, bottom), Words.Number(tick, decimals), TextStyle.Tick with { Anchor = Anchor.End });
            free = at - 13;
        }
    }

    private void Gaps(StripPanel panel, StripTrace trace, double bottom)
    {
        var own = model.Gaps.Where(g => Visible(g.Span) && (g.Panel is { } k ? k == panel.Kind : panel.Kind is StripPanelKind.SpO2 or StripPanelKind.PulseRate)).ToList();
        foreach (var (left, right) in trace.Empty())
        {
            var middle = new SampleTime(time.From.Milliseconds + (long)((time.To - time.From).Milliseconds * (((left + right) / 2 - time.Left) / (time.Right - time.Left))));
            if (own.Exists(g => g.Span.Contains(middle))) continue;
            Hatch(left, right, bottom, "no value", Pattern.Gap, null); // columns do not know its length to the second
        }

        foreach (var gap in own) Hatch(time.At(gap.Span.Start), Math.Max(time.At(gap.Span.End), time.At(gap.Span.Start) + 1), bottom, gap.Reason, gap.HadNumbers ? Pattern.Doubted : Pattern.Gap, gap.Span.Length);
    }

    private void Hatch(double left, double right, double bottom, string reason, Pattern pattern, Duration? length)
    {
        string said = reason.Length == 0 ? "No value" : $"{char.ToUpperInvariant(reason[0])}{reason[1..]}";
        canvas.Rect(left, y, right - left, bottom - y, new Paint(canvas.Fill(pattern)), length is { } known ? $"{said}, {Words.Span(known)}" : said);
        var style = new TextStyle(TextStyle.Small, Anchor.Middle, Ink.Muted, Halo: Ink.Paper);
        if (right - left > style.WidthOf(reason) + 8) canvas.Text((left + right) / 2, bottom - 6, reason, style);
    }

    private void LimitLine(StripLimit limit, LinearScale scale)
    {
        double at = scale.At(limit.Value);
        if (at < y - 1 || at > scale.Start + 1) return;
        double left = limit.During is { } d ? time.At(d.Start) : time.Left, right = limit.During is { } e ? time.At(e.End) : time.Right;
        canvas.Line(left, at, right, at, Paint.Line(InkOf(limit), limit.IsCandidate ? 1.8 : 1.4, limit.IsCandidate ? "2 4" : "7 4"));
    }

    private void LimitLabels(List<StripLimit> limits, LinearScale scale, double bottom)
    {
        var shown = limits.Where(l => scale.At(l.Value) >= y - 1 && scale.At(l.Value) <= bottom + 1).DistinctBy(l => (l.Value, l.Label)).ToList();
        double[] places = Labels.Spread([.. shown.Select(l => scale.At(l.Value))], 13, y + 5, bottom - 2);
        for (int i = 0; i < shown.Count; i++)
        {
            canvas.Line(time.Right, scale.At(shown[i].Value), time.Right + 6, places[i], Paint.Line(InkOf(shown[i])));
            canvas.Text(time.Right + 8, places[i] + 4, $"{shown[i].Label} {shown[i].Value.ToString("0.##", System.Globalization.CultureInfo.InvariantCulture)}", new TextStyle(TextStyle.Small, Fill: InkOf(shown[i])));
        }
    }

    private static string InkOf(StripLimit limit) => limit.IsCandidate ? Ink.Proposed : Ink.Text;

    private void Foots()
    {
        double at = canvas.Height - Foot;
        canvas.Line(time.Left, at, time.Right, at, Paint.Line(Ink.Axis));
        double free = double.NegativeInfinity;
        foreach (var tick in ticks)
        {
            double x = time.At(tick.Time);
            canvas.Line(x, at, x, at + 5, Paint.Line(Ink.Axis));
            canvas.Text(x, at + 18, tick.Label, TextStyle.Tick);
            if (tick.Day is not { } day || x < free) continue;
            canvas.Text(x, at + 33, day, TextStyle.Tick with { Bold = true });
            free = x + TextStyle.Tick.WidthOf(day) + 8;
        }

        bool isElapsed = model.Start is RecordingStart.Unknown;
        canvas.Text(0, at + 16, isElapsed ? "Elapsed time" : "Clock time", new TextStyle(TextStyle.Small, Fill: Ink.Muted));
        if (isElapsed) canvas.Text(0, at + 31, "(clock not known)", new TextStyle(TextStyle.Small, Fill: Ink.Muted));
    }
}
