using Stillwatch.App.Commands;
using Stillwatch.App.Files;
using Stillwatch.App.Terminal;
using Stillwatch.Conditioning;
using Stillwatch.Time;
using Stillwatch.Tuning.MustCatch;
using Stillwatch.Tuning.Proposals;

namespace Stillwatch.App.Jobs;

/// <summary>From a folder of recordings to its alarm load and who causes it.</summary>
internal static class WardJob
{
    /// <exception cref="StopException">Exit code 4: nothing can be computed from any recording.</exception>
    public static WardModel Run(LoadedSet loaded, ConditioningSettings conditioning, SideFiles side, ProgressLine progress)
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
        var lines = recordings.Select((r, i) => new Line(r, tally.Replays[i], ConditionedSeries.Of(r.Evidence.SpO2, ConditioningSettings.Default))).ToList();
        return new WardModel
        {
            Loaded = loaded,
            Recordings = recordings,
            NotComputable = notComputable,
            Origin = origin,
            Tally = tally,
            Patients = [.. lines.GroupBy(l => l.Recording.Loaded.Patient).Select(PatientOf).OrderByDescending(p => p.Physiological).ThenBy(p => p.Patient, StringComparer.Ordinal)],
            Groups = [.. lines.GroupBy(l => GroupKey.Of(l.Recording.Loaded.Category.Category, l.Recording.Evidence)).OrderBy(g => g.Key.Category).ThenBy(g => g.Key.ToString(), StringComparer.Ordinal).Select(g => GroupOf(g.Key, [.. g]))],
        };
    }

    /// <summary>A category's preset as a settings set, conditioned as the command line says.</summary>
    public static NamedSettings Preset(CategoryChoice category, ConditioningSettings conditioning) =>
        new($"preset: {category.Words}", category.Name, category.Preset.ToSettings() with { SpO2Conditioning = conditioning, PulseConditioning = conditioning });

    private static WardPatient PatientOf(IEnumerable<Line> lines)
    {
        var own = lines.ToList();
        return new WardPatient
        {
            Patient = own[0].Recording.Loaded.Patient,
            Category = own[0].Recording.Loaded.Category,
            Recordings = own.Count,
            Valid = Sum(own, l => l.Series.Valid),
            Connected = Sum(own, l => l.Series.Connected),
            Physiological = own.Sum(l => l.Replay.Physiological.Count()),
            PhysiologicalActive = Sum(own.SelectMany(l => l.Replay.Physiological), s => s.Active),
            Technical = own.Sum(l => l.Replay.Technical.Count()),
            MustCatchEvents = own.Sum(l => l.Recording.MustCatch.Count),
            Missed = own.Sum(l => l.Replay.Answers.Count(a => a.Verdict == CatchVerdict.Missed)),
            Late = own.Sum(l => l.Replay.Answers.Count(a => a.Verdict == CatchVerdict.Late)),
        };
    }

    private static WardGroup GroupOf(GroupKey key, List<Line> lines) => new(
        key,
        lines.Select(l => l.Recording.Loaded.Patient).Distinct().Count(),
        lines.Count,
        Sum(lines, l => l.Series.Valid),
        Sum(lines, l => l.Series.Connected),
        lines.Sum(l => l.Replay.Physiological.Count()),
        lines.Sum(l => l.Replay.Technical.Count()),
        lines.Sum(l => l.Recording.MustCatch.Count));

    private static Duration Sum<T>(IEnumerable<T> items, Func<T, Duration> length) => items.Aggregate(Duration.Zero, (sum, i) => sum + length(i));

    private sealed record Line(TunedRecording Recording, ReplayModel Replay, ConditionedSeries Series);
}
