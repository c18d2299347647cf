using Stillwatch.Alarms;
using Stillwatch.Quantities;
using Stillwatch.Signals;
using Stillwatch.Time;
using Stillwatch.Tuning.Proposals;

namespace Stillwatch.Tests.Proposals;

/// <summary>Evidence written down by hand, so that the search and the ten lines can be checked on numbers anyone can add up.</summary>
internal static class HandMade
{
    public static readonly BackstopSettings Backstop = new(Percent.Of(80), Duration.FromSeconds(5));

    public static readonly GroupKey Adults = new(PatientCategory.Adult, Duration.FromSeconds(3), OxygenStatus.OnAir, Duration.FromSeconds(1), "test");

    /// <summary>Limits 84, 86, 88, 90 with delays 0, 10, 20, 40 s; bounds as by default, so that 84 and 40 s lie outside.</summary>
    public static readonly ProposalRules Rules = new()
    {
        Categories = new Dictionary<PatientCategory, CategorySearch>(),
        Otherwise = new CategorySearch(SearchBounds.Default, new CandidateAxes
        {
            Limits = [Percent.Of(84), Percent.Of(86), Percent.Of(88), Percent.Of(90)],
            Delays = [.. new[] { 0, 10, 20, 40 }.Select(d => Duration.FromSeconds(d))],
            Areas = [],
            Averagings = [Duration.Zero],
            Backstops = [Backstop],
        }),
        Resamples = 200,
    };

    public static CandidateSettings Settings(int limit, int delaySeconds, BackstopSettings? backstop = null, int areaPercentSeconds = 0) => new(
        new LimitSettings<Percent>(Percent.Of(limit), Duration.FromSeconds(delaySeconds), Area.Of(areaPercentSeconds), default),
        backstop ?? Backstop, Duration.Zero);

    public static CandidateGrid Grid(CandidateSettings? present = null, ProposalRules? rules = null) =>
        CandidateGrid.Of((rules ?? Rules).For(PatientCategory.Adult), present);

    public static int Limit(CandidateSettings s) => (int)s.SpO2Low.Limit.Value;

    public static int Delay(CandidateSettings s) => (int)s.SpO2Low.Delay.Seconds;

    /// <summary>A lower load for a lower limit and a longer delay: ten signals at 90 % without delay, one less for each step of either.</summary>
    public static long UsualLoad(CandidateSettings s) => Math.Max(1, 10 - (90 - Limit(s)) - Delay(s) / 10);

    /// <summary>An event of 90 s that every limit signals after its delay.</summary>
    public static Func<CandidateSettings, int?> SignalledAfterItsDelay => s => Delay(s);

    public static EventEvidence Event(
        CandidateGrid grid, Func<CandidateSettings, int?> secondsToSignal, int lengthSeconds = 90, int withinSeconds = 60, int onsetSeconds = 100) => new(
        "night", SampleTime.FromSeconds(onsetSeconds), SampleTime.FromSeconds(onsetSeconds + lengthSeconds), "≤ 85 % for ≥ 60 s",
        [
            new PartEvidence(
                Duration.FromSeconds(lengthSeconds), Duration.FromSeconds(withinSeconds),
                [.. grid.Candidates.Select(c => secondsToSignal(c) is { } t ? t * 1000 : -1)]),
        ]);

    public static PatientEvidence Patient(
        CandidateGrid grid, string name, Func<CandidateSettings, long>? signals = null, Func<CandidateSettings, long>? technical = null,
        IReadOnlyList<EventEvidence>? events = null, IReadOnlyList<EventEvidence>? possible = null, int hours = 24, Func<CandidateSettings, long>? activeMinutes = null) => new(
        name, 1, Duration.FromHours(hours), Duration.FromHours(hours),
        [.. grid.Candidates.Select(signals ?? UsualLoad)],
        [.. grid.Candidates.Select(c => 60_000 * (activeMinutes?.Invoke(c) ?? 0))],
        [.. grid.Candidates.Select(technical ?? (_ => 2))],
        events ?? [.. Enumerable.Range(0, 6).Select(i => Event(grid, SignalledAfterItsDelay, onsetSeconds: 100 + 1000 * i))],
        possible ?? []);

    /// <summary>Twelve patients with six events each: enough for the guard rails (59 events, 9 patients).</summary>
    public static List<PatientEvidence> WardOf(CandidateGrid grid, Func<int, PatientEvidence>? patient = null, int patients = 12) =>
        [.. Enumerable.Range(1, patients).Select(i => patient?.Invoke(i) ?? Patient(grid, Name(i)))];

    public static string Name(int number) => $"P{number:00}";

    public static Proposal Propose(
        CandidateGrid grid, IReadOnlyList<PatientEvidence> patients, CandidateSettings? present = null, ProposalRules? rules = null,
        GroupKey? key = null, int groups = 1, MarkCounts? marks = null, Func<CandidateSettings, BlindSample>? blind = null) =>
        ProposalSearch.Answer(key ?? Adults, groups, grid, patients, rules ?? Rules, present, marks ?? MarkCounts.None, blind);

    public static string Line(this Proposal proposal, int line) =>
        string.Join('\n', proposal.Findings.Where(f => f.Line == line).Select(f => $"{f.Verdict}: {f.Words}"));
}
