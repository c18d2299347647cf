using Stillwatch.Rehearsal.Scenarios;
using Stillwatch.Replay;

namespace Stillwatch.Reports.Model;

/// <summary>Everything that the teaching page of a rehearsal says. All of it is invented.</summary>
public sealed record RehearsalReportModel
{
    public required RehearsalRun Run { get; init; }

    /// <summary>Of the category's starting settings, replayed on the numbers of the invented monitor.</summary>
    public required IReadOnlyList<ReplayedSignal> Signals { get; init; }

    public required Provenance Provenance { get; init; }
}
