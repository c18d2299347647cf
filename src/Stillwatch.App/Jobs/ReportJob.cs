using System.Text;
using Stillwatch.Alarms;
using Stillwatch.App.Commands;
using Stillwatch.App.Files;
using Stillwatch.Conditioning;
using Stillwatch.Reports;
using Stillwatch.Reports.Model;
using Stillwatch.Tuning.MustCatch;
using Stillwatch.Tuning.Proposals;

namespace Stillwatch.App.Jobs;

/// <summary>From a command's model to a report, and to its file. The same input gives the same bytes: no time of day is in it.</summary>
internal static class ReportJob
{
    public static ReportModel Of(ReviewModel model, SideFiles side) => new()
    {
        Title = $"{model.Loaded.File.Name}: what happened",
        IsInvented = IsInvented([model.Loaded]),
        Recordings = [SectionOf(model, side, proposed: null)],
        Provenance = Origin([model.Loaded], side),
    };

    /// <param name="model">Map and proposals.</param>
    /// <param name="ward">Contributors, where they were asked about.</param>
    /// <param name="side">The side files given.</param>
    public static ReportModel Of(TuneModel model, WardModel? ward, SideFiles side)
    {
        var proposals = model.Recordings.Select(r => ProposedFor(model, r, side)).ToList();
        var sections = Sections(model.Recordings, model.Conditioning, side with { Settings = side.Present ?? side.Settings, Log = LogChoice.Aside }, i => proposals[i]);
        for (int i = 0; i < sections.Count; i++) sections[i] = sections[i] with { Fidelity = model.Fidelity?.Of(model.Recordings[i].Loaded)?.Result };
        return new ReportModel
        {
            Title = TitleOf(model.Recordings),
            IsInvented = IsInvented(model.Recordings.Select(r => r.Loaded)),
            Recordings = sections,
            Settings = [.. model.Groups.Select(g => SettingsOf(g, AskedAbout(model, g)))],
            Ward = ward is null ? null : WardOf(ward, sections),
            Provenance = Origin(model.Recordings.Select(r => r.Loaded), side),
        };
    }

    public static ReportModel Of(WardModel model, ConditioningSettings conditioning, SideFiles side)
    {
        var sections = Sections(model.Recordings, conditioning, side with { Settings = side.Settings ?? side.Present, Log = LogChoice.Aside }, _ => null);
        return new ReportModel
        {
            Title = TitleOf(model.Recordings),
            IsInvented = IsInvented(model.Recordings.Select(r => r.Loaded)),
            Recordings = sections,
            Ward = WardOf(model, sections),
            Provenance = Origin(model.Recordings.Select(r => r.Loaded), side),
        };
    }

    /// <exception cref="StopException">Exit code 2: the report would replace a file that is read.</exception>
    public static void CheckPath(string? path, IEnumerable<string> inputs, SideFiles side)
    {
        if (path is null || inputs.Concat(side.Paths().Select(s => s.Path)).FirstOrDefault(i => Path.GetFullPath(i) == Path.GetFullPath(path)) is not { } same) return;
        throw StopException.Usage(new Trouble("the report would replace an input", same, "another file", "--report", "the order of the words was mixed up; recordings are only ever read"));
    }

    /// <exception cref="StopException">Exit code 3: the file cannot be written.</exception>
    public static void Write(string path, ReportModel model) => Write(path, writer => HtmlReport.Write(model, writer));

    /// <exception cref="StopException">Exit code 3: the file cannot be written.</exception>
    public static void Write(string path, LightReportModel model) => Write(path, writer => LightReport.Write(model, writer));

    /// <exception cref="StopException">Exit code 3: the file cannot be written.</exception>
    public static void Write(string path, RehearsalReportModel model) => Write(path, writer => RehearsalReport.Write(model, writer));

    private static void Write(string path, Action<TextWriter> content)
    {
        try
        {
            using var writer = new StreamWriter(path, append: false, new UTF8Encoding(encoderShouldEmitUTF8Identifier: false)) { NewLine = "\n" };
            content(writer);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or NotSupportedException)
        {
            throw StopException.Unreadable(new Trouble($"cannot write the report {path}", e.Message, "a file that may be written", path, "the folder does not exist, or belongs to another account"), e);
        }
    }

    private static List<RecordingSection> Sections(IReadOnlyList<TunedRecording> recordings, ConditioningSettings conditioning, SideFiles side, Func<int, AlarmSettings?> proposed)
    {
        var sections = new RecordingSection[recordings.Count];
        Parallel.For(0, recordings.Count, i => sections[i] = SectionOf(ReviewJob.Of(recordings[i].Loaded, conditioning, side), side, proposed(i)));
        return [.. sections];
    }

    /// <summary>One recording as a report shows it.</summary>
    public static RecordingSection SectionOf(ReviewModel model, SideFiles side, AlarmSettings? proposed)
    {
        var after = proposed is null ? null : ReviewJob.Replay(model.Loaded, new NamedSettings("proposal", null, proposed), model.MustCatch);
        return new RecordingSection
        {
            Recording = model.Loaded.Recording,
            Category = model.Loaded.Category.Category,
            IsCategoryAssumed = model.Loaded.Category.IsAssumed,
            SpO2 = model.SpO2,
            PulseRate = model.PulseRate,
            Conditioning = model.Conditioning,
            Review = model.Review,
            PresentSettings = model.Replay?.Settings.Settings,
            ReplayedName = ArePresent(side) ? null : model.Replay?.Settings.Name,
            PresentSignals = model.Replay?.Signals,
            ProposedSettings = proposed,
            ProposedSignals = after?.Signals,
            MustCatch = [.. model.MustCatch.Select((e, i) => new MustCatchOutcome(e, model.Replay?.Answers[i], after?.Answers[i]))],
            Fidelity = model.Fidelity?.Result,
            Issues = model.Loaded.Issues,
        };
    }

    /// <summary>Whether what was replayed (<see cref="SideFiles.Settings"/>) are the settings in force, and not some that were tried in their place.</summary>
    private static bool ArePresent(SideFiles side) =>
        side.Settings is null || (side.Present is { } present && Path.GetFullPath(present.Path) == Path.GetFullPath(side.Settings.Path));

    /// <summary>The present settings (or the preset) with what the proposal changes; null where nothing is proposed.</summary>
    private static AlarmSettings? ProposedFor(TuneModel model, TunedRecording recording, SideFiles side)
    {
        var group = model.Groups.FirstOrDefault(g => g.Recordings.Contains(recording));
        if (group?.Search.Proposal.Chosen is not { } chosen) return null;
        var basis = side.Present is { } file ? SideFiles.SetFor(file, recording.Loaded.Category).Settings : WardJob.Preset(recording.Loaded.Category, model.Conditioning).Settings;
        return basis with
        {
            SpO2Low = chosen.Settings.SpO2Low,
            Backstop = chosen.Settings.Backstop,
            SpO2Conditioning = basis.SpO2Conditioning with { Averaging = chosen.Settings.Averaging },
        };
    }

    /// <summary>What is known about settings for one group of like recordings.</summary>
    public static SettingsSection SettingsOf(TunedGroup group, IReadOnlyList<NamedEvidence> askedAbout) => new()
    {
        Group = group.Category.IsAssumed ? $"{group.Key} (adult assumed: no category was given)" : group.Key.ToString(),
        Category = group.Category.Category,
        IsCategoryAssumed = group.Category.IsAssumed,
        Patients = group.Patients,
        Recordings = group.Recordings.Count,
        Valid = group.Map.Valid,
        Connected = group.Map.Connected,
        SourceAveraging = group.Recordings[0].Loaded.Recording.SourceAveraging,
        MapByDelay = MapPicture.ByDelay(group.Map),
        MapByArea = MapPicture.ByArea(group.Map),
        MustCatch = group.Recordings[0].Definition,
        Proposal = group.Search.Proposal,
        AskedAbout = askedAbout,
    };

    /// <summary>What the settings of --settings did in a group, of SpO2 low alone, so that it can stand beside present and proposed; empty where they have no low limit.</summary>
    public static IReadOnlyList<NamedEvidence> AskedAbout(TuneModel model, TunedGroup group)
    {
        if (model.Given is not { } given) return [];
        var members = model.Recordings.Zip(given.Replays).Where(x => group.Recordings.Any(r => ReferenceEquals(r, x.First))).ToList();

        // One category a group, so one set of the file.
        var set = members[0].Second.Settings;
        if (set.Settings.ForSpO2Low() is not { } settings) return [];
        var signals = members.SelectMany(m => m.Second.Signals).Where(s => s.Condition == AlarmCondition.SpO2Low).ToList();
        // The search knows of no other technical signal than no reading.
        long technical = members.Sum(m => m.Second.Signals.LongCount(s => s.Condition == AlarmCondition.NoReading));
        var answers = members.SelectMany(m => m.Second.Answers.Select(a => (m.First.Loaded.Patient, Answer: a))).ToList();
        var summary = CatchSummary.Of(answers.Select(a => (a.Answer.Verdict, a.Answer.TimeToSignal)));
        var patients = answers.GroupBy(a => a.Patient).ToList();
        int patientsMissed = patients.Count(p => p.Any(a => a.Answer.Verdict == CatchVerdict.Missed));
        return
        [
            new NamedEvidence(set.Name, new CandidateEvidence
            {
                Settings = settings,
                Signals = signals.Count,
                SignalsPerDay = new Estimate(PerDay(signals.Count, group.Map.Valid), null, null),
                SignalMinutesPerDay = PerDay(signals.Sum(s => s.Active.Minutes), group.Map.Valid),
                TechnicalSignals = technical,
                TechnicalSignalsPerDay = new Estimate(PerDay(technical, group.Map.Connected), null, null),
                MustCatchEvents = summary.Events,
                Missed = summary.Missed,
                Late = summary.Late,
                PatientsWithEvents = patients.Count,
                PatientsMissed = patientsMissed,
                MissedUpperBoundEvents = ExactBound.Upper(summary.Missed, summary.Events),
                MissedUpperBoundPatients = ExactBound.Upper(patientsMissed, patients.Count),
                WorstTimeToSignal = summary.WorstTimeToSignal,
                MedianTimeToSignal = summary.MedianTimeToSignal,
            }),
        ];
    }

    private static double PerDay(double count, Time.Duration over) => over > Time.Duration.Zero ? count * 24 / over.Hours : 0;

    /// <param name="model">The ward.</param>
    /// <param name="sections">Its recordings with what was proposed for them; empty: nothing was.</param>
    public static WardSection WardOf(WardModel model, IReadOnlyList<RecordingSection> sections)
    {
        var proposed = model.Recordings.Select((r, i) => (r.Loaded.Patient, ProposedSignals: sections.Count > 0 ? sections[i].ProposedSignals : null)).ToLookup(x => x.Patient, x => x.ProposedSignals);
        bool anyProposed = sections.Any(s => s.ProposedSignals is not null);
        var patients = model.Patients.Select(p => new PatientLoad(
            p.Load.Patient, p.Category.Category, p.Load.Recordings, p.Load.Physiological.Per, p.Load.Technical.Per, p.Load.Physiological.Signals,
            proposed[p.Load.Patient].All(s => s is not null) ? proposed[p.Load.Patient].Sum(s => s!.LongCount(x => x.Condition.IsPhysiological())) : null,
            p.Load.Technical.Signals, p.MustCatchEvents, p.Category.IsAssumed)).ToList();
        // Where a group has no proposal its present settings stay in force.
        long after = patients.Sum(p => p.ProposedSignals ?? p.PresentSignals ?? 0);
        return new WardSection
        {
            Patients = patients,
            PresentSignalsPerDay = model.Load.Physiological.SignalsPerDay,
            ProposedSignalsPerDay = anyProposed && model.Load.Physiological.Per > Time.Duration.Zero ? after * 24 / model.Load.Physiological.Per.Hours : null,
            TechnicalPerDay = model.Load.Technical.SignalsPerDay,
            SettingsInWords = model.Origin switch
            {
                WardSettingsOrigin.Given => model.Tally.Sets.Count == 1 ? $"replayed settings “{model.Tally.Sets[0].Name}”" : "replayed settings",
                WardSettingsOrigin.Present => "present settings",
                _ => "preset settings of each category",
            },
        };
    }

    public static Provenance Origin(IEnumerable<LoadedRecording> recordings, SideFiles side) => new()
    {
        Software = ExportFiles.Software,
        Inputs =
        [
            .. recordings.SelectMany(r => r.File.Parts.Prepend(r.File)).Select(f => new Reports.Model.InputFile(f.Name, f.Sha256, f.Bytes)),
            .. LogsOf(recordings, side).Select(Files.InputFile.Of).Select(f => new Reports.Model.InputFile(f.Name, f.Sha256, f.Bytes, LogChoice.Role)),
            .. side.Paths().DistinctBy(s => Path.GetFullPath(s.Path)).Select(s => (File: Files.InputFile.Of(s.Path), s.Role)).Select(s => new Reports.Model.InputFile(s.File.Name, s.File.Sha256, s.File.Bytes, s.Role)),
        ],
    };

    /// <summary>The logs that ward.json names, where they are compared with.</summary>
    private static IEnumerable<string> LogsOf(IEnumerable<LoadedRecording> recordings, SideFiles side) =>
        side.Log is { IsLeftAside: false, Path: null } && (side.Present ?? side.Settings) is not null ? recordings.Select(r => r.AlarmLog?.OnDisk).OfType<string>().Distinct() : [];

    private static string TitleOf(IReadOnlyList<TunedRecording> recordings)
    {
        int patients = recordings.Select(r => r.Loaded.Patient).Distinct().Count();
        return recordings.Count == 1 ? recordings[0].Loaded.File.Name : $"{recordings.Count} recordings of {patients} {(patients == 1 ? "patient" : "patients")}";
    }

    public static bool IsInvented(IEnumerable<LoadedRecording> recordings) => recordings.Any(r => r.IsInvented);
}
