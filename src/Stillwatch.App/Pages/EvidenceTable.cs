using Spectre.Console;
using Stillwatch.App.Jobs;
using Stillwatch.Tuning.Proposals;

namespace Stillwatch.App.Pages;

/// <summary>Settings side by side: load, safety and their bounds.</summary>
internal static class EvidenceTable
{
    /// <param name="candidates">Column heading and evidence.</param>
    /// <param name="patients">Patients behind them: one patient cannot be resampled.</param>
    public static Table Of(IEnumerable<(string Label, CandidateEvidence Evidence)> candidates, int patients)
    {
        var list = candidates.ToList();
        var table = Page.TableOf([("", false), .. list.Select(c => (c.Label, true))]);
        void Line(string name, Func<CandidateEvidence, string> value) => Page.Row(table, [name, .. list.Select(c => value(c.Evidence))]);
        Line("SpO2 low limit", e => $"{e.Settings.SpO2Low.Limit.Value:0.##} %");
        Line("  delay", e => $"{e.Settings.SpO2Low.Delay.Seconds:0.###} s");
        Line("  area threshold", e => e.Settings.SpO2Low.AreaThreshold.Value > 0 ? $"{e.Settings.SpO2Low.AreaThreshold.Value:0.##} %·s" : "none");
        Line("Backstop, its delay", e => e.Settings.Backstop is { } b ? $"{b.Limit.Value:0.##} %, {b.Delay.Seconds:0.###} s" : "off");
        Line("Our averaging", e => e.Settings.Averaging.Milliseconds > 0 ? $"{e.Settings.Averaging.Seconds:0.###} s" : "none");
        Line("Signals of SpO2 low a patient-day", e => Say.Number(e.SignalsPerDay.Value, "0.0"));
        Line("  interval from resampled patients", e => patients > 1 ? Interval(e.SignalsPerDay) : "none: one patient");
        Line("Minutes of signal a patient-day", e => Say.Number(e.SignalMinutesPerDay, "0.0"));
        Line("Signals of no reading a patient-day connected", e => Say.Number(e.TechnicalSignalsPerDay.Value, "0.0"));
        Line("Must-catch events missed / late / in all", e => $"{e.Missed} / {e.Late} / {e.MustCatchEvents}");
        Line("  could be missed: up to, of events", e => Say.Share(e.MissedUpperBoundEvents));
        Line("  could be missed: up to, of patients", e => Say.Share(e.MissedUpperBoundPatients));
        Line("Onset to signal: median / worst", e => $"{Say.Seconds(e.MedianTimeToSignal)} / {Say.Seconds(e.WorstTimeToSignal)}");
        return table;
    }

    /// <summary>What replayed settings did, over everything that was monitored.</summary>
    public static void Tally(Page page, string heading, SettingsTally tally)
    {
        page.Heading(heading);
        if (tally.Sets.Count > 1) page.Text("One set for each category, as the file has it.");
        foreach (var set in tally.Sets.Count == 1 ? tally.Sets : [])
            page.Bullet($"{set.Name}{(set.Category is { } c ? $" ({c})" : string.Empty)}: {Say.Settings(set.Settings)}");
        var physiological = tally.Load.Physiological;
        var technical = tally.Load.Technical;
        page.Text($"Physiological, all conditions: {Say.Count(physiological.Signals, "signal", "signals")}, {Say.Number(physiological.SignalsPerDay, "0.0")} a patient-day of valid time; active {Say.Length(physiological.Active)}. "
            + $"Technical: {technical.Signals}, {Say.Number(technical.SignalsPerDay, "0.0")} a patient-day connected. Never added together (R12).");
        int all = tally.Answers.Count();
        page.Text($"Must-catch events: {all - tally.Missed - tally.Late} of {all} in time, {tally.Late} late, {tally.Missed} missed; worst time to signal {Say.Seconds(tally.WorstTimeToSignal)}.");
    }

    private static string Interval(Estimate estimate) =>
        estimate is { Low: { } low, High: { } high } ? $"{low:0.0}–{high:0.0}" : "cannot be had";
}
