using Stillwatch.Quantities;
using Stillwatch.Time;
using Stillwatch.Tuning.Proposals;

namespace Stillwatch.App.Workbench.Evidence;

/// <summary>Settings that somebody is trying out.</summary>
public sealed class Candidate(string letter, CandidateDraft draft)
{
    public string Letter { get; } = letter;

    /// <summary>As the controls stand now.</summary>
    public CandidateDraft Draft { get; set; } = draft;

    /// <summary>The last answer; while a control moves it is of a moment ago.</summary>
    public Asked? Asked { get; set; }

    public string Note(Proposal proposal)
    {
        if (Asked?.Settings != proposal.Best?.Settings) return "being tried out";
        return proposal.IsRefused ? "the best that was looked at; refused as a proposal" : "the proposal";
    }
}

/// <summary>A column of the table: settings and what the recordings say of them.</summary>
public sealed record CandidateColumn(string Title, string Note, Asked Asked, bool IsActive = false);

/// <summary>A cell of the map that was picked.</summary>
public readonly record struct MapPick(Percent Limit, decimal DelaySeconds, decimal Area, Duration Averaging);
