using Stillwatch.Alarms;
using Stillwatch.App.Pages;
using Stillwatch.Signals;
using Stillwatch.Storage.Recordings;
using Stillwatch.Time;

namespace Stillwatch.App.Workbench.Recordings;

/// <summary>What the library says of one recording, in words.</summary>
public static class RecordingLine
{
    public static string Category(StoredRecording recording) =>
        recording.Description.Category is not { } name ? "not known" : CategoryWords(name);

    /// <summary>A category's name in words: "paediatric:8mo" is "Child, 6–9 months (8 months)"; a name that is none stays as it is.</summary>
    public static string CategoryWords(string name)
    {
        if (!CategoryPresets.TryParse(name, out var preset)) return name;
        string age = name.StartsWith("paediatric:", StringComparison.Ordinal) ? name["paediatric:".Length..].Trim() : "";
        return age.Length == 0 ? preset!.Describes
            : age.EndsWith("mo", StringComparison.Ordinal) ? $"{preset!.Describes} ({age[..^2]} months)"
            : $"{preset!.Describes} ({age[..^1]} years)";
    }

    public static string Start(StoredRecording recording) => recording.Start switch
    {
        RecordingStart.Local l => $"{l.DateTime:yyyy-MM-dd HH:mm}",
        RecordingStart.Zoned z => $"{z.DateTime:yyyy-MM-dd HH:mm}",
        RecordingStart.TimeOfDay t => $"{t.Time:HH:mm}, no date",
        _ => "not known",
    };

    /// <summary>The kinds that are in it, those of no known meaning as a number.</summary>
    public static string Holds(StoredRecording recording)
    {
        var filled = recording.Channels.Where(c => c.Rows > 0).ToList();
        var known = filled.Where(c => c.Kind != ChannelKind.Other).Select(c => Say.Kind(c.Kind)).Distinct().ToList();
        int others = filled.Count(c => c.Kind == ChannelKind.Other);
        if (others > 0) known.Add(known.Count > 0 ? $"{others} more" : Say.Count(others, "channel of no known kind", "channels of no known kind"));
        return known.Count > 0 ? string.Join(", ", known) : "notes alone";
    }

    public static SourceAveraging Averaging(StoredRecording recording) =>
        recording.Description.SourceAveragingSeconds is { } seconds ? new SourceAveraging(Duration.FromSeconds(seconds)) : recording.SourceAveraging;

    public static int Doubts(StoredRecording recording) => recording.Issues.Count(i => i.Severity >= IssueSeverity.Doubt);

    public static string Oxygen(string? word) => word switch { "air" => "on air", "oxygen" => "on oxygen", _ => "not known" };
}
