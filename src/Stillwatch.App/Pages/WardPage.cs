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
        page.Subject($"{Say.Count(model.Recordings.Count, "recording", "recordings")} of {Say.Count(model.Patients.Count, "patient", "patients")} · {model.Tally.Connected.Hours:0.0} h connected, {model.Tally.Valid.Hours:0.0} h with a value");
        SetNotes.Write(page, model.Loaded, model.NotComputable);
        page.Answer(Answer(model));
        page.Text($"Replayed under {model.OriginInWords}:");
        foreach (var set in model.Tally.Sets) page.Bullet($"{set.Name}{(set.Category is { } c ? $" ({c})" : string.Empty)}: {Say.Settings(set.Settings)}");
        Contributors(page, model);
        Conditions(page, model);
        Groups(page, model);
        page.Heading("How this was counted");
        page.Note("Physiological signals per 24 h of valid time, technical per 24 h connected, each start once, unattended and without latching (R12). The two are never added together.");
        foreach (var definition in model.Recordings.Select(r => r.Definition).Distinct()) page.Note("Must-catch: " + Say.Definition(definition) + ".");
        page.Report(report);
        page.Caution();
    }

    public static string Answer(WardModel model)
    {
        var tally = model.Tally;
        int quarter = (model.Patients.Count + 3) / 4;
        double share = Share(model.Patients.Take(quarter).Sum(p => p.Physiological), tally.Physiological);
        return $"{Say.Number(tally.PhysiologicalPerDay, "0.0")} physiological signals a patient-day ({Say.Length(tally.Active)} of signal in all) and {Say.Number(tally.TechnicalPerDay, "0.0")} technical. "
            + $"{Say.Count(quarter, "patient gives", "patients give")} {share:0} % of the physiological ones. "
            + $"Of {Say.Count(model.MustCatchEvents, "must-catch event", "must-catch events")}, {tally.Missed} missed and {tally.Late} late.";
    }

    public static void Contributors(Page page, WardModel model)
    {
        page.Heading("Who causes it: patients by physiological signals");
        var table = Page.TableOf(("Patient", false), ("Category", false), ("Signals", true), ("A day", true), ("Share", true), ("", false), ("Technical\na day", true), ("Must-catch", true));
        int most = Math.Max(1, model.Patients.Max(p => p.Physiological));
        foreach (var p in model.Patients.Take(PatientsShown))
        {
            string bar = new('■', (int)Math.Round((double)p.Physiological / most * BarWidth));
            Page.Row(table, p.Patient, p.Category.Name, $"{p.Physiological}", Say.Number(p.PhysiologicalPerDay, "0.0"), $"{Share(p.Physiological, model.Tally.Physiological):0} %", bar, Say.Number(p.TechnicalPerDay, "0.0"), MustCatch(p));
        }

        Page.KeepWhole(table);
        page.Show(table);
        if (model.Patients.Count > PatientsShown) page.Note($"{model.Patients.Count - PatientsShown} more patients: see --json.");
    }

    private static string MustCatch(WardPatient patient)
    {
        string text = $"{patient.MustCatchEvents}";
        if (patient.Missed > 0) text += $", {patient.Missed} MISSED";
        if (patient.Late > 0) text += $", {patient.Late} LATE";
        return text;
    }

    private static void Conditions(Page page, WardModel model)
    {
        page.Heading("What causes it: signals by condition");
        var table = Page.TableOf(("Condition", false), ("Kind", false), ("Signals", true), ("Patients", true));
        var signals = model.Recordings.SelectMany((r, i) => model.Tally.Replays[i].Signals.Select(s => (s.Condition, r.Loaded.Patient)));
        foreach (var group in signals.GroupBy(s => s.Condition).OrderBy(g => g.Key))
            Page.Row(table, Say.Condition(group.Key), Alarms.AlarmConditions.IsPhysiological(group.Key) ? "physiological" : "technical", $"{group.Count()}", $"{group.Select(s => s.Patient).Distinct().Count()}");
        page.Show(table);
    }

    private static void Groups(Page page, WardModel model)
    {
        page.Heading("Groups within which settings may be compared (R14.7)");
        var table = Page.TableOf(("Group", false), ("Patients", true), ("Valid h", true), ("Signals a day", true), ("Technical\na day", true), ("Must-catch", true));
        foreach (var g in model.Groups)
            Page.Row(table, Say.Group(g.Key), $"{g.Patients}", $"{g.Valid.Hours:0.0}", Say.Number(g.PhysiologicalPerDay, "0.0"), Say.Number(g.TechnicalPerDay, "0.0"), $"{g.MustCatchEvents}");
        page.Show(table);
    }

    private static double Share(int part, int all) => all > 0 ? 100.0 * part / all : 0;
}
