using System.Globalization;
using Stillwatch.Alarms;
using Stillwatch.App.Commands;
using Stillwatch.App.Files;
using Stillwatch.App.Jobs;
using Stillwatch.App.Workbench.Library;
using Stillwatch.Signals;
using Stillwatch.Storage;
using Stillwatch.Storage.Recordings;
using Stillwatch.Time;
using Stillwatch.Tuning.Proposals;

namespace Stillwatch.App.Workbench.Evidence;

/// <summary>The unit's default as a page shows it; a decision written down on the page becomes it.</summary>
public sealed class StandardAtHand(KnownSettings now)
{
    public KnownSettings Now { get; set; } = now;
}

/// <summary>One group of like recordings with everything the page needs to talk about settings for it.</summary>
/// <param name="Desk">Answers questions about any settings.</param>
/// <param name="Unit">The unit that these recordings are of; null: none was chosen.</param>
/// <param name="Stored">The recordings, by the names that results use.</param>
/// <param name="Present">The settings in force; null: nobody said.</param>
/// <param name="Standard">What the unit starts from, shared by the groups of a category.</param>
public sealed record GroupAtHand(EvidenceDesk Desk, string? Unit, IReadOnlyDictionary<string, StoredRecording> Stored, KnownSettings? Present, StandardAtHand Standard)
{
    public KnownSettings UnitDefault => Standard.Now;

    public TunedGroup Group => Desk.Group;

    public Proposal Proposal => Group.Search.Proposal;

    /// <summary>Where the recording's own page shows that time.</summary>
    public string LinkTo(string recording, SampleTime at) => $"recordings/{Stored[recording].Id}?at={at.Seconds.ToString("0.###", CultureInfo.InvariantCulture)}";

    public string ClockAt(string recording, SampleTime at) => Stored[recording].Start.ClockAt(at);

    /// <summary>What its recordings have in common: no other group has this name.</summary>
    public string Name => Pages.Say.Group(Group.Key, Group.Category.IsAssumed);

    /// <summary>Patients, nights and hours in a few words, for choosing between groups.</summary>
    public string Words => $"{Name} ({Pages.Say.Count(Group.Patients, "patient", "patients")}, {Pages.Say.Count(Group.Recordings.Count, "recording", "recordings")}{(Group.Recordings.Any(r => !r.Loaded.IsInManifest) ? $"; {PatientNote.Words}" : "")}){(IsInvented ? ", invented data" : "")}";

    /// <summary>A group is invented or real, never both.</summary>
    public bool IsInvented => Group.Recordings.Any(r => r.Loaded.IsInvented);

    /// <summary>What must be said of the settings in force; null: nothing.</summary>
    public string? PresentNote => Present is null ? "not known. Nobody said which settings were in force during these recordings, so nothing is compared with them." : Present.Doubt;
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
        bool isInvented = chosen.Any(r => r.IsInvented); // of one kind all of them, or the loader had refused
        // Each group of like recordings has its own settings in force.
        var present = new Dictionary<LoadedRecording, KnownSettings?>(ReferenceEqualityComparer.Instance);
        foreach (var like in ready.Loaded.Recordings.GroupBy(r => (r.Category.Name, r.Category.IsAssumed, r.Recording.SourceAveraging.Window, r.Oxygen, r.Recording.Find(ChannelKind.SpO2)?.Times.Period)))
        {
            var known = SettingsFinder.Present([.. like.Select(Stored)], like.First().Category);
            foreach (var one in like) present[one] = known;
        }

        var models = new List<TuneModel>();
        // What cannot be computed goes along with something that can: alone it would stop the job.
        var computable = ready.Loaded.Recordings.ToLookup(r => ReviewJob.SpO2Of(r, GroupLoader.Request.Conditioning, out _) is not null);
        var parts = Parts([.. computable[true]], r => present[r]?.Set.Settings).DefaultIfEmpty([]).ToList();
        parts[0].AddRange(computable[false]);
        foreach (var part in parts)
        {
            var side = ready.Side([.. part.Where(r => present[r] is not null).DistinctBy(r => r.Category.Name).Select(r => present[r]!.Set with { Category = r.Category.Name })]);
            models.Add(new TuneJob(GroupLoader.Request, side, progress).Run(ready.Loaded with { Recordings = part }));
        }

        var groups = new List<GroupAtHand>();
        var standards = new Dictionary<string, StandardAtHand>();
        foreach (var group in models.SelectMany(m => m.Groups).OrderByDescending(g => g.Patients).ThenByDescending(g => g.Recordings.Count))
        {
            progress.Report("making ready", groups.Count, models.Sum(m => m.Groups.Count));
            var first = group.Recordings[0].Loaded;
            if (!standards.TryGetValue(group.Category.Name, out var standard))
                standards[group.Category.Name] = standard = new StandardAtHand(await finder.DefaultAsync(group.Category, unit, isInvented, cancellation));
            groups.Add(new GroupAtHand(new EvidenceDesk(group, GroupLoader.Request), unit, ready.ByName, present[first], standard));
        }

        return new EvidenceAtHand(groups, models);
        StoredRecording Stored(LoadedRecording one) => ready.ByName[one.File.Name];
    }

    /// <summary>
    /// As few parts as can be, in each of which a category has one answer: a job takes one set of settings for a category. What nobody
    /// said anything of stands apart, for a job that has settings asks for those of every category.
    /// </summary>
    private static IEnumerable<List<LoadedRecording>> Parts(IReadOnlyList<LoadedRecording> recordings, Func<LoadedRecording, AlarmSettings?> answer)
    {
        foreach (var side in recordings.GroupBy(r => answer(r) is not null))
        {
            var byCategory = side.GroupBy(r => r.Category.Name).Select(c => c.GroupBy(answer).ToList()).ToList();
            for (int i = 0; i < byCategory.Max(c => c.Count); i++)
                yield return [.. byCategory.Where(c => i < c.Count).SelectMany(c => c[i])];
        }
    }
}
