using System.Text;
using Stillwatch.Alarms;
using Stillwatch.App.Commands;
using Stillwatch.App.Files;
using Stillwatch.Conditioning;
using Stillwatch.Reports;
using Stillwatch.Reports.Model;

namespace Stillwatch.App.Jobs;

/// <summary>From a command's model to a report, and to its file. The same input gives the same bytes: no time of day is in it.</summary>
internal static class ReportJob
{
    private static readonly string Software = $"Stillwatch {typeof(ReportJob).Assembly.GetName().Version?.ToString(3)}";

    public static ReportModel Of(ReviewModel model, SideFiles side) => new()
    {
        Title = $"{model.Loaded.File.Name}: what happened",
        IsInvented = IsInvented([model.Loaded]),
        Recordings = [SectionOf(model, proposed: null)],
        Provenance = Origin([model.Loaded], side),
    };

    /// <param name="model">Map and proposals.</param>
    /// <param name="ward">Contributors, where they were asked about.</param>
    /// <param name="side">The side files given.</param>
    public static ReportModel Of(TuneModel model, WardModel? ward, SideFiles side)
    {
        var proposals = model.Recordings.Select(r => ProposedFor(model, r, side)).ToList();
        var sections = Sections(model.Recordings, model.Conditioning, side, i => proposals[i]);
        return new ReportModel
        {
            Title = TitleOf(model.Recordings),
            IsInvented = IsInvented(model.Recordings.Select(r => r.Loaded)),
            Recordings = sections,
            Settings = [.. model.Groups.Select(SettingsOf)],
            Ward = ward is null ? null : WardOf(ward, sections),
            Provenance = Origin(model.Recordings.Select(r => r.Loaded), side),
        };
    }

    public static ReportModel Of(WardModel model, ConditioningSettings conditioning, SideFiles side)
    {
        var sections = Sections(model.Recordings, conditioning, side with { Settings = side.Settings ?? side.Present }, _ => null);
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
    public static void Write(string path, ReportModel model)
    {
        try
        {
            using var writer = new StreamWriter(path, append: false, new UTF8Encoding(encoderShouldEmitUTF8Identifier: false)) { NewLine = "\n" };
            HtmlReport.Write(model, writer);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or NotSupportedException)
        {
            throw StopException.Unreadable(new Trouble($"cannot write the report {path}", e.Message, "a file that may be written", path, "the folder does not exist, or belongs to another account"), e);
        }
    }

    private static List<RecordingSection> Sections(IReadOnlyList<TunedRecording> recordings, ConditioningSettings conditioning, SideFiles side, Func<int, AlarmSettings?> proposed)
    {
        var sections = new RecordingSection[recordings.Count];
        var replayed = side with { Settings = side.Present ?? side.Settings };
        Parallel.For(0, recordings.Count, i => sections[i] = SectionOf(ReviewJob.Of(recordings[i].Loaded, conditioning, replayed), proposed(i)));
        return [.. sections];
    }

    private static RecordingSection SectionOf(ReviewModel model, AlarmSettings? proposed)
    {
        var after = proposed is null ? null : ReviewJob.Replay(model.Loaded, new NamedSettings("proposal", null, proposed), model.MustCatch);
        return new RecordingSection
        {
            Recording = model.Loaded.Recording,
            Category = model.Loaded.Category.Category,
            SpO2 = model.SpO2,
            PulseRate = model.PulseRate,
            Conditioning = model.Conditioning,
            Review = model.Review,
            PresentSettings = model.Replay?.Settings.Settings,
            PresentSignals = model.Replay?.Signals,
            ProposedSettings = proposed,
            ProposedSignals = after?.Signals,
            MustCatch = [.. model.MustCatch.Select((e, i) => new MustCatchOutcome(e, model.Replay?.Answers[i], after?.Answers[i]))],
            Issues = model.Loaded.Issues,
        };
    }

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

    private static SettingsSection SettingsOf(TunedGroup group) => new()
    {
        Group = group.Category.IsAssumed ? $"{group.Key} (adult assumed: no category was given)" : group.Key.ToString(),
        Category = group.Category.Category,
        Patients = group.Patients,
        Recordings = group.Recordings.Count,
        Valid = group.Map.Valid,
        Connected = group.Map.Connected,
        SourceAveraging = group.Recordings[0].Loaded.Recording.SourceAveraging,
        MapByDelay = MapPicture.ByDelay(group.Map),
        MapByArea = MapPicture.ByArea(group.Map),
        MustCatch = group.Recordings[0].Definition,
        Proposal = group.Search.Proposal,
    };

    private static WardSection WardOf(WardModel model, List<RecordingSection> sections)
    {
        var proposed = model.Recordings.Select((r, i) => (r.Loaded.Patient, sections[i].ProposedSignals)).ToLookup(x => x.Patient, x => x.ProposedSignals);
        bool anyProposed = sections.Exists(s => s.ProposedSignals is not null);
        var patients = model.Patients.Select(p => new PatientLoad(
            p.Load.Patient, p.Category.Category, p.Load.Recordings, p.Load.Physiological.Per, p.Load.Technical.Per, p.Load.Physiological.Signals,
            proposed[p.Load.Patient].All(s => s is not null) ? proposed[p.Load.Patient].Sum(s => s!.LongCount(x => x.Condition.IsPhysiological())) : null,
            p.Load.Technical.Signals, p.MustCatchEvents)).ToList();
        // Where a group has no proposal its present settings stay in force.
        long after = patients.Sum(p => p.ProposedSignals ?? p.PresentSignals ?? 0);
        return new WardSection
        {
            Patients = patients,
            PresentSignalsPerDay = model.Load.Physiological.SignalsPerDay,
            ProposedSignalsPerDay = anyProposed && model.Load.Physiological.Per > Time.Duration.Zero ? after * 24 / model.Load.Physiological.Per.Hours : null,
            TechnicalPerDay = model.Load.Technical.SignalsPerDay,
        };
    }

    private static Provenance Origin(IEnumerable<LoadedRecording> recordings, SideFiles side) => new()
    {
        Software = Software,
        Inputs =
        [
            .. recordings.Select(r => new Reports.Model.InputFile(r.File.Name, r.File.Sha256, r.File.Bytes)),
            .. side.Paths().Select(s => (File: Files.InputFile.Of(s.Path), s.Role)).Select(s => new Reports.Model.InputFile(s.File.Name, s.File.Sha256, s.File.Bytes, s.Role)),
        ],
    };

    private static string TitleOf(IReadOnlyList<TunedRecording> recordings)
    {
        int patients = recordings.Select(r => r.Loaded.Patient).Distinct().Count();
        return recordings.Count == 1 ? recordings[0].Loaded.File.Name : $"{recordings.Count} recordings of {patients} {(patients == 1 ? "patient" : "patients")}";
    }

    private static bool IsInvented(IEnumerable<LoadedRecording> recordings) => recordings.Any(r => r.IsInvented);
}
