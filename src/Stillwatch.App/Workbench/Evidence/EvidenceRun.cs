using System.Globalization;
using Stillwatch.App.Commands;
using Stillwatch.App.Files;
using Stillwatch.App.Jobs;
using Stillwatch.App.Workbench.Library;
using Stillwatch.Storage;
using Stillwatch.Storage.Recordings;
using Stillwatch.Time;
using Stillwatch.Tuning.Proposals;

namespace Stillwatch.App.Workbench.Evidence;

/// <summary>One group of like recordings with everything the page needs to talk about settings for it.</summary>
/// <param name="Desk">Answers questions about any settings.</param>
/// <param name="Unit">The unit that these recordings are of; null: none was chosen.</param>
/// <param name="Stored">The recordings, by the names that results use.</param>
/// <param name="Present">The settings in force; null: nobody said.</param>
/// <param name="UnitDefault">What the unit starts from.</param>
public sealed record GroupAtHand(EvidenceDesk Desk, string? Unit, IReadOnlyDictionary<string, StoredRecording> Stored, KnownSettings? Present, KnownSettings UnitDefault)
{
    public TunedGroup Group => Desk.Group;

    public Proposal Proposal => Group.Search.Proposal;

    /// <summary>Where the recording's own page shows that time.</summary>
    public string LinkTo(string recording, SampleTime at) => $"recordings/{Stored[recording].Id}?at={at.Seconds.ToString("0.###", CultureInfo.InvariantCulture)}";

    public string ClockAt(string recording, SampleTime at) => Stored[recording].Start.ClockAt(at);

    /// <summary>Patients, nights and hours in a few words, for choosing between groups.</summary>
    public string Words => $"{Pages.Say.Group(Group.Key)} ({Pages.Say.Count(Group.Patients, "patient", "patients")}, {Pages.Say.Count(Group.Recordings.Count, "recording", "recordings")}{(Group.Recordings.Any(r => !r.Loaded.IsInManifest) ? $"; {PatientNote.Words}" : "")})";
}

/// <summary>What came of looking at a choice of recordings.</summary>
/// <param name="Groups">Groups of like recordings (R14.7), the one with the most patients first.</param>
/// <param name="Models">The job's own answers: one for categories whose settings in force are known, one for the rest.</param>
public sealed record EvidenceAtHand(IReadOnlyList<GroupAtHand> Groups, IReadOnlyList<TuneModel> Models);

/// <summary>From a choice of stored recordings to groups that can be asked about settings.</summary>
internal sealed class EvidenceRun(GroupLoader loader, SettingsFinder finder)
{
    /// <exception cref="StopException">Nothing can be computed from any of them, or the settings said to be in force are none.</exception>
    /// <exception cref="StoreException">A recording is gone, or damaged.</exception>
    public async Task<EvidenceAtHand> RunAsync(IReadOnlyList<StoredRecording> chosen, string? unit, IWorkProgress progress, CancellationToken cancellation)
    {
        var ready = await loader.LoadAsync(chosen, progress, cancellation);
        var present = new Dictionary<string, KnownSettings>();
        foreach (var category in ready.Loaded.Recordings.GroupBy(r => r.Category.Name))
        {
            StoredRecording[] own = [.. category.Select(r => ready.ByName[r.File.Name])];
            if (await finder.PresentAsync(own, category.First().Category, unit, cancellation) is { } known) present[category.Key] = known;
        }

        // A category nobody said anything of must not stop the others: without its own set it would be an error, so those are judged apart.
        var withSettings = ready.Loaded.Recordings.ToLookup(r => present.ContainsKey(r.Category.Name));
        var models = new List<TuneModel>();
        foreach (var part in withSettings)
        {
            var side = ready.Side(part.Key ? [.. present.Select(p => p.Value.Set with { Category = p.Key })] : []);
            models.Add(new TuneJob(GroupLoader.Request, side, progress).Run(ready.Loaded with { Recordings = [.. part] }));
        }

        var groups = new List<GroupAtHand>();
        foreach (var group in models.SelectMany(m => m.Groups).OrderByDescending(g => g.Patients).ThenByDescending(g => g.Recordings.Count))
        {
            progress.Report("making ready", groups.Count, models.Sum(m => m.Groups.Count));
            var standard = await finder.DefaultAsync(group.Category, unit, cancellation);
            groups.Add(new GroupAtHand(new EvidenceDesk(group, GroupLoader.Request), unit, ready.ByName, present.GetValueOrDefault(group.Category.Name), standard));
        }

        return new EvidenceAtHand(groups, models);
    }
}
