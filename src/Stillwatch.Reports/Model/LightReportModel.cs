using Stillwatch.Oximetry;
using Stillwatch.Signals;

namespace Stillwatch.Reports.Model;

/// <summary>Everything that a page about derived numbers says.</summary>
public sealed record LightReportModel
{
    public required string Title { get; init; }

    /// <summary>True for rehearsal data: a banner says so.</summary>
    public bool IsInvented { get; init; }

    public required LightSection Light { get; init; }

    /// <summary>What the numbers are not, a sentence each.</summary>
    public required IReadOnlyList<string> Cautions { get; init; }

    public required Provenance Provenance { get; init; }
}

/// <summary>A recording's light and what was derived from it.</summary>
public sealed record LightSection
{
    /// <summary>With the light: its samples are drawn as they are.</summary>
    public required Recording Recording { get; init; }

    public required DerivedRecording Derived { get; init; }

    public required DerivedSummary Summary { get; init; }

    /// <summary>Name of the beat detector as commands have it.</summary>
    public required string Detector { get; init; }

    /// <summary>What the reader met.</summary>
    public IReadOnlyList<ReadIssue> Issues { get; init; } = [];

    /// <summary>The channel that pulses were found in; null where the recording does not hold it.</summary>
    internal Channel? Pulse => Recording.Channels.FirstOrDefault(c => c.Label == Derived.Plan.PulseLabel);

    /// <summary>The red channel; null where there is none.</summary>
    internal Channel? Red => Derived.Plan.RedLabel is { } red ? Recording.Channels.FirstOrDefault(c => c.Label == red) : null;
}
