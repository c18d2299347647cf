using Stillwatch.Alarms;
using Stillwatch.App.Commands;
using Stillwatch.App.Files;
using Stillwatch.App.Jobs;
using Stillwatch.App.Pages;
using Stillwatch.App.Workbench.Evidence;
using Stillwatch.App.Workbench.Library;
using Stillwatch.App.Workbench.ReportList;
using Stillwatch.Reports.Model;
using Stillwatch.Reports.Wording;
using Stillwatch.Storage;
using Stillwatch.Storage.Recordings;
using Stillwatch.Storage.Settings;
using Stillwatch.Time;
using Stillwatch.Tuning.MustCatch;

namespace Stillwatch.App.Workbench.Summary;

/// <summary>A shift to be summed up: recordings that began between a noon and the next, or those of which no date is known.</summary>
/// <param name="Words">"night of 2026-03-02".</param>
/// <param name="Recordings">Its recordings.</param>
/// <param name="End">The noon at which it ends, on the recordings' own clocks; null: no date is known.</param>
public sealed record Shift(string Words, IReadOnlyList<StoredRecording> Recordings, DateTime? End)
{
    /// <summary>The newest first.</summary>
    public static IReadOnlyList<Shift> Of(IReadOnlyList<StoredRecording> recordings) =>
    [
        .. recordings.GroupBy(r => EveningOf(r.Start)).OrderByDescending(g => g.Key)
            .Select(g => new Shift(g.Key is { } day ? $"night of {day:yyyy-MM-dd} (noon to noon)" : "recordings without a date", [.. g], g.Key?.AddDays(1).ToDateTime(new TimeOnly(12, 0)))),
    ];

    private static DateOnly? EveningOf(RecordingStart start) => start switch
    {
        RecordingStart.Local local => DateOnly.FromDateTime(local.DateTime.AddHours(-12)),
        RecordingStart.Zoned zoned => DateOnly.FromDateTime(zoned.DateTime.DateTime.AddHours(-12)),
        _ => null,
    };
}

/// <summary>A shift's summary, and the recording behind each patient of it, in the same order; null: the unit itself.</summary>
public sealed record ShiftAtHand(ShiftSummaryModel Model, IReadOnlyList<StoredRecording?> Recordings);

/// <summary>What one shift hands to the next: what happened, what was changed and why, what to watch, what is pending.</summary>
internal sealed class SummaryRun(IWorkbenchStore store, GroupLoader loader, EvidenceRun evidence, ReportKeeper keeper, TimeProvider clock)
{
    /// <summary>Changes written down so long before the shift's end belong to the summary. Unit policy, no source.</summary>
    private static readonly TimeSpan ChangesOf = TimeSpan.FromDays(7);

    /// <summary>A deviation that ends so soon is pending. Unit policy, no source.</summary>
    private static readonly TimeSpan EndsSoon = TimeSpan.FromDays(2);

    /// <summary>Looking for proposals over more recordings than this would keep the shift waiting.</summary>
    private const int MostSearched = 80;

    /// <param name="shift">The shift.</param>
    /// <param name="all">What proposals are looked for in: the recordings of all shifts.</param>
    /// <param name="unit">Whose default settings are meant; null: those of no unit in particular.</param>
    /// <param name="progress">Is told how far it has come.</param>
    /// <param name="cancellation">Ends it.</param>
    /// <exception cref="StopException">What was said to be in force is no settings file.</exception>
    /// <exception cref="StoreException">A recording is gone, or damaged.</exception>
    public async Task<ShiftAtHand> RunAsync(Shift shift, IReadOnlyList<StoredRecording> all, string? unit, IWorkProgress progress, CancellationToken cancellation)
    {
        var ready = await loader.LoadAsync(shift.Recordings, progress, cancellation);
        var history = DecisionHistory.Of(await store.Settings.HistoryAsync(cancellation), shift.Recordings.Any(r => r.IsInvented));
        var patients = new List<(ShiftPatient Patient, int Rank, StoredRecording Stored)>();
        foreach (var loaded in ready.Loaded.Recordings)
        {
            progress.Report("looking back", patients.Count, ready.Loaded.Recordings.Count);
            cancellation.ThrowIfCancellationRequested();
            var (patient, rank) = Patient(loaded, ready, history, EndOf(shift));
            patients.Add((patient, rank, ready.ByName[loaded.File.Name]));
        }

        var ordered = patients.OrderByDescending(p => p.Rank).ThenBy(p => p.Patient.Patient, StringComparer.Ordinal).ToList();
        List<ShiftPatient> list = [.. ordered.Select(p => p.Patient)];
        if (UnitAsAWhole(unit, history, EndOf(shift), await OpenProposalsAsync(all, unit, history, progress, cancellation)) is { } whole) list.Add(whole);
        var model = new ShiftSummaryModel
        {
            Title = $"{unit ?? "All units"}: {shift.Words}",
            Period = PeriodOf(ready),
            Patients = list,
            IsInvented = ready.Loaded.Recordings.Any(r => r.IsInvented),
            Provenance = keeper.Origin(ready.Loaded.Recordings),
        };
        return new ShiftAtHand(model, [.. ordered.Select(p => p.Stored), .. Enumerable.Repeat<StoredRecording?>(null, list.Count - ordered.Count)]);
    }

    private (ShiftPatient Patient, int Rank) Patient(LoadedRecording loaded, ReadyLibrary ready, IReadOnlyList<WrittenDecision> history, DateTimeOffset end)
    {
        var stored = ready.ByName[loaded.File.Name];
        var said = history.Where(e => e.Content.Scope == SettingsScope.Patient && e.Content.Patient == stored.Description.Patient && stored.Description.Patient is not null).ToList();
        var patient = new ShiftPatient
        {
            Patient = loaded.Patient,
            About = loaded.Category.Words,
            Prescribed = stored.Description is { TargetLow: { } low, TargetHigh: { } high } ? $"{low:0.#}–{high:0.#} %" : null,
            Changed = [.. Recent(said, end).Select(ChangeOf)],
            ChangedSince = [.. Since(said, end).Select(ChangeOf)],
        };
        var known = SettingsFinder.Present([stored], loaded.Category);
        var side = ready.Side(known is null ? [] : [known.Set with { Category = null }]);
        side = side with { Settings = side.Present };
        ReviewModel review;
        try
        {
            review = ReviewJob.Of(loaded, GroupLoader.Request.Conditioning, side);
        }
        catch (StopException e)
        {
            return (patient with { Happened = [$"Nothing can be computed: {e.Trouble.Found}."], Pending = [.. Ending(said)] }, 0);
        }

        var marks = ready.Marks.MarksOn(loaded.File.Name);
        var unseen = review.MustCatch.Where(e => !marks.Any(m => m.Touches(e.Onset, e.End))).ToList();
        patient = patient with { Recording = ReportJob.SectionOf(review, side, proposed: null), Pending = [.. Pending(unseen, loaded), .. Ending(said)] };
        return (patient, (ShiftWords.Burden(patient) is { IsRising: true } ? 1000 : 0) + review.MustCatch.Count);
    }

    private static IEnumerable<string> Pending(List<MustCatchEvent> unseen, LoadedRecording loaded)
    {
        if (unseen.Count > 0)
            yield return $"{Say.Count(unseen.Count, "must-catch event", "must-catch events")} without a review mark, the first at {loaded.Recording.Start.ClockAt(unseen[0].Onset)}.";
    }

    /// <summary>Of entries for the same thing, the last decides; what it says of its end.</summary>
    private IEnumerable<string> Ending(IEnumerable<WrittenDecision> entries)
    {
        var now = clock.GetUtcNow();
        foreach (var entry in entries.GroupBy(e => (e.Content.Scope, e.Content.Category, e.Content.Unit, e.Content.Patient)).Select(g => g.MaxBy(e => e.Entry.Number)!))
        {
            if (entry.Content.ValidUntil is not { } end) continue;
            if (end < now) yield return $"The settings “{entry.Content.Name}” ended on {end.ToLocalTime():yyyy-MM-dd} and were not looked at again (accepted by {entry.Content.AcceptedBy}).";
            else if (end - now <= EndsSoon) yield return $"The settings “{entry.Content.Name}” end on {end.ToLocalTime():yyyy-MM-dd} (accepted by {entry.Content.AcceptedBy}).";
        }
    }

    private ShiftPatient? UnitAsAWhole(string? unit, IReadOnlyList<WrittenDecision> history, DateTimeOffset end, IReadOnlyList<string> proposals)
    {
        var own = history.Where(e => e.Content.Scope == SettingsScope.UnitDefault && e.Content.Unit == unit).ToList();
        List<ShiftChange> changed = [.. Recent(own, end).Select(ChangeOf)], since = [.. Since(own, end).Select(ChangeOf)];
        List<string> pending = [.. Ending(own), .. proposals];
        return changed.Count + since.Count + pending.Count == 0 ? null : new ShiftPatient { Patient = unit ?? "All units", IsWholeUnit = true, About = "the unit's own settings", Changed = changed, ChangedSince = since, Pending = pending };
    }

    /// <summary>Proposals that stand over all recordings and that no later decision of the unit answered.</summary>
    private async Task<IReadOnlyList<string>> OpenProposalsAsync(
        IReadOnlyList<StoredRecording> all, string? unit, IReadOnlyList<WrittenDecision> history, IWorkProgress progress, CancellationToken cancellation)
    {
        if (all.Count > MostSearched) return [$"Open proposals were not looked for: {all.Count} recordings are more than {MostSearched}. The evidence page looks."];
        try
        {
            var found = await evidence.RunAsync(all, unit, progress, cancellation);
            return
            [
                .. found.Groups.Where(g => g.Proposal.Chosen is { } chosen && chosen.Settings != g.Proposal.Present?.Settings && !IsDecided(g, unit, history))
                    .Select(g => $"A proposal for {g.Group.Category.Words.ToLowerInvariant()} waits for a decision: {Say.Candidate(g.Proposal.Chosen!.Settings)}."),
            ];
        }
        catch (StopException e)
        {
            return [$"Open proposals could not be looked for: {e.Trouble.Found}."];
        }
    }

    /// <summary>Whoever decided after the last recording was taken in has decided on this evidence, whatever the decision was.</summary>
    private static bool IsDecided(GroupAtHand group, string? unit, IReadOnlyList<WrittenDecision> history)
    {
        var newest = group.Group.Recordings.Max(r => group.Stored[r.Loaded.File.Name].ImportedAt);
        return history.Any(e => e.Content.Scope == SettingsScope.UnitDefault && e.Content.Unit == unit && e.Content.Category == group.Group.Category.Name && e.Entry.At >= newest);
    }

    /// <summary>The shift's end, a clock without a zone taken as this machine's; a shift that is still running, or of which no date is known, ends now.</summary>
    private DateTimeOffset EndOf(Shift shift)
    {
        var now = clock.GetUtcNow();
        if (shift.End is not { } noon) return now;
        var end = new DateTimeOffset(noon, clock.LocalTimeZone.GetUtcOffset(noon));
        return end < now ? end : now;
    }

    private static IEnumerable<WrittenDecision> Recent(IEnumerable<WrittenDecision> entries, DateTimeOffset end) => entries.Where(e => e.Entry.At <= end && end - e.Entry.At <= ChangesOf).OrderBy(e => e.Entry.Number);

    private static IEnumerable<WrittenDecision> Since(IEnumerable<WrittenDecision> entries, DateTimeOffset end) => entries.Where(e => e.Entry.At > end).OrderBy(e => e.Entry.Number);

    private static ShiftChange ChangeOf(WrittenDecision decision)
    {
        var entry = decision.Entry;
        string Words(string json) => Say.Settings(SettingsFile.OfText($"entry {entry.Number} of the settings' history", json).Sets[0].Settings);
        string from = decision.PreviousSettingsJson is { } before ? $"from {Words(before)} " : "";
        return new ShiftChange($"{entry.At.ToLocalTime():yyyy-MM-dd HH:mm}", $"{from}to {Words(entry.Content.SettingsJson)}", entry.Content.Why, entry.Content.AcceptedBy);
    }

    private static string PeriodOf(ReadyLibrary ready)
    {
        var dated = ready.Loaded.Recordings.Select(r => r.Recording).Where(r => r.Start is RecordingStart.Local or RecordingStart.Zoned && r.Channels.Any(c => c.Times.Count > 0)).ToList();
        if (dated.Count == 0) return "no date is known";
        DateTime At(Signals.Recording r, bool end)
        {
            var times = r.Channels.Where(c => c.Times.Count > 0).Select(c => end ? c.Times.End : c.Times.First);
            return (r.Start is RecordingStart.Local local ? local.DateTime : ((RecordingStart.Zoned)r.Start).DateTime.DateTime).AddMilliseconds((end ? times.Max() : times.Min()).Milliseconds);
        }

        return $"{dated.Min(r => At(r, end: false)):yyyy-MM-dd HH:mm} to {dated.Max(r => At(r, end: true)):yyyy-MM-dd HH:mm}, on the recordings' own clocks; changes of settings of the 7 days up to its end";
    }
}
