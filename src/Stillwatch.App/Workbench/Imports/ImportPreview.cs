using Stillwatch.App.Files;
using Stillwatch.App.Jobs;
using Stillwatch.Formats.Csv;
using Stillwatch.Formats.Labels;
using Stillwatch.Signals;
using Stillwatch.Storage.Recordings;
using Stillwatch.Time;

namespace Stillwatch.App.Workbench.Imports;

/// <summary>What a person has to look at before a file is stored.</summary>
public enum ImportQuestion
{
    /// <summary>Several columns are SpO2, and the first that holds numbers was taken.</summary>
    WhichSpO2,

    /// <summary>No column was recognised as SpO2.</summary>
    IsThereSpO2,

    /// <summary>Day and month of the dates can be exchanged.</summary>
    WhichDateOrder,
}

/// <summary>A channel as it would be stored, in figures; it holds no samples.</summary>
public sealed record ChannelPreview(string Label, ChannelKind Kind, string Unit, long Rows, long Present, double? RateHz, Duration Period, bool IsEven, double? Least, double? Greatest, double? Mean)
{
    public static ChannelPreview Of(ChannelFacts facts)
    {
        var times = facts.Channel.Times;
        return new ChannelPreview(facts.Channel.Label, facts.Channel.Kind, facts.Channel.Unit, facts.Samples, facts.Present, facts.RateHz, times.Period, times.IsEven, facts.Minimum, facts.Maximum, facts.Mean);
    }
}

/// <summary>What is in a file that was read to be stored; it holds no samples, so that many can be looked at.</summary>
public sealed record ImportPreview
{
    public required RecordingId Id { get; init; }

    public required string Name { get; init; }

    public required long Bytes { get; init; }

    /// <summary>Files that were read with it.</summary>
    public required IReadOnlyList<string> Parts { get; init; }

    public required string Format { get; init; }

    public required RecordingStart Start { get; init; }

    public required Duration Length { get; init; }

    public required IReadOnlyList<ChannelPreview> Channels { get; init; }

    public required IReadOnlyList<ReadIssue> Issues { get; init; }

    public required IReadOnlyList<ImportQuestion> Questions { get; init; }

    /// <summary>What ward.json and the file itself say; nothing is guessed.</summary>
    public required RecordingDescription Known { get; init; }

    public required bool IsInvented { get; init; }

    /// <summary>Name of the alarm log that ward.json gives it; null: none.</summary>
    public required string? AlarmLog { get; init; }

    /// <summary>The column that rules would judge; null: none.</summary>
    public ChannelPreview? SpO2 => Channels.FirstOrDefault(c => c.Kind == ChannelKind.SpO2);

    public static ImportPreview Of(LoadedRecording loaded, bool spO2WasNamed)
    {
        var inspected = InspectModel.Of([loaded], []).Recordings[0];
        return new ImportPreview
        {
            Id = RecordingId.OfIdentity(loaded.File.Identity),
            Name = loaded.File.Name,
            Bytes = loaded.File.Bytes + loaded.File.Parts.Sum(p => p.Bytes),
            Parts = [.. loaded.File.Parts.Select(p => p.Name)],
            Format = loaded.Format,
            Start = loaded.Recording.Start,
            Length = inspected.Length,
            Channels = [.. inspected.Channels.Select(ChannelPreview.Of)],
            Issues = loaded.Issues,
            Questions = [.. QuestionsOf(loaded, spO2WasNamed)],
            Known = KnownOf(loaded),
            IsInvented = loaded.IsInvented,
            AlarmLog = loaded.AlarmLog is { } log ? Path.GetFileName(log.Path) : null,
        };
    }

    private static IEnumerable<ImportQuestion> QuestionsOf(LoadedRecording loaded, bool spO2WasNamed)
    {
        int columns = loaded.Recording.Channels.Count(c => c.Kind == ChannelKind.SpO2);
        if (columns > 1 && !spO2WasNamed) yield return ImportQuestion.WhichSpO2;
        if (columns == 0 && loaded.Issues.Any(i => i.Code == ChannelIssueCodes.ChannelNoSpO2)) yield return ImportQuestion.IsThereSpO2;
        if (loaded.Issues.Any(i => i is { Code: CsvIssueCodes.TimeDateOrder, Severity: IssueSeverity.Doubt })) yield return ImportQuestion.WhichDateOrder;
    }

    private static RecordingDescription KnownOf(LoadedRecording loaded) => RecordingDescription.Nothing with
    {
        Patient = loaded.IsInManifest ? loaded.Patient : null,
        Category = loaded.Category.IsAssumed ? null : loaded.Category.Name,
        Oxygen = loaded.Oxygen == Tuning.Proposals.OxygenStatus.Unknown ? null : WardManifest.NameOf(loaded.Oxygen),
        SourceAveragingSeconds = loaded.Recording.SourceAveraging.Window is { } window ? window.Milliseconds / 1000m : null,
    };
}
