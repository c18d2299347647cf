using System.Collections.Concurrent;
using Stillwatch.Alarms;
using Stillwatch.Rehearsal;
using Stillwatch.Rehearsal.Patients;
using Stillwatch.Rehearsal.Scenarios;
using Stillwatch.Replay;
using Stillwatch.Signals;
using Stillwatch.Tests.Alarms;

namespace Stillwatch.Tests.Rehearsal.Scenarios;

/// <summary>A run with its screen laid beside its truth, second by second.</summary>
internal sealed class Rehearsed
{
    /// <summary>A lesson must hold for each of these, not for a lucky one; STILLWATCH_FULL=1 takes more of them.</summary>
    public static readonly ulong[] Seeds = [DemoWard.DefaultSeed, .. Enumerable.Range(1, Sampling.Cases(1) > 1 ? 40 : 5).Select(i => (ulong)i)];

    // Many tests look at the same runs; a run never changes.
    private static readonly ConcurrentDictionary<(string Name, ulong Seed), Rehearsed> Runs = new();

    private readonly Dictionary<int, int> rowOf = [];

    private Rehearsed(RehearsalRun run)
    {
        Run = run;
        var times = SpO2.Times;
        for (int row = 0; row < times.Count; row++) rowOf[(int)(times.TimeAt(row).Milliseconds / 1000)] = row;
        Signals = Replayer.Run(run.Numerics, run.Scenario.Preset.ToSettings());
    }

    public RehearsalRun Run { get; }

    /// <summary>What the category's starting settings signal on the screen's numbers.</summary>
    public ReplayResult Signals { get; }

    public IEnumerable<int> Seconds => Enumerable.Range(0, Run.Seconds);

    private Channel SpO2 => Run.Numerics.Find(ChannelKind.SpO2)!;

    public static IEnumerable<Rehearsed> Of(string name) => Seeds.Select(seed => Runs.GetOrAdd((name, seed), key => new Rehearsed(RehearsalScenarios.Find(key.Name)!.Run(key.Seed))));

    public PatientMoment Truth(int second) => Run.Patient[second];

    /// <summary>The SpO2 on the screen; null: none.</summary>
    public double? Shown(int second) => Shown(ChannelKind.SpO2, second);

    public double? Shown(ChannelKind kind, int second) =>
        rowOf.TryGetValue(second, out int row) && Run.Numerics.Find(kind)!.Values[row] is var micro && micro != ValueColumn.Missing ? micro / 1e6 : null;

    /// <summary>First second from another on at which something holds.</summary>
    public int First(int from, Func<int, bool> holds) => Seconds.Skip(from).First(holds);

    public bool During(TruthKind kind, int second) => Run.Episodes.Any(e => e.Kind == kind && e.Span.Start.Milliseconds <= second * 1000L && second * 1000L < e.Span.End.Milliseconds);

    public IEnumerable<(int Start, int End)> Stretches(TruthKind kind) =>
        Run.Episodes.Where(e => e.Kind == kind).Select(e => ((int)(e.Span.Start.Milliseconds / 1000), (int)(e.Span.End.Milliseconds / 1000)));

    public int Count(AlarmCondition condition) => Signals.Of(condition).Count();

    /// <summary>Second at which the first signal of a condition starts.</summary>
    public int FirstSignal(AlarmCondition condition) => (int)Signals.Of(condition).First().Start.Seconds;
}
