using Stillwatch.Oxygenation;
using Stillwatch.Reports.Model;
using Stillwatch.Reports.Wording;

namespace Stillwatch.Reports.Handover;

/// <summary>The shift summary: one patient on a page with the picture of the night, or a ward.</summary>
internal static class ShiftPage
{
    public static List<Block> Compose(ShiftSummaryModel model)
    {
        var blocks = new List<Block>();
        List<ShiftPatient> patients = [.. model.Patients.Where(p => !p.IsWholeUnit)];
        if (patients.Count > 1) blocks.AddRange(WardShiftPage.Compose(model));
        else
        {
            if (patients is [var only]) Patient(blocks, only);
            else blocks.Add(new Block.Lead("No patient was recorded in this shift."));
            foreach (var unit in model.Patients.Where(p => p.IsWholeUnit)) Unit(blocks, unit);
            if (patients is [{ } shown]) Method(blocks, shown);
        }

        blocks.AddRange(HandoverWords.Origin(model.Provenance));
        return blocks;
    }

    private static void Patient(List<Block> blocks, ShiftPatient patient)
    {
        blocks.Add(new Block.Heading($"{patient.Patient}: {ShiftWords.About(patient)}"));
        if (patient.Recording is { } recording)
        {
            blocks.Add(new Block.Lead(Answers.WhatHappened(new ReportModel { Title = "", Recordings = [recording], Provenance = new Provenance { Software = "", Inputs = [] } })));
            blocks.Add(new Block.Tiles(RecordingNumbers.Tiles(recording)));
            blocks.Add(new Block.Drawn(Pictures.Overview(recording, "overview"), ""));
        }
        else blocks.Add(new Block.Prose("Nothing was recorded in this shift."));

        if (ShiftWords.Happened(patient) is { Count: > 0 } happened)
        {
            blocks.Add(new Block.Name("Happened besides"));
            blocks.Add(new Block.Points(happened));
        }

        if (patient.Changed.Count > 0)
        {
            blocks.Add(new Block.Name("Changed"));
            blocks.Add(Changes("", patient.Changed));
        }
        else blocks.Add(new Block.Prose("No setting was changed."));
        if (patient.ChangedSince.Count > 0) blocks.Add(Changes("Changed since then", patient.ChangedSince));
        List("To watch", ShiftWords.Watch(patient));
        List("Pending", patient.Pending);

        void List(string name, IReadOnlyList<string> items)
        {
            if (items.Count == 0)
            {
                blocks.Add(new Block.Prose($"{name}: nothing was written down."));
                return;
            }

            blocks.Add(new Block.Name(name));
            blocks.Add(new Block.Points(items));
        }
    }

    /// <summary>The unit itself, beside its one patient.</summary>
    private static void Unit(List<Block> blocks, ShiftPatient unit)
    {
        blocks.Add(new Block.Heading($"{unit.Patient}: {ShiftWords.About(unit)}"));
        if (unit.Changed.Count > 0) blocks.Add(Changes("Changed", unit.Changed));
        if (unit.ChangedSince.Count > 0) blocks.Add(Changes("Changed since then", unit.ChangedSince));
        blocks.Add(new Block.Points([.. unit.Happened, .. unit.Watch, .. unit.Pending]));
    }

    private static void Method(List<Block> blocks, ShiftPatient patient)
    {
        blocks.Add(new Block.Heading("How these numbers were made"));
        if (patient.Recording is { } section) blocks.AddRange(RecordingNumbers.Method(section));
        if (ShiftWords.Burden(patient) is not null) blocks.Add(new Block.Fine(BurdenTrend.Definition));
    }

    private static Block.Grid Changes(string caption, IReadOnlyList<ShiftChange> changes) =>
        new(caption, ["When", "What", "Why", "By"], [.. changes.Select(c => (IReadOnlyList<string>)[c.At, c.What, c.Why, c.By])], 4);
}
