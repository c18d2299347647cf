using Stillwatch.App.Commands;
using Stillwatch.App.Jobs;
using Stillwatch.Oximetry;

namespace Stillwatch.App.Pages;

/// <summary>"What numbers does this light give, and which of them can be trusted?"</summary>
internal static class DerivePage
{
    public static void Write(Page page, DeriveModel model, string? report)
    {
        page.Question("What numbers does this light give, and which of them can be trusted?");
        var recording = model.Loaded.Recording;
        page.Subject($"{model.Loaded.File.Name} · {model.Loaded.Format} · {(recording.Start.IsKnown ? $"from {recording.Start}" : "start unknown")}{(model.Loaded.IsInvented ? " · INVENTED DATA" : string.Empty)}");
        page.Answer(Answer(model));
        if (model.Summary.BeyondCurveInWords(model.Derived.Settings.Curve.Name) is { } beyond) page.Text($"IN DOUBT: {beyond}.");
        if (model.Summary.AssumedCurveInWords(model.Derived.Settings) is { } assumed) page.Text($"ASSUMED: {assumed}.");
        Numbers(page, model);
        States(page, model);
        Used(page, model);
        Output(page, model);
        if (model.Loaded.Issues.Count > 0) IssueList.Write(page, model.Loaded.Issues, most: 6);
        page.Heading("What this is not");
        foreach (string caution in DeriveModel.Cautions) page.Bullet(caution);
        page.Report(report);
        page.Caution();
    }

    private static string Answer(DeriveModel model)
    {
        var s = model.Summary;
        string share = s.SecondsTotal > 0 ? $" ({s.PercentValid:0.0} %)" : string.Empty;
        string numbers = s.SecondsValid == 0 ? "no second could be trusted with a number"
            : $"pulse rate {Middle(s.PulseRate, "0", " /min")}"
                + (model.Derived.Plan.RedLabel is null ? $"; no SpO2, for {model.Derived.Plan.NoSaturationBecause ?? "there is one light only"}" : $", SpO2 {Middle(s.SpO2, "0.0", " %")} by the curve \"{model.Derived.Settings.Curve.Name}\"");
        return $"{s.SecondsValid:#,0} of {Say.Count(s.SecondsTotal, "second", "seconds")} carry numbers{share}, from {Say.Count(model.Derived.Beats.Count, "beat", "beats")}: {numbers}.";
    }

    private static string Middle(DerivedSummary.Spread? spread, string format, string unit) => spread is null ? "never given" : $"median {spread.Median.ToString(format)}{unit}";

    private static void Numbers(Page page, DeriveModel model)
    {
        var s = model.Summary;
        page.Heading("The numbers");
        var table = Page.TableOf(("", false), ("Least", true), ("Median", true), ("Greatest", true), ("Given for", true));
        Line("Pulse rate, /min", s.PulseRate, "0.0", "s");
        if (model.Derived.Plan.RedLabel is not null) Line("SpO2, %", s.SpO2, "0.0", "s");
        if (model.Derived.Plan.IsLight) Line("Perfusion index, %", s.Perfusion, "0.00", "s");
        Line("Respiratory rate, /min", s.RespiratoryRate, "0.0", $"of {Say.Count(s.Windows, "window", "windows")} of {model.Derived.Settings.BreathingWindow.Seconds:0.###} s");
        page.Show(table);

        void Line(string name, DerivedSummary.Spread? spread, string format, string unit) =>
            Page.Row(table, name, Say.Number(spread?.Least, format), Say.Number(spread?.Median, format), Say.Number(spread?.Greatest, format), $"{spread?.Count ?? 0:#,0} {unit}");
    }

    private static void States(Page page, DeriveModel model)
    {
        page.Heading("Why seconds carry no numbers, or no SpO2");
        var refused = model.Summary.States.Where(s => s.State != LightState.Valid).ToList();
        if (refused.Count == 0)
        {
            page.Text("Every second carries numbers.");
            return;
        }

        var table = Page.TableOf(("State", false), ("Seconds", true), ("Share", true), ("Means", false));
        foreach (var (state, seconds) in refused)
            Page.Row(table, state.InWords(), $"{seconds:#,0}", Say.Share((double)seconds / model.Summary.SecondsTotal), state.Meaning());
        page.Show(table);
    }

    private static void Used(Page page, DeriveModel model)
    {
        var (plan, settings) = (model.Derived.Plan, model.Derived.Settings);
        page.Heading("What was used, and why");
        page.Bullet($"Pulses from \"{plan.PulseLabel}\"{(plan.RedLabel is { } red ? $" as infrared light, \"{red}\" as red light" : plan.IsLight ? ", a light" : ", a pleth of unknown zero")}, at {plan.Rate}; its values {(plan.FallsWithBlood ? "fall when blood volume rises (turned over)" : "rise with blood volume")}");
        foreach (var candidate in plan.Candidates.Take(8))
            page.Bullet($"{(candidate.Chosen ? "Chosen" : "Not chosen")}: \"{candidate.Label}\"{(double.IsNaN(candidate.MeanQuality) ? string.Empty : $", mean quality {Say.Number(candidate.MeanQuality)}")}: {candidate.Reason}");
        if (plan.Resampling is { } resampling)
            page.Bullet($"Uneven samples were brought onto an even grid of {resampling.RateHz:0.###} a second; steps up to {resampling.GreatestStepSeconds:0.###} s were bridged; error at most {resampling.RelativeError * 100:0.0} % of the pulse (upper estimate)");
        if (plan.Resampling?.CoarseTimesInWords is { } coarse) page.Bullet($"IN DOUBT: {coarse}");
        if (plan.RedLabel is not null)
        {
            page.Bullet($"Calibration curve \"{settings.Curve.Name}\", {settings.CurveBecause}: {settings.Curve.Source}");
            page.Bullet($"Where it holds: {settings.Curve.Range}");
        }

        page.Bullet($"Averaged over {settings.Averaging.Seconds:0.###} s; beat detector \"{DeriveOptions.NameOf(settings.Beats)}\"");
        page.Note(DerivedWords.Perfusion);
        page.Note(DerivedWords.Quality);
        page.Note(DerivedWords.Breathing);
    }

    private static void Output(Page page, DeriveModel model)
    {
        if (model.Output is not { } output) return;
        page.Heading("What was written");
        page.Text($"{output.To}: {output.Format}, {Say.Count(output.Written.Channels.Count, "channel", "channels")}, {Say.Count(output.Written.Annotations.Count, "note", "notes")}; manifest {output.ManifestPath}.");
        page.Note("Labels end in \"derived\", and every note says that the numbers are not the monitor's. The source's own channels are not in it.");
        foreach (var issue in output.Issues.Take(6)) page.Bullet(IssueList.Words(issue));
    }
}
