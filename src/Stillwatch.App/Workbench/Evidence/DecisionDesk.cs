using Stillwatch.Alarms;
using Stillwatch.App.Files;
using Stillwatch.App.Jobs;
using Stillwatch.App.Json;
using Stillwatch.App.Pages;
using Stillwatch.App.Workbench.Library;
using Stillwatch.App.Workbench.Prepare;
using Stillwatch.App.Workbench.ReportList;
using Stillwatch.App.Workbench.Review;
using Stillwatch.Reports;
using Stillwatch.Reports.Model;
using Stillwatch.Storage;
using Stillwatch.Storage.Reports;
using Stillwatch.Storage.Settings;
using Stillwatch.Tuning.Proposals;

namespace Stillwatch.App.Workbench.Evidence;

/// <summary>A decision as it was typed.</summary>
/// <param name="Asked">The settings decided on, with their evidence.</param>
/// <param name="Name">What they are called beside the present and the proposed ones; null: they are the proposed ones.</param>
/// <param name="Patient">For one patient; null: for all of the category on the unit.</param>
/// <param name="AcceptedBy">Who takes responsibility on the ward.</param>
/// <param name="Until">The last day on which it holds; null: no end is named.</param>
/// <param name="Why">In their own words.</param>
public sealed record DecisionAsTyped(Asked Asked, string? Name, string? Patient, string AcceptedBy, DateOnly? Until, string Why);

/// <summary>What was written down.</summary>
public sealed record DecisionKept(SettingsEntry Entry, StoredReport Report, StoredReport ReportAsHtml, StoredReport Card);

/// <summary>Writes down what a person decided, with the evidence that stood beside it, and makes the pages for it. Applies nothing.</summary>
internal sealed class DecisionDesk(IWorkbenchStore store, ReportKeeper keeper, SettingsFinder finder, TimeProvider clock)
{
    /// <summary>What is missing before it can be written down, in words; empty: nothing.</summary>
    public static IReadOnlyList<string> Missing(DecisionAsTyped typed, DateOnly today)
    {
        var missing = new List<string>();
        if (typed.Asked.Evidence is null) missing.Add("These settings cannot be: " + string.Join(" ", typed.Asked.Problems));
        if (string.IsNullOrWhiteSpace(typed.AcceptedBy)) missing.Add("Who accepts it is not named. Give a name or initials that the unit knows.");
        if (string.IsNullOrWhiteSpace(typed.Why)) missing.Add("Why is not said. One sentence is enough.");
        if (typed.Patient is not null && typed.Patient.Trim().Length == 0) missing.Add("Which patient is not named. Give the pseudonym.");
        if (typed.Until < today) missing.Add($"It would have ended before it began: until {typed.Until:yyyy-MM-dd}, and today is {today:yyyy-MM-dd}.");
        return missing;
    }

    /// <summary>Keeps it with its pages; the group at hand has the new default of the unit afterwards.</summary>
    /// <exception cref="StoreException">It cannot be kept.</exception>
    public async Task<DecisionKept> KeepAsync(GroupAtHand group, DecisionAsTyped typed, CancellationToken cancellation)
    {
        var settings = Whole(group, typed.Asked.Settings);
        var until = typed.Until is { } day ? new DateTimeOffset(day.ToDateTime(TimeOnly.MaxValue), clock.LocalTimeZone.GetUtcOffset(day.ToDateTime(TimeOnly.MaxValue))) : (DateTimeOffset?)null;
        var entry = await store.Settings.AddAsync(
            new NewSettingsEntry
            {
                Scope = typed.Patient is null ? SettingsScope.UnitDefault : SettingsScope.Patient,
                Category = group.Group.Category.Name,
                Unit = group.Unit,
                Patient = typed.Patient?.Trim(),
                Name = typed.Name ?? "the proposal",
                SettingsJson = SettingsForm.JsonOf(new NamedSettings(typed.Name ?? "the proposal", group.Group.Category.Name, settings)),
                Why = typed.Why.Trim(),
                AcceptedBy = typed.AcceptedBy.Trim(),
                ValidUntil = until,
                EvidenceJson = EvidenceOf(group, typed),
            },
            Actor.Local, cancellation);
        var decision = Decision(group, typed, entry);
        var kept = new DecisionKept(
            entry,
            await keeper.KeepPdfAsync("decision", HandoverPages.Decision(decision), cancellation),
            await keeper.KeepHtmlAsync("decision", HandoverPages.Decision(decision), cancellation),
            await keeper.KeepPdfAsync("settings card", HandoverPages.SettingsCard(Card(group, typed, settings, entry)), cancellation));
        group.Standard.Now = await finder.DefaultAsync(group.Group.Category, group.Unit, group.IsInvented, cancellation);
        return kept;
    }

    /// <summary>The whole settings set: the present one, else the unit's default, with what was decided about low SpO2.</summary>
    public static AlarmSettings Whole(GroupAtHand group, CandidateSettings decided)
    {
        var basis = (group.Present ?? group.UnitDefault).Set.Settings;
        return basis with { SpO2Low = decided.SpO2Low, Backstop = decided.Backstop, SpO2Conditioning = basis.SpO2Conditioning with { Averaging = decided.Averaging } };
    }

    private DecisionModel Decision(GroupAtHand group, DecisionAsTyped typed, SettingsEntry entry) => new()
    {
        Title = $"Settings for low SpO2: {group.Group.Category.Words}",
        Scope = ScopeOf(group, typed),
        Decided = typed.Asked.Evidence,
        DecidedName = typed.Name,
        OfDecided = DecidedJob.Run(group.Group, typed.Asked.Settings).Findings,
        Evidence = ReportJob.SettingsOf(group.Group, []),
        Why = typed.Why.Trim(),
        AcceptedBy = entry.Content.AcceptedBy,
        AcceptedOn = $"{entry.At.ToLocalTime():yyyy-MM-dd HH:mm}",
        Until = typed.Until?.ToString("yyyy-MM-dd"),
        IsInvented = group.IsInvented,
        Provenance = keeper.Origin(group.Group.Recordings.Select(r => r.Loaded), $"Entry {entry.Number} of the settings’ history, written down by {entry.By}"),
    };

    /// <summary>The card; what differs is told from the default of before the decision, which is that of the group at hand.</summary>
    internal SettingsCardModel Card(GroupAtHand group, DecisionAsTyped typed, AlarmSettings settings, SettingsEntry entry) => new()
    {
        For = typed.Patient?.Trim() ?? group.Group.Category.Preset.Describes,
        About = ScopeOf(group, typed),
        IsStart = false,
        Lines = CardLines.Card(settings, group.Group.Category.Preset, group.UnitDefault.Set.Settings, _ => $"decided on evidence, {entry.At.ToLocalTime():yyyy-MM-dd}: {typed.Why.Trim()}"),
        Averaging = $"by the monitor {group.Group.Recordings[0].Loaded.Recording.SourceAveraging}; ours {(typed.Asked.Settings.Averaging > Time.Duration.Zero ? Say.Seconds(typed.Asked.Settings.Averaging) : "none")}",
        DecidedBy = entry.Content.AcceptedBy,
        DecidedOn = $"{entry.At.ToLocalTime():yyyy-MM-dd}",
        Against = DecisionGrounds.Of(typed.Asked.Evidence!, group.Proposal, group.IsInvented, group.Group.Category.IsAssumed).Against,
        DeviationEnds = typed.Until?.ToString("yyyy-MM-dd"),
        Remarks = ["A card, not an order: the prescription, local policy and licensed clinicians decide. Nothing was set on any monitor by writing it."],
        IsInvented = group.IsInvented,
        Provenance = keeper.Origin(group.Group.Recordings.Select(r => r.Loaded)),
    };

    private static string ScopeOf(GroupAtHand group, DecisionAsTyped typed)
    {
        string unit = group.Unit is { } name ? $" of {name}" : "";
        return typed.Patient is { } patient ? $"Patient {patient.Trim()}{unit} ({group.Group.Category.Name})" : $"All patients of the category {group.Group.Category.Name}{unit}";
    }

    /// <summary>The numbers that stood beside the decision, and the recordings they are of.</summary>
    private static string EvidenceOf(GroupAtHand group, DecisionAsTyped typed)
    {
        using var text = new StringWriter { NewLine = "\n" };
        JsonPage.Write(text, json =>
        {
            json.WriteString("software", ExportFiles.Software);
            DecisionGrounds.Of(typed.Asked.Evidence!, group.Proposal, group.IsInvented, group.Group.Category.IsAssumed).Write(json);
            json.WriteString("group", group.Group.Key.ToString());
            json.WriteNumber("patients", group.Group.Patients);
            TuneJson.Candidate(json, "decided", typed.Asked.Evidence, group.Group.Patients);
            TuneJson.Candidate(json, "present", group.Proposal.Present, group.Group.Patients);
            TuneJson.Candidate(json, "best", group.Proposal.Best, group.Group.Patients);
            json.Texts("proposalRefusedBecause", group.Proposal.RefusedBecause);
            json.Texts("caveats", group.Proposal.Caveats);
            json.WriteString("method", group.Proposal.Method);
            json.List("recordings", group.Group.Recordings, r => json.Object(() => json.Source(r.Loaded)));
        });
        return text.ToString();
    }
}
