using Stillwatch.Formats.Exports;
using Stillwatch.Rehearsal.Scenarios;
using Stillwatch.Replay;
using Stillwatch.Signals;

namespace Stillwatch.App.Jobs;

/// <summary>What is to be rehearsed, and where it goes.</summary>
/// <param name="Scenario">Which story.</param>
/// <param name="Seed">Of all chance.</param>
/// <param name="Minutes">Its first minutes; null: all.</param>
/// <param name="To">The recording.</param>
/// <param name="WithLight">Whether the sensor's light goes with it.</param>
/// <param name="Truth">The truth; null: not written.</param>
/// <param name="Replace">Whether files of these names may be replaced.</param>
internal sealed record RehearseRequest(RehearsalScenario Scenario, ulong Seed, decimal? Minutes, string To, bool WithLight, string? Truth, bool Replace);

/// <summary>A rehearsal lived through and written.</summary>
internal sealed record RehearseModel
{
    public required RehearseRequest Request { get; init; }

    public required RehearsalRun Run { get; init; }

    /// <summary>Of the category's starting settings on the numbers of the screen.</summary>
    public required IReadOnlyList<ReplayedSignal> Signals { get; init; }

    public required RehearsedFile Recording { get; init; }

    /// <summary>Null: the truth was not asked for.</summary>
    public required RehearsedFile? Truth { get; init; }
}

/// <summary>A file of a rehearsal.</summary>
/// <param name="To">As the user named it.</param>
/// <param name="Format">As a person would name it.</param>
/// <param name="Written">What is in it.</param>
/// <param name="File">Name, hash, length.</param>
/// <param name="Issues">What the format rounds or leaves out.</param>
internal sealed record RehearsedFile(string To, string Format, Recording Written, ExportedFile File, IReadOnlyList<ReadIssue> Issues)
{
    public string ManifestPath => To + ExportManifest.Suffix;
}
