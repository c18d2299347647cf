using Stillwatch.Reports.Model;
using Stillwatch.Reports.Wording;

namespace Stillwatch.Reports.Handover;

/// <summary>The shift summary: one patient on a page, or a ward as a list in the order in which it should be read.</summary>
internal static class ShiftPage
{
    public static List<Block> Compose(ShiftSummaryModel model)
    {
        var blocks = new List<Block>();
        if (model.Patients.Count == 0) blocks.Add(new Block.Lead("No patient was recorded in this shift."));
        else if (model.Patients.Count == 1) Patient(blocks, model.Patients[0], "p1", isAlone: true);
        else
        {
            blocks.Add(new Block.Lead($"{Words.Count(model.Patients.Count, "patient")}; {Words.Count(model.Patients.Sum(p => p.Recording?.MustCatch.Count ?? 0), "must-catch event")}; "
                + $"{Words.Count(model.Patients.Sum(p => p.Changed.Count), "change")} of settings; {Words.Count(model.Patients.Sum(p => p.Pending.Count), "thing")} pending."));
            for (int i = 0; i < model.Patients.Count; i++) Patient(blocks, model.Patients[i], $"p{i + 1}", isAlone: false);
        }

        blocks.Add(new Block.Heading("How these numbers were made"));
        Method(blocks, model);
        blocks.AddRange(HandoverWords.Origin(model.Provenance));
        return blocks;
    }

    private static void Patient(List<Block> blocks, ShiftPatient patient, string id, bool isAlone)
    {
        blocks.Add(new Block.Heading($"{patient.Patient}: {patient.About}"));
        if (patient.Recording is { } recording)
        {
            var report = new ReportModel { Title = "", Recordings = [recording], Provenance = new Provenance { Software = "", Inputs = [] } };
            string said = Answers.WhatHappened(report);
            blocks.Add(isAlone ? new Block.Lead(said) : new Block.Prose(said));
            if (isAlone)
            {
                blocks.Add(new Block.Tiles(RecordingNumbers.Tiles(recording)));
                blocks.Add(new Block.Drawn(Pictures.Overview(recording, $"{id}-overview"), ""));
            }
            else blocks.Add(new Block.Drawn(Pictures.NightStrip(recording, $"{id}-night"), "", 0.5));
        }
        else blocks.Add(new Block.Prose("Nothing was recorded in this shift."));

        if (isAlone && patient.Happened.Count > 0) blocks.Add(new Block.Name("Happened besides"));
        blocks.Add(new Block.Points(patient.Happened));
        if (patient.Changed.Count > 0)
        {
            if (isAlone) blocks.Add(new Block.Name("Changed"));
            blocks.Add(new Block.Grid(isAlone ? "" : "Changed", ["When", "What", "Why", "By"], [.. patient.Changed.Select(c => (IReadOnlyList<string>)[c.At, c.What, c.Why, c.By])], 4));
        }
        else if (isAlone) blocks.Add(new Block.Prose("No setting was changed."));
        if (patient.ChangedSince.Count > 0)
            blocks.Add(new Block.Grid("Changed since then", ["When", "What", "Why", "By"], [.. patient.ChangedSince.Select(c => (IReadOnlyList<string>)[c.At, c.What, c.Why, c.By])], 4));
        List("To watch", patient.Watch);
        List("Pending", patient.Pending);

        void List(string name, IReadOnlyList<string> items)
        {
            if (items.Count == 0)
            {
                if (isAlone) blocks.Add(new Block.Prose($"{name}: nothing was written down."));
                return;
            }

            if (isAlone) blocks.Add(new Block.Name(name));
            blocks.Add(new Block.Points(isAlone ? items : [.. items.Select(i => $"{name}: {i}")]));
        }
    }

    private static void Method(List<Block> blocks, ShiftSummaryModel model)
    {
        var sections = model.Patients.Select(p => p.Recording).OfType<RecordingSection>().ToList();
        if (sections.Count == 1)
        {
            blocks.AddRange(RecordingNumbers.Method(sections[0]));
            return;
        }

        if (sections.Count == 0) return;
        blocks.Add(new Block.Grid("Averaging and coverage", ["Recording", "By the monitor", "Ours", "Valid", "Coverage"],
            [.. sections.Select(s => (IReadOnlyList<string>)
            [
                s.Recording.Name, s.Recording.SourceAveraging.ToString(), Words.Averaging(s.Conditioning.Averaging),
                s.SpO2 is { } v ? Words.Span(v.Valid) : "no SpO2", s.SpO2 is { } c ? Words.Share(c.Coverage) : "–",
            ])], 3));
        foreach (string definition in sections.Select(s => s.Review?.Definition).OfType<string>().Distinct()) blocks.Add(new Block.Fine($"Definitions: {definition}"));
    }
}
