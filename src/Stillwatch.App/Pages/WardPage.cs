using Stillwatch.Alarms;
using Stillwatch.App.Jobs;

namespace Stillwatch.App.Pages;

/// <summary>"What is our alarm load, and who and what causes it?"</summary>
internal static class WardPage
{
    private const int PatientsShown = 20;
    private const int BarWidth = 10;

    public static void Write(Page page, WardModel model, string? report)
    {
        page.Question("What is our alarm load, and who and what causes it?");
        page.Subject($"{Say.Count(model.Recordings.Count, "recording", "recordings")} of {Say.Count(model.Patients.Count, "patient", "patients")} · {Say.Length(model.Load.Technical.Per)} connected, {Say.Length(model.Load.Physiological.Per)} with a value");
        SetNotes.Write(page, model.Loaded, model.NotComputable);
        if (Assumptions.Patients(model.Recordings) is { } patients) page.Bullet(patients);
        page.Answer(Answer(model));
        page.Text($"Replayed under {model.OriginInWords}:");
        foreach (var set in model.Tally.Sets) page.Bullet($"{set.Name}{(set.Category is { } c ? $" ({c})" : string.Empty)}: {Say.Settings(set.Settings)}");
        Contributors(page, model);
        Conditions(page, model);
        Groups(page, model);
        page.Heading("How this was counted");
        page.Note("Physiological signals per 24 h of valid time, technical per 24 h connected, each start once, unattended and without latching (R12). The two are never added together.");
        foreach (string definition in model.Recordings.Select(r => Say.Definition(r.Definition)).Distinct()) page.Note($"Must-catch: {definition}.");
        page.Report(report);
        page.Caution();
    }

    public static string Answer(WardModel model)
    {
        var load = model.Load;
        int loudest = (model.Patients.Count + 3) / 4;
        string share = load.ShareOfTop(loudest) is { } part ? $"{Say.Count(loudest, "patient gives", "patients give")} {part * 100:0} % of the physiological ones. " : string.Empty;
        return $"{Say.Number(load.Physiological.SignalsPerDay, "0.0")} physiological signals a patient-day ({Say.Length(load.Physiological.Active)} of signal in all) and {Say.Number(load.Technical.SignalsPerDay, "0.0")} technical. "
            + $"{share}Half of the patients have less than {Say.Number(load.MedianPatientSignalsPerDay, "0.0")} a day. "
            + $"Of {Say.Count(model.MustCatchEvents, "must-catch event", "must-catch events")}, {model.Tally.Missed} missed and {model.Tally.Late} late.";
    }

    public static void Contributors(Page page, WardModel model)
    {
        page.Heading("Who causes it: patients by physiological signals");
        var table = Page.TableOf(("Patient", false), ("Category", false), ("Signals", true), ("A day", true), ("Share", true), ("", false), ("Technical\na day", true), ("Must-catch", true));
        int most = Math.Max(1, model.Patients.Max(p => p.Load.Physiological.Signals));
        foreach (var p in model.Patients.Take(PatientsShown))
        {
            string bar = new('■', (int)Math.Round((double)p.Load.Physiological.Signals / most * BarWidth));
            Page.Row(table, p.Load.Patient, p.Category.Name, $"{p.Load.Physiological.Signals}", Say.Number(p.Load.Physiological.SignalsPerDay, "0.0"), $"{p.Load.ShareOfPhysiological * 100:0} %", bar, Say.Number(p.Load.Technical.SignalsPerDay, "0.0"), MustCatch(p));
        }

        Page.KeepWhole(table);
        page.Show(table);
        if (model.Patients.Count > PatientsShown) page.Note($"{model.Patients.Count - PatientsShown} more patients: see --json.");
    }

    private static string MustCatch(WardLine patient)
    {
        string text = $"{patient.MustCatchEvents}";
        if (patient.Missed > 0) text += $", {patient.Missed} MISSED";
        if (patient.Late > 0) text += $", {patient.Late} LATE";
        return text;
    }

    private static void Conditions(Page page, WardModel model)
    {
        page.Heading("What causes it: signals by condition");
        var table = Page.TableOf(("Condition", false), ("Kind", false), ("Signals", true), ("Active for", true), ("Patients", true));
        foreach (var c in model.Load.Conditions)
        {
            int patients = model.Recordings.Where((r, i) => model.Tally.Replays[i].Signals.Any(s => s.Condition == c.Condition)).Select(r => r.Loaded.Patient).Distinct().Count();
            Page.Row(table, Say.Condition(c.Condition), c.Condition.IsPhysiological() ? "physiological" : "technical", $"{c.Signals}", Say.Length(c.Active), $"{patients}");
        }

        page.Show(table);
    }

    private static void Groups(Page page, WardModel model)
    {
        page.Heading("Groups within which settings may be compared (R14.7)");
        var table = Page.TableOf(("Group", false), ("Patients", true), ("Valid h", true), ("Signals a day", true), ("Technical\na day", true), ("Must-catch", true));
        foreach (var g in model.Groups)
            Page.Row(table, Say.Group(g.Key, g.IsCategoryAssumed), $"{g.Load.Patients.Count}", $"{g.Load.Physiological.Per.Hours:0.0}", Say.Number(g.Load.Physiological.SignalsPerDay, "0.0"), Say.Number(g.Load.Technical.SignalsPerDay, "0.0"), $"{g.MustCatchEvents}");
        page.Show(table);
    }
}
