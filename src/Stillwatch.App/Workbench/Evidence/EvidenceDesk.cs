using System.Diagnostics;
using Stillwatch.Alarms;
using Stillwatch.App.Jobs;
using Stillwatch.Quantities;
using Stillwatch.Replay;
using Stillwatch.Time;
using Stillwatch.Tuning.Map;
using Stillwatch.Tuning.Proposals;

namespace Stillwatch.App.Workbench.Evidence;

/// <summary>What the recordings of one group say of settings that somebody asked about.</summary>
/// <param name="Settings">The settings.</param>
/// <param name="Problems">What is wrong with them, in words; empty: nothing.</param>
/// <param name="Evidence">Null where something is wrong.</param>
/// <param name="Patients">The same a patient each, at index 0.</param>
/// <param name="Took">How long the answer took to compute.</param>
public sealed record Asked(CandidateSettings Settings, IReadOnlyList<string> Problems, CandidateEvidence? Evidence, IReadOnlyList<PatientEvidence> Patients, TimeSpan Took);

/// <summary>A signal that one of two settings gives and the other does not.</summary>
public sealed record SignalChange(TunedRecording Recording, ReplayedSignal Signal);

/// <summary>Signals of SpO2 low that come and go from one settings set to another; two that overlap are the same signal.</summary>
public sealed record SignalChanges(IReadOnlyList<SignalChange> Gone, IReadOnlyList<SignalChange> Added, int Kept);

/// <summary>
/// Answers questions about settings over one group of like recordings fast enough for a control that is being moved: everything that is
/// the same for all settings is made ready once. All numbers are those of the proposal search.
/// </summary>
public sealed class EvidenceDesk
{
    /// <summary>Our averaging times to choose between, in seconds. Unit policy, no source.</summary>
    public static readonly IReadOnlyList<int> Averagings = [0, 4, 8, 16];

    private const long RowsKeptReady = 4_000_000; // above, only the unaveraged series is kept: a row of a ready series takes some thirty bytes
    private const int AnswersKept = 400;
    private const int MapsKept = 12;

    private readonly ProposalRules rules;
    private readonly MapRequest request;
    private readonly PatientNights[] nights;
    private readonly Lock door = new();
    private readonly Dictionary<CandidateSettings, Asked> answers = [];
    private readonly Dictionary<(Duration Averaging, int MarginMicro), SettingsMap> maps = [];

    public EvidenceDesk(TunedGroup group, MapRequest request)
    {
        Group = group;
        this.request = request;
        rules = TuneJob.RulesFor(group.Category, request);
        long rows = group.Recordings.Sum(r => (long)r.Evidence.SpO2.Channel.Times.Count);
        Duration[] ready = [.. Averagings.Where(a => a == 0 || rows * Averagings.Count <= RowsKeptReady).Select(a => Duration.FromSeconds(a))];
        var patients = group.Recordings.GroupBy(r => r.Loaded.Patient).OrderBy(p => p.Key, StringComparer.Ordinal).ToList();
        nights = new PatientNights[patients.Count];
        Parallel.For(0, patients.Count, i => nights[i] = new PatientNights(patients[i].Key, patients[i].Select(r => r.Evidence), rules, ready));
        maps[(group.Map.Request.Conditioning.Averaging, group.Map.Request.ClearMarginMicro)] = group.Map;
    }

    public TunedGroup Group { get; }

    /// <summary>What a proposal may miss, and how long its signals may last.</summary>
    public GuardRails Rails => rules.GuardRails;

    public SearchBounds Bounds => rules.For(Group.Category.Category).Bounds;

    public Asked Ask(CandidateSettings settings)
    {
        lock (door)
        {
            if (answers.TryGetValue(settings, out var known)) return known;
        }

        long started = Stopwatch.GetTimestamp();
        var problems = AlarmSettingsCheck.Problems(new AlarmSettings { SpO2Low = settings.SpO2Low, Backstop = settings.Backstop });
        PatientEvidence[] patients = [];
        CandidateEvidence? evidence = null;
        if (problems.Count == 0)
        {
            var grid = CandidateGrid.Of([settings], Bounds);
            patients = new PatientEvidence[nights.Length];
            Parallel.For(0, nights.Length, i => patients[i] = nights[i].Under(grid));
            evidence = SideBySide.Of(grid, patients, rules)[0];
        }

        var asked = new Asked(settings, problems, evidence, patients, Stopwatch.GetElapsedTime(started));
        lock (door)
        {
            if (answers.Count >= AnswersKept) answers.Clear();
            answers[settings] = asked;
        }

        return asked;
    }

    /// <summary>The settings map of the group under an averaging and a clear margin, backstop off.</summary>
    public SettingsMap Map(Duration averaging, Percent clearMargin)
    {
        var key = (averaging, clearMargin.Micro);
        lock (door)
        {
            if (maps.TryGetValue(key, out var known)) return known;
        }

        var asked = request with { Conditioning = request.Conditioning with { Averaging = averaging }, ClearMarginMicro = clearMargin.Micro };
        var drawn = new SettingsMap[Group.Recordings.Count];
        Parallel.For(0, drawn.Length, i => drawn[i] = SettingsMap.Of(Group.Recordings[i].Evidence.SpO2, asked, Group.Recordings[i].MustCatch));
        var sum = SettingsMap.Sum(drawn);
        lock (door)
        {
            if (maps.Count >= MapsKept) maps.Clear();
            maps[key] = sum;
        }

        return sum;
    }

    /// <summary>Must-catch events that two settings answer differently; empty where either cannot be.</summary>
    public static IReadOnlyList<ChangedEvent> Changes(Asked before, Asked after) =>
        before.Evidence is null || after.Evidence is null ? [] : SideBySide.Changes(before.Patients, 0, after.Patients, 0);

    /// <summary>The signals themselves, by the engine over every recording.</summary>
    public SignalChanges Signals(CandidateSettings before, CandidateSettings after)
    {
        var found = new (List<SignalChange> Gone, List<SignalChange> Added, int Kept)[Group.Recordings.Count];
        Parallel.For(0, found.Length, i =>
        {
            var recording = Group.Recordings[i];
            var one = Run(recording, before);
            var other = Run(recording, after);
            found[i] = (Only(recording, one, other), Only(recording, other, one), one.Count - Only(recording, one, other).Count);
        });
        return new SignalChanges([.. found.SelectMany(f => f.Gone)], [.. found.SelectMany(f => f.Added)], found.Sum(f => f.Kept));
    }

    private IReadOnlyList<ReplayedSignal> Run(TunedRecording recording, CandidateSettings settings) =>
        Replayer.RunLow(recording.Evidence.SpO2, settings.SpO2Low, settings.Backstop, request.Conditioning with { Averaging = settings.Averaging });

    private static List<SignalChange> Only(TunedRecording recording, IReadOnlyList<ReplayedSignal> those, IReadOnlyList<ReplayedSignal> notThese) =>
        [.. those.Where(s => !notThese.Any(o => o.Start < s.End && s.Start < o.End)).Select(s => new SignalChange(recording, s))];
}
