using Stillwatch.Alarms;
using Stillwatch.App.Commands;
using Stillwatch.App.Files;
using Stillwatch.App.Jobs;
using Stillwatch.App.Workbench.Evidence;
using Stillwatch.App.Workbench.Library;
using Stillwatch.App.Workbench.Recordings;
using Stillwatch.Storage;
using Stillwatch.Storage.Recordings;
using Stillwatch.Storage.Settings;
using Stillwatch.Time;
using Stillwatch.Tuning.Ward;

namespace Stillwatch.App.Workbench.Load;

/// <summary>A change of a unit's settings, with the load of the recordings before and after it, each under the settings that were in force.</summary>
/// <param name="Entry">The change.</param>
/// <param name="Before">Of recordings that began before it; null: there are none.</param>
/// <param name="After">Of recordings that began after it; null: there are none.</param>
/// <param name="Undated">Recordings whose date is not known: in neither.</param>
public sealed record BeforeAndAfter(SettingsEntry Entry, WardLoad? Before, WardLoad? After, int Undated);

/// <summary>The alarm load of a choice of recordings.</summary>
/// <param name="Model">The job's answer.</param>
/// <param name="SettingsWords">Under which settings.</param>
/// <param name="NotInForce">Why this is not the load that the ward had: whose settings were not known, or were not alike; empty: it is.</param>
/// <param name="Changes">What changed meanwhile.</param>
public sealed record LoadAtHand(WardModel Model, string SettingsWords, IReadOnlyList<string> NotInForce, IReadOnlyList<BeforeAndAfter> Changes)
{
    /// <summary>For headings and figures.</summary>
    public string Settings => NotInForce.Count == 0 ? "present settings" : "the settings named above";
}

/// <summary>From a choice of stored recordings to their alarm load, by patient, by hour, by condition, before and after.</summary>
internal sealed class LoadRun(IWorkbenchStore store, GroupLoader loader, SettingsFinder finder)
{
    /// <exception cref="StopException">Nothing can be computed from any of them, or what was said to be in force is no settings file.</exception>
    /// <exception cref="StoreException">A recording is gone, or damaged.</exception>
    public async Task<LoadAtHand> RunAsync(IReadOnlyList<StoredRecording> chosen, string? unit, IWorkProgress progress, CancellationToken cancellation)
    {
        var ready = await loader.LoadAsync(chosen, progress, cancellation);
        bool isInvented = chosen.Any(r => r.IsInvented); // of one kind all of them, or the loader had refused
        var sets = new List<NamedSettings>();
        var words = new List<string>();
        var notInForce = new List<string>();
        foreach (var category in ready.Loaded.Recordings.GroupBy(r => r.Category.Name))
        {
            StoredRecording[] own = [.. category.Select(r => ready.ByName[r.File.Name])];
            string name = RecordingLine.CategoryWords(category.Key);
            var present = SettingsFinder.Present(own, category.First().Category);
            var known = present ?? await finder.DefaultAsync(category.First().Category, unit, isInvented, cancellation);
            if (present is null) notInForce.Add($"{name}: nobody said which settings were in force during {(own.Length == 1 ? "this recording" : "these recordings")}. This is what {Pages.Say.Settings(known.Set.Settings)} would give ({known.From}), not what the ward had.");
            else if (present.Doubt is { } doubt) notInForce.Add($"{name}: {doubt}");
            sets.Add(known.Set with { Category = category.Key });
            words.Add($"{name}: {Pages.Say.Settings(known.Set.Settings)} ({known.From})");
        }

        var model = WardJob.Run(ready.Loaded, GroupLoader.Request.Conditioning, ready.Side(sets), progress);
        return new LoadAtHand(model, string.Join("; ", words), notInForce, await ChangesAsync(model, ready, unit, isInvented, cancellation));
    }

    /// <summary>The load before and after each change that was written down for the unit, of the recordings' own category and decided on data of their own kind.</summary>
    private async Task<IReadOnlyList<BeforeAndAfter>> ChangesAsync(WardModel model, ReadyLibrary ready, string? unit, bool isInvented, CancellationToken cancellation)
    {
        var changes = new List<BeforeAndAfter>();
        var history = DecisionHistory.Of(await store.Settings.HistoryAsync(cancellation), isInvented);
        foreach (var entry in history.Where(e => e.Content.Scope == SettingsScope.UnitDefault && e.Content.Unit == unit).Select(e => e.Entry))
        {
            var own = model.Recordings.Where(r => r.Loaded.Category.Name == entry.Content.Category).ToList();
            if (own.Count == 0) continue;
            var dated = own.Select(r => (Recording: r, Start: DateOf(r.Loaded.Recording.Start))).ToList();
            var before = dated.Where(d => d.Start < entry.At).Select(d => d.Recording).ToList();
            var after = dated.Where(d => d.Start >= entry.At).Select(d => d.Recording).ToList();
            changes.Add(new BeforeAndAfter(entry, LoadOf(before, ready), LoadOf(after, ready), dated.Count(d => d.Start is null)));
        }

        return changes;
    }

    /// <summary>Under what was said to be in force during each recording; a recording of which nothing was said is left out.</summary>
    private static WardLoad? LoadOf(IReadOnlyList<TunedRecording> recordings, ReadyLibrary ready)
    {
        var said = recordings
            .Select(r => (Recording: r, Set: ready.ByName[r.Loaded.File.Name].Description.SettingsInForceJson is { } json ? SettingsFile.OfText($"the settings said to be in force during {r.Loaded.File.Name}", json).For(r.Loaded.Category) : null))
            .Where(r => r.Set is not null).ToList();
        if (said.Count == 0) return null;
        var tally = TuneJob.Tally([.. said.Select(s => s.Recording)], r => said.First(s => s.Recording == r).Set!);
        return tally.Load;
    }

    /// <summary>Null where no date is known. A clock without a zone is taken as this machine's.</summary>
    private static DateTimeOffset? DateOf(RecordingStart start) => start switch
    {
        RecordingStart.Zoned zoned => zoned.DateTime,
        RecordingStart.Local local => new DateTimeOffset(local.DateTime, TimeZoneInfo.Local.GetUtcOffset(local.DateTime)),
        _ => null,
    };
}
