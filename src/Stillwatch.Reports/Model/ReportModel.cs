namespace Stillwatch.Reports.Model;

/// <summary>
/// Everything a report says, gathered before a line of it is written: one recording or a whole ward. The report computes
/// nothing clinical of its own; it draws, tabulates and puts into sentences what stands here.
/// </summary>
public sealed record ReportModel
{
    /// <summary>What was looked at, as the page's heading: "Bed 4, night of 3 November" or "Ward recordings, 12 patients".</summary>
    public required string Title { get; init; }

    /// <summary>True for demo and rehearsal data: a banner then says on every page that they are invented.</summary>
    public bool IsInvented { get; init; }

    /// <summary>The recordings looked back over, in the order to show. May be empty when nothing could be read.</summary>
    public required IReadOnlyList<RecordingSection> Recordings { get; init; }

    /// <summary>The evidence about settings, one section per group of like patients (rule R14.7). Empty: settings were not asked about.</summary>
    public IReadOnlyList<SettingsSection> Settings { get; init; } = [];

    /// <summary>Who causes how much of the alarm load; null for a single recording.</summary>
    public WardSection? Ward { get; init; }

    public required Provenance Provenance { get; init; }
}

/// <summary>Where a report comes from, so that another person can make it again.</summary>
public sealed record Provenance
{
    /// <summary>Program and version: "Stillwatch 0.1.0".</summary>
    public required string Software { get; init; }

    public required IReadOnlyList<InputFile> Inputs { get; init; }

    /// <summary>The command as typed; null: not printed.</summary>
    public string? Command { get; init; }

    /// <summary>When the report was made, as it should be printed; null: not printed, so that the same input gives the same bytes.</summary>
    public string? MadeAt { get; init; }

    /// <summary>Further choices in force, one line each ("Review marks: marks.csv, 14 events").</summary>
    public IReadOnlyList<string> Notes { get; init; } = [];
}

/// <summary>A file that was read.</summary>
/// <param name="Name">Its name without folders.</param>
/// <param name="Sha256">Hash of its bytes, lower-case hexadecimal; null: not computed.</param>
/// <param name="Bytes">Its length; null: not known.</param>
/// <param name="Role">What it was read as: "recording", "present settings", "review marks", "must-catch definition".</param>
public sealed record InputFile(string Name, string? Sha256, long? Bytes = null, string Role = "recording");
