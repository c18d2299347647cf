using Stillwatch.App.Files;
using Stillwatch.Tuning.Proposals;

namespace Stillwatch.App.Workbench.Library;

/// <summary>Settings with where they were learnt from.</summary>
/// <param name="Set">The whole set.</param>
/// <param name="From">Where it comes from, in words.</param>
/// <param name="Doubt">What speaks against taking it for all; null: nothing.</param>
public sealed record KnownSettings(NamedSettings Set, string From, string? Doubt = null)
{
    /// <summary>Whether somebody wrote it down; false: it is the category's starting settings.</summary>
    public bool IsWrittenDown { get; init; } = true;

    /// <summary>Whether they were decided on invented data; then they are for no real patient.</summary>
    public bool IsInvented { get; init; }

    /// <summary>What it says of low SpO2; null: its low limit is off.</summary>
    public CandidateSettings? Low => Set.Settings.ForSpO2Low();
}
