using System.Globalization;
using Stillwatch.Oximetry;
using Stillwatch.Quantities;
using Stillwatch.Rehearsal;
using Stillwatch.Rehearsal.Patients;
using Stillwatch.Rehearsal.Scenarios;
using Stillwatch.Replay;
using Stillwatch.Reports.Drawing;
using Stillwatch.Reports.Wording;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Reports.Plots;

/// <summary>The truth of a rehearsal beside what its monitor showed, what truly happened, and the signals that starting settings would give.</summary>
internal sealed class RehearsalPlot
{
    private const double SpO2Height = 170, RateHeight = 84, SmallHeight = 62;

    private readonly RehearsalRun run;
    private readonly PanelStack stack;
    private readonly List<IGrouping<TruthKind, TruthEpisode>> kinds;
    private readonly List<IGrouping<Alarms.AlarmCondition, ReplayedSignal>> conditions;
    private readonly bool oxygenVaries;

    private RehearsalPlot(RehearsalRun run, IReadOnlyList<ReplayedSignal> signals, string id)
    {
        this.run = run;
        kinds = [.. run.Episodes.GroupBy(e => e.Kind).OrderBy(g => g.Key)];
        conditions = [.. signals.GroupBy(s => s.Condition).OrderBy(g => g.Key)];
        oxygenVaries = run.Drives.Any(d => d.InhaledOxygenFraction != run.Drives[0].InhaledOxygenFraction);
        double height = SpO2Height + RateHeight + SmallHeight * (oxygenVaries ? 4 : 3) + PanelStack.Between * (oxygenVaries ? 7 : 6)
            + PanelStack.RowHeight * (2 + Math.Max(1, kinds.Count) + Math.Max(1, conditions.Count));
        stack = new PanelStack(id, height, default, new SampleTime(run.Seconds * 1000L), new Clock(run.Start), $"{run.Scenario.Title}: truth and screen", Sentences.Rehearsal(run, signals));
    }

    public static Picture Draw(RehearsalRun run, IReadOnlyList<ReplayedSignal> signals, string id) => new RehearsalPlot(run, signals, id).Draw();

    private Picture Draw()
    {
        SpO2();
        double[] pulse = Shown(ChannelKind.PulseRate);
        Both("Pulse rate, /min", RateHeight, p => p.PulseRatePerMinute, pulse, 30, "0");
        Both("Perfusion, %", SmallHeight, p => p.PerfusionPercent, Shown(ChannelKind.PerfusionIndex), 0.5, "0.##");
        Both("Breaths, /min", SmallHeight, p => p.BreathDepth < 0.05 ? 0 : p.RespiratoryRatePerMinute, null, 10, "0", "0: no air moves");
        Both("Carbon dioxide, Torr", SmallHeight, p => p.ArterialCarbonDioxideTorr, null, 20, "0", "arterial, truth alone");
        if (oxygenVaries) Oxygen();
        Episodes();
        Signals();
        return stack.Finish();
    }

    private void SpO2()
    {
        double[] screen = Shown(ChannelKind.SpO2);
        double lowest = Math.Min(run.Patient.Min(p => p.SiteSaturationPercent), screen.Where(v => !double.IsNaN(v)).DefaultIfEmpty(100).Min());
        double low = (double)run.Scenario.Preset.SpO2LowLimit.Value.Value;
        double floor = Math.Max(0, Math.Floor((Math.Min(lowest, low) - 2) / 5) * 5);
        var limits = new List<(double At, string Words)> { (low, $"low limit {Words.Number(low, 0)}\u00a0%") };
        if (run.Scenario.Preset.SpO2HighLimit is { } high) limits.Add(((double)high.Value.Value, $"high limit {Words.Number((double)high.Value.Value, 0)}\u00a0%"));
        PanelStack.Panel? drawn = null;
        stack.Add("SpO2, %", SpO2Height, (floor, 100.7), floor < 60 ? 5 : 7, v => Words.Number(v, 0), panel =>
        {
            drawn = panel;
            var shown = Screen(screen);
            shown.Gaps(panel, "The screen shows no number");
            foreach (var (at, _) in limits) stack.Canvas.Line(PanelStack.Left, panel.Scale.Within(at), PanelStack.Right, panel.Scale.Within(at), Paint.Line(Ink.Text, 1.2, "7 4"));
            Truth(p => p.SiteSaturationPercent).Band(panel, Ink.Proposed, 3.4);
            shown.Line(panel);
        }, [("truth, at the site", (x, y) => stack.Canvas.Line(x, y, x + 16, y, Paint.Line(Ink.Proposed, 3.4))), ("screen", (x, y) => stack.Canvas.Line(x, y, x + 16, y, Paint.Line(Ink.Trace, 1.6))),
            ("no number on screen", (x, y) => stack.Canvas.Rect(x, y - 5, 16, 11, new Paint(stack.Canvas.Fill(Pattern.Gap), Ink.Hatch, 0.5)))]);
        double[] places = Labels.Spread([.. limits.Select(l => drawn!.Scale.Within(l.At))], 14, drawn!.Top + 6, drawn.Bottom - 2);
        for (int i = 0; i < limits.Count; i++) stack.Canvas.Text(PanelStack.Right + 10, places[i] + 4, limits[i].Words, new TextStyle(TextStyle.Small));
    }

    private void Both(string name, double height, Func<PatientMoment, double> truth, double[]? screen, double leastSpan, string format, string? legend = null)
    {
        double[] all = [.. run.Patient.Select(truth), .. screen ?? []];
        var spread = DerivedSummary.Spread.Of(all)!;
        double half = Math.Max(spread.Greatest - spread.Least, leastSpan) / 2, middle = (spread.Greatest + spread.Least) / 2;
        double step = Ticks.Step(half * 2, 4);
        double from = Math.Max(0, Math.Floor((middle - half) / step + 1e-9) * step), to = Math.Max(Math.Ceiling((middle + half) / step - 1e-9) * step, from + step);
        stack.Add(name, height, (from, to), height > SmallHeight ? 4 : 3, v => v.ToString(format, CultureInfo.InvariantCulture), panel =>
        {
            if (screen is not null) Screen(screen).Gaps(panel, "The screen shows no number");
            Truth(truth).Band(panel, Ink.Proposed, screen is null ? 2 : 3.4);
            if (screen is not null) Screen(screen).Line(panel);
        }, legend is null ? null : [(legend, null)]);
    }

    private void Oxygen() => stack.Add("Inhaled oxygen, %", SmallHeight, (15, 105), 3, v => Words.Number(v, 0), panel =>
        new SecondsTrace(stack, default, new Duration(1000), run.Seconds, i => run.Drives[i].InhaledOxygenFraction * 100).Line(panel, Ink.Proposed, 2));

    private void Episodes()
    {
        stack.Heading("What truly happened");
        if (kinds.Count == 0) stack.Row("nothing of note", [], "");
        foreach (var kind in kinds)
            stack.Row(kind.Key.InWords(), kind.Select(e => (e.Span, $"{kind.Key.InWords()}, {Words.Span(e.Span.Length)}")), $"{Words.Number(kind.Count(), 0)}: {Words.Span(new Duration(kind.Sum(e => e.Span.Length.Milliseconds)))}", Ink.Proposed);
    }

    private void Signals()
    {
        stack.Space();
        stack.Heading("Signals", "of the category’s starting settings, replayed on the screen’s numbers; the taller the bar, the higher the priority");
        if (conditions.Count == 0) stack.Row("none", [], "0");
        foreach (var condition in conditions)
            stack.Row(Words.Of(condition.Key), y => SignalRow.Draw(stack.Canvas, stack.Time, y, condition), Words.Number(condition.Count(), 0));
    }

    private SecondsTrace Truth(Func<PatientMoment, double> value) => new(stack, default, new Duration(1000), run.Seconds, i => value(run.Patient[i]));

    private SecondsTrace Screen(double[] values) => new(stack, default, new Duration(1000), values.Length, i => values[i]);

    // By seconds of the run: no row, or a row without a number, is none.
    private double[] Shown(ChannelKind kind)
    {
        var shown = new double[run.Seconds];
        Array.Fill(shown, double.NaN);
        if (run.Numerics.Find(kind) is not { } channel) return shown;
        for (int i = 0; i < channel.Times.Count; i++)
        {
            int micro = channel.Values[i];
            long second = channel.Times.TimeAt(i).Milliseconds / 1000;
            if (micro != ValueColumn.Missing && second >= 0 && second < shown.Length) shown[second] = micro / (double)FixedPoint.One;
        }

        return shown;
    }
}
