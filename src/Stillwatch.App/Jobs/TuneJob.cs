using Stillwatch.Alarms;
using Stillwatch.App.Commands;
using Stillwatch.App.Files;
using Stillwatch.Conditioning;
using Stillwatch.Oximetry;
using Stillwatch.Time;
using Stillwatch.Tuning.Map;
using Stillwatch.Tuning.MustCatch;
using Stillwatch.Tuning.Proposals;
using Stillwatch.Tuning.Ward;

namespace Stillwatch.App.Jobs;

/// <summary>From recordings to a settings map and a proposal, or its refusal.</summary>
internal sealed class TuneJob(MapRequest request, SideFiles side, IWorkProgress progress)
{
    /// <exception cref="StopException">Exit code 4: nothing can be computed from any of the recordings.</exception>
    public TuneModel Run(LoadedSet loaded)
    {
        var notComputable = new List<string>();
        var recordings = Prepare(loaded, request.Conditioning, side, notComputable);
        var maps = Maps(recordings);
        progress.Report("replaying", 0, 0);
        var presentTally = side.Present is { } present ? Tally(recordings, r => SideFiles.SetFor(present, r.Loaded.Category)) : null;
        var fidelity = presentTally is null ? null : FidelityJob.Of(recordings, presentTally, side.Log, progress);
        var groups = Groups(recordings, maps, fidelity);
        return new TuneModel
        {
            Loaded = loaded,
            Recordings = recordings,
            NotComputable = notComputable,
            Conditioning = request.Conditioning,
            Map = SettingsMap.Sum([.. maps.Values]),
            Groups = groups,
            Present = presentTally,
            Fidelity = fidelity,
            LogNotCompared = presentTally is null ? FidelityJob.WhyNotCompared([.. recordings.Select(r => r.Loaded)], side.Log, "--present") : null,
            Given = side.Settings is { } given ? Tally(recordings, r => SideFiles.SetFor(given, r.Loaded.Category)) : null,
        };
    }

    /// <summary>The recordings from which something can be computed, with their must-catch events.</summary>
    /// <exception cref="StopException">Exit code 3 or 4: there is none.</exception>
    public static IReadOnlyList<TunedRecording> Prepare(LoadedSet loaded, ConditioningSettings conditioning, SideFiles side, List<string> notComputable)
    {
        side.CheckMarksAgainst(loaded.Paths);
        side.Log.CheckAgainst(loaded);
        var recordings = new List<TunedRecording>();
        var firstOf = new Dictionary<string, LoadedRecording>();
        // What a monitor gave goes before what was derived from its light.
        foreach (var one in loaded.Recordings.OrderBy(r => DerivedNumerics.IsDerived(r.Recording)))
        {
            // The same bytes, or an export of them, are one night, whatever their names: counted again they would make patients and evidence of nothing.
            if (firstOf.TryGetValue(one.File.Hours, out var first)) notComputable.Add(CopyInWords(one, first, side));
            else if (ReviewJob.SpO2Of(one, conditioning, out string? whyNot) is { } source)
            {
                firstOf.Add(one.File.Hours, one);
                recordings.Add(Prepared(one, source, conditioning, side));
            }
            else
            {
                notComputable.Add($"{one.File.Name}: {whyNot}");
            }
        }

        if (recordings.Count > 0) return recordings;
        if (loaded.Unreadable.Count > 0) throw StopException.Unreadable(loaded.Unreadable[0].Trouble);
        throw StopException.NothingComputable(new Trouble(
            "nothing can be computed", string.Join("; ", notComputable.Take(3)), "at least one SpO2 channel with valid values", "the files named",
            "the SpO2 column has another name (--channel or --map), or the sensor was off throughout; see stillwatch inspect"));
    }

    public static SettingsTally Tally(IReadOnlyList<TunedRecording> recordings, Func<TunedRecording, NamedSettings> settingsFor)
    {
        var replays = new ReplayModel[recordings.Count];
        Parallel.For(0, recordings.Count, i => replays[i] = ReviewJob.Replay(recordings[i].Loaded, settingsFor(recordings[i]), recordings[i].MustCatch));
        return new SettingsTally
        {
            Sets = [.. replays.Select(r => r.Settings).Distinct()],
            Replays = replays,
            Load = WardLoad.Of([.. recordings.Select((r, i) => WardRecordingOf(r, replays[i]))]),
        };
    }

    public static WardRecording WardRecordingOf(TunedRecording recording, ReplayModel replay) => WardRecording.Of(
        recording.Loaded.Patient, recording.Loaded.Category.Category, recording.Loaded.File.Name, recording.Loaded.Recording.Start,
        recording.Evidence.SpO2, replay.Settings.Settings.SpO2Conditioning, replay.Signals);

    private static string CopyInWords(LoadedRecording copy, LoadedRecording first, SideFiles side)
    {
        string why = copy.File.Identity == first.File.Identity ? "the same SHA-256" : "one is an export of the other, or both of a third, as the manifest beside it says";
        string text = $"{copy.File.Name}: a copy of {first.File.Name} ({why}); one recording counts once";
        if (copy.IsInManifest && copy.Patient != first.Patient) text += $", and cannot be of both {first.Patient} and {copy.Patient}";
        if (side.Marks is { } marks && copy.File.Name != first.File.Name && (marks.MarksOn(copy.File.Name).Count > 0 || marks.BlindOn(copy.File.Name).Count > 0))
            text += $"; the review marks on it are not used: put them on {first.File.Name}";
        return text;
    }

    private static TunedRecording Prepared(LoadedRecording loaded, ConditionedSource source, ConditioningSettings conditioning, SideFiles side)
    {
        var definition = ReviewJob.DefinitionFor(loaded, side);
        var (events, marks) = ReviewJob.MustCatch(loaded, source, conditioning, definition, side);
        var evidence = new TuningRecording
        {
            Name = loaded.File.Name,
            Start = loaded.Recording.Start,
            SpO2 = source,
            SourceAveraging = loaded.Recording.SourceAveraging,
            Oxygen = loaded.Oxygen,
            Definition = definition,
            MustCatch = events,
            Marks = CountsOf(marks, side.Marks?.MarksOn(loaded.File.Name) ?? []),
            ReviewedBlind = side.Marks?.BlindOn(loaded.File.Name) ?? [],
        };
        return new TunedRecording(loaded, evidence, ReviewJob.MarkWords(loaded, marks));
    }

    private static MarkCounts CountsOf(MarkedResult? marked, IReadOnlyList<ReviewMark> marks)
    {
        if (marked is null) return MarkCounts.None;
        bool HasArtefactMark(MustCatchEvent e) => marks.Any(m => m.Verdict == MarkVerdict.Artefact && m.Touches(e.Onset, e.End));
        return new MarkCounts(
            marked.Decisions.Count(d => d.Outcome == MarkOutcome.Removed),
            marked.Decisions.Count(d => d.Outcome != MarkOutcome.Removed && HasArtefactMark(d.Event)),
            marked.Decisions.Count(d => d.Outcome == MarkOutcome.Added));
    }

    /// <summary>The sum of the maps of each group of like recordings. Whole numbers add up to the same in any order, so each map is added as soon as it is drawn.</summary>
    private Dictionary<(string Category, bool IsAssumed, GroupKey Key), SettingsMap> Maps(IReadOnlyList<TunedRecording> recordings)
    {
        var sums = new Dictionary<(string Category, bool IsAssumed, GroupKey Key), SettingsMap>();
        int done = 0;
        progress.Report("drawing maps", 0, recordings.Count);
        Parallel.ForEach(recordings, recording =>
        {
            var map = SettingsMap.Of(recording.Evidence.SpO2, request, recording.MustCatch);
            var key = KeyOf(recording);
            lock (sums) sums[key] = sums.TryGetValue(key, out var sum) ? SettingsMap.Sum([sum, map]) : map;
            progress.Report("drawing maps", Interlocked.Increment(ref done), recordings.Count);
        });
        return sums;
    }

    /// <summary>The category's name stands in it too: two ages of infants have presets of their own. Whom nobody called an adult is not counted with adults.</summary>
    private static (string Category, bool IsAssumed, GroupKey Key) KeyOf(TunedRecording recording) =>
        (recording.Loaded.Category.Name, recording.Loaded.Category.IsAssumed, GroupKey.Of(recording.Loaded.Category.Category, recording.Evidence));

    private List<TunedGroup> Groups(IReadOnlyList<TunedRecording> recordings, Dictionary<(string Category, bool IsAssumed, GroupKey Key), SettingsMap> maps, TuneFidelity? fidelity)
    {
        // One search for each category name: its bounds and its present settings are its own. The search then splits further (R14.7).
        var groups = new List<TunedGroup>();
        var byCategory = recordings.GroupBy(r => (r.Loaded.Category.Name, r.Loaded.Category.IsAssumed)).ToList();
        int done = 0;
        foreach (var members in byCategory)
        {
            progress.Report("searching", done++, byCategory.Count);
            var category = members.First().Loaded.Category;
            var patients = members.GroupBy(m => m.Loaded.Patient)
                .Select(p => new PatientRecordings(p.Key, category.Category, [.. p.Select(m => m.Evidence)])).ToList();
            var present = side.Present is { } file ? SideFiles.SetFor(file, category).Settings.ForSpO2Low() : null;
            foreach (var found in ProposalSearch.Propose(patients, RulesFor(category, request), present))
            {
                TunedRecording[] own = [.. members.Where(m => KeyOf(m).Key == found.Group)];
                var proposal = found.Proposal with { Caveats = [.. Assumptions.Of(category, own), .. fidelity?.CaveatsOn([.. own.Select(r => r.Loaded)]) ?? [], .. found.Proposal.Caveats] };
                groups.Add(new TunedGroup(found.Group, category, own, maps[(category.Name, category.IsAssumed, found.Group)], found with { Proposal = proposal }));
            }
        }

        return groups;
    }

    /// <summary>The default search with the category's own bounds and backstop.</summary>
    public static ProposalRules RulesFor(CategoryChoice category, MapRequest request)
    {
        var preset = category.Preset;
        var bounds = new SearchBounds(
            preset.LowestProposedLimit.Value, preset.LongestProposedDelay.Value, BackstopRequired: true,
            $"low limit: {preset.LowestProposedLimit.Source}; delay: {preset.LongestProposedDelay.Source}; backstop: {preset.BackstopLimit.Source}");
        var axes = new CandidateAxes
        {
            Backstops = [new BackstopSettings(preset.BackstopLimit.Value, preset.BackstopDelay.Value), new BackstopSettings(preset.BackstopLimit.Value, Duration.Zero)],
            ClearMargin = Quantities.Percent.FromMicro(request.ClearMarginMicro),
        };
        if (!axes.Averagings.Contains(request.Conditioning.Averaging))
            axes = axes with { Averagings = [.. axes.Averagings, request.Conditioning.Averaging] };
        return ProposalRules.Default with { Otherwise = new CategorySearch(bounds, axes), Conditioning = request.Conditioning };
    }
}
