using Stillwatch.Alarms;
using Stillwatch.Oxygenation;
using Stillwatch.Reports.Model;
using Stillwatch.Reports.Wording;

namespace Stillwatch.Reports.Handover;

/// <summary>The shift summary of a ward: a line for each patient, so that a usual ward fits one page. A patient's own page has the picture.</summary>
internal static class WardShiftPage
{
    private static readonly string[] Change = ["Patient", "When", "What", "Why", "By"];

    public static IEnumerable<Block> Compose(ShiftSummaryModel model)
    {
        List<ShiftPatient> patients = [.. model.Patients.Where(p => !p.IsWholeUnit)];
        yield return new Block.Lead($"{Words.Count(patients.Count, "patient")}; {ShiftWords.InBrief(model)}.");
        yield return new Block.Grid(
            "Rising burden and many must-catch events stand first. Signals: physiological + technical, of a replay of the settings in force.",
            ["Patient", "Below 90 %", "Lowest", "Must-catch", "Signals", "Happened, to watch", "Pending"],
            [.. patients.Select(p => (IReadOnlyList<string>)[Who(p), Below(p), Lowest(p), MustCatch(p), Signals(p), Joined([.. p.Happened, .. ShiftWords.WatchBriefly(p)]), Joined(p.Pending)])], 7);
        foreach (var unit in model.Patients.Where(p => p.IsWholeUnit)) yield return new Block.Points([.. ShiftWords.Happened(unit), .. ShiftWords.Watch(unit), .. unit.Pending]);
        if (Changes(model.Patients, p => p.Changed) is { Count: > 0 } changed) yield return new Block.Grid("Changed", Change, changed, 5);
        if (Changes(model.Patients, p => p.ChangedSince) is { Count: > 0 } since) yield return new Block.Grid("Changed since then", Change, since, 5);
        yield return new Block.Heading("How these numbers were made");
        foreach (var block in Method([.. patients.Select(p => p.Recording).OfType<RecordingSection>()])) yield return block;
    }

    private static string Who(ShiftPatient patient) =>
        $"{patient.Patient}: {(patient.Recording is { } r ? Words.Of(r.Category, r.IsCategoryAssumed) : patient.About)}{(patient.Prescribed is { } range ? $", {range}" : "")}";

    private static string MustCatch(ShiftPatient patient) => patient.Recording is { } r ? Words.Number(r.MustCatch.Count, 0) : "–";

    private static string Signals(ShiftPatient patient) => patient.Recording?.PresentSignals is { } signals ? $"{signals.Count(s => s.Condition.IsPhysiological())} + {signals.Count(s => !s.Condition.IsPhysiological())}" : "–";

    private static List<IReadOnlyList<string>> Changes(IReadOnlyList<ShiftPatient> patients, Func<ShiftPatient, IReadOnlyList<ShiftChange>> of) =>
        [.. patients.SelectMany(p => of(p).Select(c => (IReadOnlyList<string>)[p.Patient, c.At, c.What, c.Why, c.By]))];

    private static string Below(ShiftPatient patient) => patient.Recording switch
    {
        null => "nothing recorded",
        { Review: null } => "no SpO2",
        { Review: { Exposure: var exposure } } => exposure.Below.FirstOrDefault(b => b.Level == BurdenTrend.Usual) is { } below ? $"{Words.Span(below.Time)}, {Words.Share(below.PercentOfValid / 100)}" : "–",
    };

    private static string Lowest(ShiftPatient patient) => patient.Recording?.Review is { } review ? Words.Saturation(review.Exposure.Minimum) : "–";

    private static string Joined(IReadOnlyList<string> sentences) => sentences.Count == 0 ? "–" : string.Join(' ', sentences);

    private static IEnumerable<Block> Method(List<RecordingSection> sections)
    {
        if (sections.Count == 0) yield break;
        var averaging = sections.GroupBy(s => $"by the monitor {s.Recording.SourceAveraging}, ours {Words.Averaging(s.Conditioning.Averaging)}").OrderByDescending(g => g.Count()).ToList();
        yield return new Block.Fine($"Averaging: {string.Join("; ", averaging.Select(g => averaging.Count == 1 ? g.Key : $"{g.Key} ({(g.Count() > 2 ? Words.Count(g.Count(), "recording") : string.Join(", ", g.Select(s => s.Recording.Name)))})"))}.");
        var read = sections.Where(s => s.SpO2 is not null).ToList();
        if (read.Count > 0)
        {
            var least = read.MinBy(s => s.SpO2!.Coverage)!;
            yield return new Block.Fine($"Coverage: valid SpO2 in {Words.Share(least.SpO2!.Coverage)} ({least.Recording.Name}) to {Words.Share(read.Max(s => s.SpO2!.Coverage))} of the time connected; shares below a level are of valid time. {BurdenTrend.Definition}");
        }

        List<string[]> definitions = [.. sections.Select(s => s.Review?.Definition).OfType<string>().Distinct().Select(Sentences)];
        if (definitions.Count == 0) yield break;
        bool IsShared(string sentence) => definitions.TrueForAll(d => d.Contains(sentence));
        yield return new Block.Fine($"Definitions: {string.Join(' ', definitions[0].Where(IsShared))}");
        if (definitions.SelectMany(d => d).Where(s => !IsShared(s)).Distinct().ToList() is { Count: > 0 } own) yield return new Block.Fine($"From recording to recording, as it applies: {string.Join(' ', own)}");
    }

    private static string[] Sentences(string text) => [.. text.Split(". ").Select(s => s.EndsWith('.') ? s : s + ".")];
}
