using Stillwatch.Alarms;
using Stillwatch.App.Files;
using Stillwatch.App.Workbench.Evidence;
using Stillwatch.App.Workbench.Library;
using Stillwatch.App.Workbench.ReportList;
using Stillwatch.App.Workbench.Review;
using Stillwatch.Reports;
using Stillwatch.Reports.Model;
using Stillwatch.Storage;
using Stillwatch.Storage.Reports;
using Stillwatch.Storage.Settings;

namespace Stillwatch.App.Workbench.Prepare;

/// <summary>Settings prepared for one patient.</summary>
/// <param name="Patient">What is known of the patient.</param>
/// <param name="Start">The category's settings bent to the prescription.</param>
/// <param name="Settings">As they stand after a person changed numbers.</param>
/// <param name="UnitDefault">What the unit starts from.</param>
/// <param name="Why">Why numbers were changed.</param>
/// <param name="AcceptedBy">Who takes responsibility; empty: nobody yet.</param>
/// <param name="Until">Until when what differs from the unit's default holds; null: no end is named.</param>
public sealed record Prepared(PatientForm Patient, StartingSettings Start, AlarmSettings Settings, KnownSettings UnitDefault, string Why, string AcceptedBy, DateOnly? Until)
{
    public IReadOnlyList<CardLine> Lines
    {
        get
        {
            var usual = CardLines.Of(UnitDefault.Set.Settings, Start.Numbers).ToDictionary(n => n.Label, n => n.Value);
            return CardLines.Card(Settings, Start.Numbers, UnitDefault.Set.Settings, number => number.Value == usual[number.Label]
                ? $"the unit's default, {UnitDefault.From}"
                : Why.Trim().Length > 0 ? $"changed here: {Why.Trim()}" : "changed here, no reason given");
        }
    }

    /// <summary>Where a person begins: the unit's own default where one is written down, with what prescription and oxygen change; else the category's settings.</summary>
    public static AlarmSettings Beginning(StartingSettings start, CategoryPreset preset, KnownSettings unitDefault)
    {
        var bent = start.Numbers.ToSettings();
        if (!unitDefault.IsWrittenDown) return bent;
        var own = unitDefault.Set.Settings;
        var low = start.Numbers.SpO2LowLimit == preset.SpO2LowLimit ? own.SpO2Low : (own.SpO2Low ?? bent.SpO2Low!) with { Limit = start.Numbers.SpO2LowLimit.Value };
        var backstop = low is not null && own.Backstop is { } usual && usual.Limit >= low.Limit ? bent.Backstop : own.Backstop;
        var high = start.Numbers.SpO2HighLimit == preset.SpO2HighLimit ? own.SpO2High : start.Numbers.SpO2HighLimit is null ? null : (own.SpO2High ?? bent.SpO2High!) with { Limit = start.Numbers.SpO2HighLimit.Value };
        return own with { SpO2Low = low, Backstop = backstop, SpO2High = high };
    }
}

/// <summary>Prints and writes down what was prepared. Applies nothing.</summary>
internal sealed class PrepareDesk(IWorkbenchStore store, ReportKeeper keeper, SettingsFinder finder, TimeProvider clock)
{
    /// <summary>What is missing before it can be written down for a patient; empty: nothing.</summary>
    public static IReadOnlyList<string> Missing(Prepared prepared, DateOnly today)
    {
        var missing = new List<string>();
        if (prepared.Patient.Patient.Trim().Length == 0) missing.Add("Which patient is not named. Give a pseudonym, never a name.");
        if (prepared.AcceptedBy.Trim().Length == 0) missing.Add("Who accepts it is not named. Give a name or initials that the unit knows.");
        bool differs = prepared.Lines.Any(l => l.UnitDefault is not null);
        if (differs && prepared.Why.Trim().Length == 0) missing.Add("Something differs from the unit's default, and why is not said. One sentence is enough.");
        if (differs && prepared.Until is null) missing.Add("Something differs from the unit's default, and until when is not named. A deviation without an end is forgotten.");
        if (prepared.Until < today) missing.Add($"It would have ended before it began: until {prepared.Until:yyyy-MM-dd}, and today is {today:yyyy-MM-dd}.");
        return missing;
    }

    /// <exception cref="StoreException">It cannot be kept.</exception>
    public async Task<(SettingsEntry Entry, StoredReport Card)> KeepAsync(Prepared prepared, CancellationToken cancellation)
    {
        string category = prepared.Start.Numbers.Name, patient = prepared.Patient.Patient.Trim();
        bool isInvented = await finder.IsInventedAsync(prepared.Patient.Unit, patient, cancellation);
        var entry = await store.Settings.AddAsync(
            new NewSettingsEntry
            {
                Scope = SettingsScope.Patient,
                Category = category,
                Unit = UnitOf(prepared),
                Patient = patient,
                Name = $"prepared for {patient}",
                SettingsJson = SettingsForm.JsonOf(new NamedSettings($"prepared for {patient}", category, prepared.Settings)),
                Why = prepared.Why.Trim().Length > 0 ? prepared.Why.Trim() : "as the unit's default",
                AcceptedBy = prepared.AcceptedBy.Trim(),
                ValidUntil = prepared.Until is { } day ? EndOf(day) : null,
                EvidenceJson = isInvented ? new DecisionGrounds(IsInvented: true, []).ToJson() : null,
            },
            Actor.Local, cancellation);
        return (entry, await CardAsync(prepared, entry, cancellation));
    }

    /// <summary>The card as PDF, kept; without an entry it says that nobody has decided yet.</summary>
    /// <exception cref="StoreException">It cannot be kept.</exception>
    public Task<StoredReport> CardAsync(Prepared prepared, SettingsEntry? entry, CancellationToken cancellation) => keeper.KeepPdfAsync(
        "settings card",
        HandoverPages.SettingsCard(new SettingsCardModel
        {
            For = prepared.Patient.Patient.Trim() is { Length: > 0 } patient ? patient : prepared.Start.Numbers.Describes,
            About = prepared.Patient.Words,
            IsStart = entry is null,
            Lines = [.. prepared.Lines.Select(l => l with { Reason = PreparedReason.Of(l, prepared.UnitDefault) })],
            Averaging = $"the monitor's own is not known here; ours {(prepared.Settings.SpO2Conditioning.Averaging > Time.Duration.Zero ? Pages.Say.Seconds(prepared.Settings.SpO2Conditioning.Averaging) : "none")}",
            DecidedBy = entry?.Content.AcceptedBy,
            DecidedOn = entry is null ? null : $"{entry.At.ToLocalTime():yyyy-MM-dd}",
            DeviationEnds = prepared.Until?.ToString("yyyy-MM-dd"),
            IsInvented = prepared.UnitDefault.IsInvented || (entry is not null && DecisionGrounds.Of(entry).IsInvented),
            Remarks = [.. prepared.Start.Cautions, .. prepared.UnitDefault.IsWrittenDown ? [$"The unit’s default: {prepared.UnitDefault.From}."] : Array.Empty<string>(), "The prescription, local policy and licensed clinicians decide. Nothing was set on any monitor by printing this."],
            Provenance = keeper.Origin([]),
        }),
        cancellation);

    private static string? UnitOf(Prepared prepared) => prepared.Patient.Unit.Trim() is { Length: > 0 } unit ? unit : null;

    private DateTimeOffset EndOf(DateOnly day)
    {
        var end = day.ToDateTime(TimeOnly.MaxValue);
        return new DateTimeOffset(end, clock.LocalTimeZone.GetUtcOffset(end));
    }
}
