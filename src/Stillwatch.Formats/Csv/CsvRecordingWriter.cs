using System.Text;
using Stillwatch.Signals;

namespace Stillwatch.Formats.Csv;

/// <summary>Tables of separated text, as one of the writers. What a table cannot say stands in the manifest beside it, by which it reads back whole.</summary>
public sealed class CsvRecordingWriter : IRecordingWriter
{
    public string Format => "separated text (CSV)";

    public string Extension => ".csv";

    public IReadOnlyList<ReadIssue> Write(Recording recording, Stream to)
    {
        using (var writer = new StreamWriter(to, new UTF8Encoding(encoderShouldEmitUTF8Identifier: false), 1 << 16, leaveOpen: true) { NewLine = "\n" }) CsvWriter.Write(recording, writer);
        var issues = new IssueLog();
        const string inManifest = "they stand in the manifest beside the table; without it, it is read as any table";
        if (recording.Annotations.Count > 0)
            issues.Note(CsvIssueCodes.TableAnnotations, "", "annotations", $"{recording.Annotations.Count} annotations", "a place for them in the table", inManifest, recording.Annotations.Count);
        var plan = CsvTablePlan.Of(recording);
        for (int c = 0; c < plan.HoldsCounts.Count; c++)
        {
            if (plan.HoldsCounts[c])
                issues.Note(CsvIssueCodes.TableCounts, recording.Channels[c].Label, $"column {IssueLog.Show(recording.Channels[c].Label)}", "counts that values in the unit would not lead back to", "values in the unit", "the cells hold the counts; their calibration stands in the manifest");
        }

        if (recording.Start.IsKnown && !plan.Start.IsKnown)
            issues.Note(CsvIssueCodes.TableElapsed, "", "column time", $"a start of {recording.Start} with rows too far apart or beyond the calendar", "times that a clock can tell", "elapsed seconds; the start stands in the manifest");
        return issues.ToList();
    }
}
