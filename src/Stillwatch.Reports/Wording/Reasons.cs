using System.Text.RegularExpressions;
using Stillwatch.Tuning.Proposals;

namespace Stillwatch.Reports.Wording;

/// <summary>The reasons of a proposal or a refusal without the names of the rules, in full and in short.</summary>
internal static partial class Reasons
{
    /// <summary>The ten lines of rule R14 as the questions they answer.</summary>
    public static readonly IReadOnlyList<string> Checks =
    [
        "Are there enough events to trust “none missed”?",
        "Were events cut short by staff who answered alarms?",
        "What did reviewers’ marks change?",
        "Could time without valid values hide an event?",
        "Do the settings lie inside the unit’s bounds?",
        "Do they hold on patients they were not chosen from?",
        "Are only like patients put together?",
        "Is there more than one patient?",
        "Are technical signals spared too?",
        "Has anybody looked at the silent stretches?",
    ];

    private static readonly string[] ShortRefusals =
    [
        "too few must-catch events, or too few patients with them, to be sure that none would be missed",
        "staff may have cut events short",
        "reviewers’ marks do not agree",
        "time without valid values may hide events",
        "no settings inside the unit’s bounds stand up",
        "not proven on patients it was not chosen from",
        "it is not known that these patients are alike",
        "one patient only",
        "technical signals would rise",
        "nobody has looked at the silent stretches",
    ];

    /// <summary>A reason or remark as a sentence, without the name of its rule.</summary>
    public static string Plain(string words)
    {
        string text = RuleName().Replace(words.Trim(), "");
        if (text.Length == 0) return "";
        text = char.ToUpperInvariant(text[0]) + text[1..];
        return text.EndsWith('.') ? text : text + ".";
    }

    /// <summary>Why a proposal was refused, a few words a rule; reasons without a known rule stand in full.</summary>
    public static string Short(Proposal proposal)
    {
        var reasons = new List<string>();
        foreach (string refusal in proposal.RefusedBecause)
        {
            var match = RuleName().Match(refusal);
            int line = match.Success && int.TryParse(match.Groups[1].ValueSpan, out int number) ? number : 0;
            bool misses = line == 1 && proposal.Best is { } best && (best.Missed > 0 || best.Late > 0);
            string reason = misses ? "must-catch events would be missed or late"
                : line >= 1 && line <= ShortRefusals.Length ? ShortRefusals[line - 1]
                : Plain(refusal).TrimEnd('.');
            if (!reasons.Contains(reason)) reasons.Add(reason);
        }

        return Plain(string.Join("; ", reasons));
    }

    [GeneratedRegex(@"^R14\.(\d{1,2}):\s*")]
    private static partial Regex RuleName();
}
