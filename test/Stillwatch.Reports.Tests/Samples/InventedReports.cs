using Stillwatch.Alarms;
using Stillwatch.Conditioning;
using Stillwatch.Oxygenation;
using Stillwatch.Quantities;
using Stillwatch.Rehearsal;
using Stillwatch.Replay;
using Stillwatch.Reports.Model;
using Stillwatch.Signals;
using Stillwatch.Time;
using Stillwatch.Tuning.Map;
using Stillwatch.Tuning.MustCatch;
using Stillwatch.Tuning.Proposals;

namespace Stillwatch.Reports.Tests.Samples;

/// <summary>Reports on the invented ward, made the way the program makes them. Everything is seeded; nothing is a patient's.</summary>
internal sealed class InventedReports(int nightSeconds)
{
    /// <summary>Nights of two hours: quick, with everything in them.</summary>
    public static readonly InventedReports Short = new(2 * 3600);

    private static readonly Lazy<ReportModel> ShortNight = new(() => Short.OneNight());
    private static readonly Lazy<ReportModel> ShortAdults = new(() => Short.AdultGroup());
    private static readonly Lazy<ReportModel> ShortWard = new(() => Short.WholeWard());

    private readonly RehearsalWard ward = DemoWard.Compose(nightSeconds: nightSeconds);

    public static ReportModel Night => ShortNight.Value;

    public static ReportModel Adults => ShortAdults.Value;

    public static ReportModel Ward => ShortWard.Value;

    /// <summary>One night of one patient; a proposal from it is refused, for one patient proves nothing.</summary>
    public ReportModel OneNight(int patient = 1, int night = 0)
    {
        var chosen = ward.Patients[patient];
        var recording = chosen.Nights[night].Recording;
        var answers = Search([chosen], [recording], resamples: 20);
        return new ReportModel
        {
            Title = $"{chosen.Key}, night {night + 1}",
            IsInvented = true,
            Recordings = [Section(recording, chosen.Profile, null)],
            Settings = [.. answers.Select(a => SettingsOf(a, [chosen], [recording]))],
            Provenance = ProvenanceOf(recording.Name + ".csv"),
        };
    }

    /// <summary>The whole ward, grouped as the search groups it.</summary>
    public ReportModel WholeWard(int resamples = 20)
    {
        var patients = ward.Patients;
        Recording[] all = [.. patients.SelectMany(p => p.Nights).Select(n => n.Recording)];
        var answers = Search(patients, all, resamples);
        var proposedOf = answers.Where(a => a.Proposal.Chosen is not null).SelectMany(a => a.Patients.Select(p => (p, a.Proposal.Chosen!.Settings))).ToDictionary(p => p.p, p => p.Settings);
        var sections = patients.SelectMany(p => p.Nights.Select(n => (Patient: p, Section: Section(n.Recording, p.Profile, proposedOf.GetValueOrDefault(p.Key))))).ToList();
        var loads = sections.GroupBy(s => s.Patient.Key).Select(g => LoadOf(g.First().Patient, [.. g.Select(s => s.Section)])).ToList();
        return new ReportModel
        {
            Title = "Invented ward: 12 patients, two nights each",
            IsInvented = true,
            Recordings = [.. sections.Select(s => s.Section)],
            Settings = [.. answers.Select(a => SettingsOf(a, patients, all))],
            Ward = new WardSection
            {
                Patients = loads,
                PresentSignalsPerDay = loads.Sum(l => l.PresentSignals ?? 0) * 24 / loads.Sum(l => l.Valid.Hours),
                ProposedSignalsPerDay = proposedOf.Count > 0 ? loads.Sum(l => l.ProposedSignals ?? l.PresentSignals ?? 0) * 24 / loads.Sum(l => l.Valid.Hours) : null,
                TechnicalPerDay = loads.Sum(l => l.TechnicalSignals ?? 0) * 24 / loads.Sum(l => l.Connected.Hours),
            },
            Provenance = ProvenanceOf([.. all.Select(r => r.Name + ".csv")]),
        };
    }

    /// <summary>The ward's adults as one group, with enough events for a proposal to be made where the evidence supports it.</summary>
    public ReportModel AdultGroup(int resamples = 20)
    {
        RehearsalPatient[] adults = [.. ward.Patients.Where(p => p.Profile is { Category: PatientCategory.Adult, SourceAveragingSeconds: 8 })];
        Recording[] all = [.. adults.SelectMany(p => p.Nights).Select(n => n.Recording)];
        var answer = Search(adults, all, resamples)[0];
        return new ReportModel
        {
            Title = "Invented adults: one night with its group's settings",
            IsInvented = true,
            Recordings = [Section(adults[1].Nights[0].Recording, adults[1].Profile, answer.Proposal.Chosen?.Settings)],
            Settings = [SettingsOf(answer, adults, all)],
            Provenance = ProvenanceOf([.. all.Select(r => r.Name + ".csv")]),
        };
    }

    public static RecordingSection Section(Recording recording, RehearsalProfile? profile, CandidateSettings? proposed)
    {
        var preset = PresetOf(profile);
        var settings = preset.ToSettings();
        var spO2 = ConditionedSource.SpO2Of(recording)!;
        var pulse = ConditionedSource.PulseRateOf(recording);
        var target = preset.Target is { } t ? new TargetRange(t.Value.Low, t.Value.High) : null;
        var present = Replayer.Run(recording, settings).Signals;
        var after = proposed is null ? null : settings with { SpO2Low = proposed.SpO2Low, Backstop = proposed.Backstop, SpO2Conditioning = settings.SpO2Conditioning with { Averaging = proposed.Averaging } };
        var proposedSignals = after is null ? null : Replayer.Run(recording, after).Signals;
        var events = MustCatchFinder.Find(spO2, ConditioningSettings.Default, MustCatchDefinitions.For(preset.Category));
        return new RecordingSection
        {
            Recording = recording,
            Category = preset.Category,
            SpO2 = ConditionedSeries.Of(spO2, ConditioningSettings.Default),
            PulseRate = pulse is null ? null : ConditionedSeries.Of(pulse, ConditioningSettings.Default),
            Review = RecordingReviewer.Review(recording, spO2, ConditioningSettings.Default, new ReviewOptions(target, pulse)),
            PresentSettings = settings,
            PresentSignals = present,
            ProposedSettings = after,
            ProposedSignals = proposedSignals,
            MustCatch = [.. events.Select(e => new MustCatchOutcome(e, Answer(e, present), proposedSignals is null ? null : Answer(e, proposedSignals)))],
            Issues =
            [
                new ReadIssue(IssueSeverity.Note, "text.trailing", "line 28802", "the text “end of recording”", "a row of numbers", "the line was left out"),
                new ReadIssue(IssueSeverity.Doubt, "time.repeated", "line 4711, column Time", "the same time as in the line before", "rising times", "the first of the two values was kept", 3),
            ],
        };
    }

    private static CategoryPreset PresetOf(RehearsalProfile? profile) =>
        profile is not null && CategoryPresets.TryParse(profile.CategoryName, out var preset) ? preset! : CategoryPresets.Adult;

    private static CatchAnswer Answer(MustCatchEvent mustCatch, IReadOnlyList<ReplayedSignal> signals)
    {
        var (verdict, time) = CatchJudge.Judge(mustCatch, signals);
        return new CatchAnswer(verdict, time);
    }

    private static IReadOnlyList<GroupProposal> Search(IReadOnlyList<RehearsalPatient> patients, IReadOnlyList<Recording> recordings, int resamples)
    {
        return [.. patients.GroupBy(p => p.Profile.CategoryName).SelectMany(g => Search(g.ToList(), recordings, resamples, PresetOf(g.First().Profile).ToSettings().ForSpO2Low()))];
    }

    private static IReadOnlyList<GroupProposal> Search(IReadOnlyList<RehearsalPatient> patients, IReadOnlyList<Recording> recordings, int resamples, CandidateSettings? present)
    {
        PatientRecordings[] evidence = [.. patients.Select(p => new PatientRecordings(p.Key, p.Profile.Category, [.. p.Nights.Where(n => recordings.Contains(n.Recording)).Select(n => Evidence(n.Recording, p.Profile))]))];
        return ProposalSearch.Propose(evidence, ProposalRules.Default with { Resamples = resamples }, present);
    }

    private static TuningRecording Evidence(Recording recording, RehearsalProfile profile)
    {
        var source = ConditionedSource.SpO2Of(recording)!;
        var definition = MustCatchDefinitions.For(profile.Category);
        return new TuningRecording
        {
            Name = recording.Name,
            Start = recording.Start,
            SpO2 = source,
            SourceAveraging = recording.SourceAveraging,
            Oxygen = profile.Oxygen == "oxygen" ? OxygenStatus.OnOxygen : OxygenStatus.OnAir,
            Definition = definition,
            MustCatch = MustCatchFinder.Find(source, ConditioningSettings.Default, definition),
        };
    }

    private static SettingsSection SettingsOf(GroupProposal answer, IReadOnlyList<RehearsalPatient> patients, IReadOnlyList<Recording> recordings)
    {
        var request = new MapRequest(LimitSide.Low, MapGrid.SpO2Default, 0, null, ConditioningSettings.Default);
        var maps = patients.Where(p => answer.Patients.Contains(p.Key)).SelectMany(p => p.Nights).Where(n => recordings.Contains(n.Recording))
            .Select(n => ConditionedSource.SpO2Of(n.Recording)!)
            .Select(s => SettingsMap.Of(s, request, MustCatchFinder.Find(s, ConditioningSettings.Default, MustCatchDefinitions.For(answer.Group.Category)))).ToList();
        var map = SettingsMap.Sum(maps);
        var frame = new SearchFrame(Percent.Of(85), Percent.Of(94), 0, 30);
        return new SettingsSection
        {
            Group = answer.Group.ToString(),
            Category = answer.Group.Category,
            Patients = answer.Patients.Count,
            Recordings = answer.Recordings,
            Valid = answer.Valid,
            Connected = answer.Connected,
            SourceAveraging = new SourceAveraging(answer.Group.SourceAveraging),
            MapByDelay = MapPicture.ByDelay(map) with { SearchedWithin = frame },
            MapByArea = MapPicture.ByArea(map),
            MustCatch = MustCatchDefinitions.For(answer.Group.Category),
            Proposal = answer.Proposal,
        };
    }

    private static PatientLoad LoadOf(RehearsalPatient patient, IReadOnlyList<RecordingSection> sections) => new(
        patient.Key, patient.Profile.Category, sections.Count,
        new Duration(sections.Sum(s => s.SpO2!.Valid.Milliseconds)), new Duration(sections.Sum(s => s.SpO2!.Connected.Milliseconds)),
        sections.Sum(s => s.PresentSignals!.Count(x => x.Condition.IsPhysiological())),
        sections.All(s => s.ProposedSignals is not null) ? sections.Sum(s => s.ProposedSignals!.Count(x => x.Condition.IsPhysiological())) : null,
        sections.Sum(s => s.PresentSignals!.Count(x => !x.Condition.IsPhysiological())),
        sections.Sum(s => s.MustCatch.Count));

    private static Provenance ProvenanceOf(params string[] names) => new()
    {
        Software = "Stillwatch 0.1.0",
        Inputs = [.. names.Select((n, i) => new InputFile(n, string.Concat(Enumerable.Repeat($"{i + 16:x2}", 32)), 1_234_567))],
        Command = "stillwatch tune *.csv --category adult --report night.html",
    };
}
