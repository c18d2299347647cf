using Stillwatch.Alarms;
using Stillwatch.Conditioning;
using Stillwatch.Quantities;
using Stillwatch.Replay;
using Stillwatch.Reports.Drawing;
using Stillwatch.Reports.Model;
using Stillwatch.Reports.Wording;
using Stillwatch.Time;
using Stillwatch.Tuning.MustCatch;

namespace Stillwatch.Reports.Plots;

/// <summary>The whole recording at a glance: SpO2, events, signals, pulse rate on one time axis.</summary>
internal sealed class OverviewPlot
{
    private const double Width = 1000;
    private const double Left = 158;
    private const double Right = 884;
    private const double SpO2Height = 216;
    private const double PulseHeight = 92;

    private readonly RecordingSection section;
    private readonly ConditionedSeries spO2;
    private readonly Clock clock;
    private readonly TimeAxisScale time;
    private readonly IReadOnlyList<TimeAxisScale.Tick> ticks;
    private readonly Canvas canvas;
    private double y = 12;

    private OverviewPlot(RecordingSection section, ConditionedSeries spO2, string id)
    {
        this.section = section;
        this.spO2 = spO2;
        clock = new Clock(section.Recording.Start);
        time = new TimeAxisScale(spO2.Start, spO2.End, Left, Right, clock);
        ticks = time.TicksAt(78);
        canvas = new Canvas(id, Width, HeightOf(section), $"Overview of {section.Recording.Name}", Sentences.Overview(section));
    }

    public static Picture Draw(RecordingSection section, string id) =>
        section.SpO2 is { } spO2 ? new OverviewPlot(section, spO2, id).Draw() : Picture.None;

    private static double HeightOf(RecordingSection section) =>
        12 + SpO2Height + 14 + (section.Review?.Events is null ? 0 : 21) + (section.MustCatch.Count == 0 ? 0 : 24)
        + RowsHeight(PresentRows(section)) + RowsHeight(ProposedRows(section))
        + (section.PulseRate is null ? 0 : 14 + PulseHeight) + 44;

    private static double RowsHeight(List<SignalsOf>? rows) =>
        rows is null ? 0 : 23 + Math.Max(1, rows.Count) * (SignalRow.Height + 6);

    private static List<SignalsOf>? PresentRows(RecordingSection section) =>
        Rows(section.PresentSignals, _ => true);

    // Technical signals hardly depend on limits; once is enough.
    private static List<SignalsOf>? ProposedRows(RecordingSection section) =>
        Rows(section.ProposedSignals, c => c.IsPhysiological());

    private static List<SignalsOf>? Rows(IReadOnlyList<ReplayedSignal>? signals, Func<AlarmCondition, bool> shown) =>
        signals is null ? null : [.. signals.Where(s => shown(s.Condition)).GroupBy(s => s.Condition).OrderBy(g => g.Key).Select(g => new SignalsOf(g.Key, [.. g]))];

    private Picture Draw()
    {
        SpO2Panel();
        if (section.Review?.Events is { } falls) Falls(falls);
        if (section.MustCatch.Count > 0) MustCatch();
        if (PresentRows(section) is { } present) Signals($"Signals, {SettingsWords.Of(section)}", present);
        if (ProposedRows(section) is { } proposed) Signals("Signals, proposed settings", proposed);
        if (section.PulseRate is { } pulse) PulsePanel(pulse);
        TimeTicks();
        return canvas.Finish();
    }

    private void SpO2Panel()
    {
        double bottom = y + SpO2Height;
        var lines = LimitLines();
        double lowest = spO2.Pieces.Count > 0 ? spO2.Pieces.Min(p => p.Micro) / (double)FixedPoint.One : 90;
        double highest = spO2.Pieces.Count > 0 ? spO2.Pieces.Max(p => p.Micro) / (double)FixedPoint.One : 100;
        double floor = Math.Floor((Math.Min(lowest, lines.Select(l => l.At).DefaultIfEmpty(88).Min()) - 2) / 5) * 5;
        var scale = new LinearScale(Math.Min(floor, 85), Math.Max(100.7, highest), bottom, y);
        var panel = new TracePanel(canvas, time, scale, y, bottom);
        panel.Grid(Ticks.Round(scale.From, 100, scale.From < 60 ? 5 : 8), ticks, v => Words.Number(v, 0));
        panel.Gaps(spO2);
        using (canvas.ClipTo(Left, y, Right - Left, SpO2Height)) panel.Trace(spO2);
        foreach (var line in lines) canvas.Line(Left, scale.At(line.At), Right, scale.At(line.At), Paint.Line(line.Ink, line.IsProposed ? 1.8 : 1.4, line.IsProposed ? "2 4" : "7 4"));
        double[] labels = Labels.Spread([.. lines.Select(l => scale.At(l.At))], 14, y + 6, bottom - 2);
        for (int i = 0; i < lines.Count; i++)
        {
            canvas.Line(Right, scale.At(lines[i].At), Right + 7, labels[i], Paint.Line(lines[i].Ink));
            canvas.Text(Right + 10, labels[i] + 4, lines[i].Label, new TextStyle(TextStyle.Small, Fill: lines[i].Ink));
        }

        Frame(y, bottom);
        canvas.Text(0, y + 12, "SpO2, %", new TextStyle(Bold: true));
        canvas.Line(0, y + 26, 16, y + 26, Paint.Line(Ink.Trace, 1.6));
        canvas.Text(21, y + 30, "mean", new TextStyle(TextStyle.Small, Fill: Ink.Muted));
        canvas.Rect(0, y + 38, 16, 11, new Paint(Ink.Envelope));
        canvas.Text(21, y + 47, "low to high", new TextStyle(TextStyle.Small, Fill: Ink.Muted));
        canvas.Rect(0, y + 55, 16, 11, new Paint(canvas.Fill(Pattern.Gap), Ink.Hatch, 0.5));
        canvas.Text(21, y + 64, "no valid value", new TextStyle(TextStyle.Small, Fill: Ink.Muted));
        y = bottom + 14;
    }

    private List<LimitLine> LimitLines()
    {
        var lines = new List<LimitLine>();
        void Add(Percent? limit, string label, bool isProposed)
        {
            if (limit is { } l && !lines.Exists(x => x.At == (double)l.Value && x.Kind == label))
                lines.Add(new LimitLine((double)l.Value, label, isProposed ? $"proposed {Words.Saturation(l)}" : $"{label} {Words.Saturation(l)}", isProposed));
        }

        Add(section.PresentSettings?.SpO2High?.Limit, "high limit", false);
        Add(section.PresentSettings?.SpO2Low?.Limit, "low limit", false);
        Add(section.PresentSettings?.Backstop?.Limit, "backstop", false);
        Add(section.ProposedSettings?.SpO2Low?.Limit, "low limit", true);
        if (section.PresentSettings?.Backstop is null && section.ProposedSettings?.Backstop is { } added)
            lines.Add(new LimitLine((double)added.Limit.Value, "backstop", $"backstop {Words.Saturation(added.Limit)}", true));
        return lines;
    }

    private void Falls(IReadOnlyList<Oxygenation.DesaturationEvent> falls)
    {
        RowLabel("Falls of 3 points", y + 11, Words.Number(falls.Count, 0));
        var path = new PathText();
        double last = -1;
        foreach (var fall in falls.OrderBy(f => f.NadirTime))
        {
            double x = Math.Round(time.At(fall.NadirTime));
            if (x == last) continue;
            path.MoveTo(x, y + 1).LineTo(x, y + 13);
            last = x;
        }

        canvas.Path(path, Paint.Line(Ink.Trace, 1.3));
        y += 21;
    }

    private void MustCatch()
    {
        RowLabel("Must-catch events", y + 14, Words.Number(section.MustCatch.Count, 0));
        double[] middles = [.. section.MustCatch.Select(m => (time.At(m.Event.Onset) + time.At(m.Event.End)) / 2)];
        for (int i = 0; i < section.MustCatch.Count; i++)
        {
            var outcome = section.MustCatch[i];
            double start = time.At(outcome.Event.Onset), end = time.At(outcome.Event.End);
            double x = middles[i];
            if (end - start > 10) canvas.Line(start, y + 10, end, y + 10, Paint.Line(Ink.Text, 2));
            Mark(canvas, outcome.Present, x, y + 10, $"Event {i + 1}: {clock.At(outcome.Event.Onset)}, lowest {Words.Saturation(outcome.Event.Nadir)}{AnswerTip(outcome.Present, SettingsWords.Of(section))}");
            string number = Words.Number(i + 1, 0);
            bool hasRoom = i + 1 == middles.Length || x + 14 + new TextStyle(TextStyle.Small).WidthOf(number) < middles[i + 1];
            if (hasRoom) canvas.Text(x + 8, y + 14, number, new TextStyle(TextStyle.Small, Halo: Ink.Paper));
        }

        y += 24;
    }

    public static void Mark(Canvas canvas, CatchAnswer? answer, double x, double y, string tip)
    {
        switch (answer?.Verdict)
        {
            case CatchVerdict.InTime: Marks.InTime(canvas, x, y, tip); break;
            case CatchVerdict.Late: Marks.Late(canvas, x, y, tip); break;
            case CatchVerdict.Missed: Marks.Missed(canvas, x, y, tip); break;
            default: Marks.NotAnswered(canvas, x, y, tip); break;
        }
    }

    private static string AnswerTip(CatchAnswer? answer, string settings) => answer is null ? "" : $"; {Words.Of(answer.Verdict)} under {settings}";

    private void Signals(string heading, List<SignalsOf> rows)
    {
        canvas.Text(0, y + 14, heading, new TextStyle(Bold: true));
        y += 23;
        if (rows.Count == 0)
        {
            RowLabel("none", y + 12, "0");
            y += SignalRow.Height + 6;
        }

        foreach (var (condition, signals) in rows)
        {
            RowLabel(Words.Of(condition), y + 12, Words.Number(signals.Count, 0));
            canvas.Line(Left, y + SignalRow.Height, Right, y + SignalRow.Height, Paint.Line(Ink.Grid));
            SignalRow.Draw(canvas, time, y, signals);
            y += SignalRow.Height + 6;
        }
    }

    private void PulsePanel(ConditionedSeries pulse)
    {
        y += 14;
        double bottom = y + PulseHeight;
        double lowest = pulse.Pieces.Count > 0 ? pulse.Pieces.Min(p => p.Micro) / (double)FixedPoint.One : 50;
        double highest = pulse.Pieces.Count > 0 ? pulse.Pieces.Max(p => p.Micro) / (double)FixedPoint.One : 100;
        double step = Ticks.Step(Math.Max(20, highest - lowest), 6);
        var scale = new LinearScale(Math.Floor(lowest / step) * step, Math.Max(Math.Ceiling(highest / step), Math.Floor(lowest / step) + 1) * step, bottom, y);
        var panel = new TracePanel(canvas, time, scale, y, bottom);
        panel.Grid(Ticks.Round(scale.From, scale.To, 5), ticks, v => Words.Number(v, 0));
        panel.Gaps(pulse);
        using (canvas.ClipTo(Left, y, Right - Left, PulseHeight)) panel.Trace(pulse);
        Frame(y, bottom);
        canvas.Text(0, y + 12, "Pulse rate, /min", new TextStyle(Bold: true));
        y = bottom;
    }

    private void TimeTicks()
    {
        canvas.Line(Left, y, Right, y, Paint.Line(Ink.Axis));
        double free = double.NegativeInfinity;
        foreach (var tick in ticks)
        {
            double x = time.At(tick.Time);
            canvas.Line(x, y, x, y + 5, Paint.Line(Ink.Axis));
            canvas.Text(x, y + 18, tick.Label, TextStyle.Tick);
            if (tick.Day is not { } day || x < free) continue;
            canvas.Text(x, y + 33, day, TextStyle.Tick with { Bold = true });
            free = x + TextStyle.Tick.WidthOf(day) + 8;
        }

        canvas.Text(0, y + 18, clock.ShortCaption, new TextStyle(TextStyle.Small, Fill: Ink.Muted));
    }

    private void RowLabel(string label, double baseline, string count)
    {
        canvas.Text(Left - 7, baseline, label, new TextStyle(TextStyle.Small, Anchor.End));
        canvas.Text(Right + 10, baseline, count, new TextStyle(TextStyle.Small));
    }

    private void Frame(double top, double bottom)
    {
        canvas.Line(Left, top, Left, bottom, Paint.Line(Ink.Axis));
        canvas.Line(Left, bottom, Right, bottom, Paint.Line(Ink.Axis));
    }

    private sealed record SignalsOf(AlarmCondition Condition, List<ReplayedSignal> Signals);

    private readonly record struct LimitLine(double At, string Kind, string Label, bool IsProposed)
    {
        public string Ink => IsProposed ? Drawing.Ink.Proposed : Drawing.Ink.Text;
    }
}
