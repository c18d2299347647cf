using Stillwatch.App.Commands;
using Stillwatch.App.Files;
using Stillwatch.Conditioning;
using Stillwatch.Tuning.MustCatch;
using Stillwatch.Tuning.Proposals;
using Stillwatch.Tuning.Ward;

namespace Stillwatch.App.Jobs;

/// <summary>From a folder of recordings to its alarm load and who causes it.</summary>
internal static class WardJob
{
    /// <exception cref="StopException">Exit code 4: nothing can be computed from any recording.</exception>
    public static WardModel Run(LoadedSet loaded, ConditioningSettings conditioning, SideFiles side, IWorkProgress progress)
    {
        var notComputable = new List<string>();
        var recordings = TuneJob.Prepare(loaded, conditioning, side, notComputable);
        progress.Report("replaying", 0, 0);
        var file = side.Settings ?? side.Present;
        var tally = TuneJob.Tally(recordings, r => file is null ? Preset(r.Loaded.Category, conditioning) : SideFiles.SetFor(file, r.Loaded.Category));
        return Of(loaded, recordings, notComputable, tally, side.Settings is not null ? WardSettingsOrigin.Given : side.Present is not null ? WardSettingsOrigin.Present : WardSettingsOrigin.Preset);
    }

    /// <summary>The same from recordings that were replayed already.</summary>
    public static WardModel Of(LoadedSet loaded, IReadOnlyList<TunedRecording> recordings, IReadOnlyList<string> notComputable, SettingsTally tally, WardSettingsOrigin origin)
    {
        var lines = recordings.Select((r, i) => (Recording: r, Replay: tally.Replays[i])).ToList();
        var byPatient = lines.ToLookup(l => l.Recording.Loaded.Patient);
        return new WardModel
        {
            Loaded = loaded,
            Recordings = recordings,
            NotComputable = notComputable,
            Origin = origin,
            Tally = tally,
            Patients = [.. tally.Load.Patients.Select(p => LineOf(p, [.. byPatient[p.Patient]]))],
            Groups =
            [
                .. lines.GroupBy(l => (Key: GroupKey.Of(l.Recording.Loaded.Category.Category, l.Recording.Evidence), l.Recording.Loaded.Category.IsAssumed))
                    .OrderBy(g => g.Key.Key.Category).ThenBy(g => g.Key.Key.ToString(), StringComparer.Ordinal).ThenBy(g => g.Key.IsAssumed)
                    .Select(g => new WardGroup(g.Key.Key, g.Key.IsAssumed, WardLoad.Of([.. g.Select(l => TuneJob.WardRecordingOf(l.Recording, l.Replay))]), g.Sum(l => l.Recording.MustCatch.Count))),
            ],
        };
    }

    /// <summary>A category's preset as a settings set, conditioned as the command line says.</summary>
    public static NamedSettings Preset(CategoryChoice category, ConditioningSettings conditioning) =>
        new($"preset: {category.Words}", category.Name, category.Preset.ToSettings() with { SpO2Conditioning = conditioning, PulseConditioning = conditioning });

    private static WardLine LineOf(WardPatient load, List<(TunedRecording Recording, ReplayModel Replay)> own)
    {
        int Answers(CatchVerdict verdict) => own.Sum(l => l.Replay.Answers.Count(a => a.Verdict == verdict));
        return new WardLine(load, own[0].Recording.Loaded.Category, own.Sum(l => l.Recording.MustCatch.Count), Answers(CatchVerdict.Missed), Answers(CatchVerdict.Late));
    }
}
