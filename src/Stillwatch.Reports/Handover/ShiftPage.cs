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
        if (model.Patients.Count == 0) blocks.Add(new Block.Lead("No patient was recorded in this shift."));
        else if (model.Patients.Count == 1) Patient(blocks, model.Patients[0]);
        else blocks.AddRange(WardShiftPage.Compose(model));
        blocks.AddRange(HandoverWords.Origin(model.Provenance));
        return blocks;
    }

    private static void Patient(List<Block> blocks, ShiftPatient patient)
    {
        blocks.Add(new Block.Heading($"{patient.Patient}: {patient.About}{(patient.IsWholeUnit ? "" : patient.Prescribed is { } range ? $"; prescribed {range}" : "; no prescribed range known")}"));
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
        blocks.Add(new Block.Heading("How these numbers were made"));
        if (patient.Recording is { } section) blocks.AddRange(RecordingNumbers.Method(section));
        if (ShiftWords.Burden(patient) is not null) blocks.Add(new Block.Fine(BurdenTrend.Definition));

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

    private static Block.Grid Changes(string caption, IReadOnlyList<ShiftChange> changes) =>
        new(caption, ["When", "What", "Why", "By"], [.. changes.Select(c => (IReadOnlyList<string>)[c.At, c.What, c.Why, c.By])], 4);
}
