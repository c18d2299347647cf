using CsCheck;
using Stillwatch.Alarms;
using Stillwatch.Conditioning;
using Stillwatch.Quantities;
using Stillwatch.Replay;
using Stillwatch.Signals;
using Stillwatch.Time;
using Stillwatch.Tuning.MustCatch;
using Stillwatch.Tuning.Proposals;
using Xunit;

namespace Stillwatch.Tests.Proposals;

/// <summary>The evidence is read from maps; the engine, candidate by candidate, must say the same.</summary>
public class EvidenceAgainstEngineTests
{
    private static readonly int Iterations = Environment.GetEnvironmentVariable("STILLWATCH_FULL") == "1" ? 2000 : 60;

    private static readonly CategorySearch Small = new(SearchBounds.Default, new CandidateAxes
    {
        Limits = [Percent.Of(80), Percent.Of(86), Percent.Of(90)],
        Delays = [Duration.Zero, Duration.FromSeconds(10), Duration.FromSeconds(30)],
        Areas = [Area.Of(40)],
        Averagings = [Duration.Zero, Duration.FromSeconds(8)],
        Backstops = [new BackstopSettings(Percent.Of(80), Duration.FromSeconds(5)), null],
        ClearMargin = Percent.Of(2),
    });

    /// <summary>Stretches of one value or of no number, as a night has them: long enough for delays, losses and events.</summary>
    private static readonly Gen<decimal?[]> Night =
        Gen.Select(Gen.Int[1, 90], Gen.Frequency((1, Gen.Const((decimal?)null)), (5, Gen.Int[74, 97].Select(v => (decimal?)v)))).Array[1, 16]
            .Select(stretches => stretches.SelectMany(s => Enumerable.Repeat(s.Item2, s.Item1)).ToArray());

    [Fact]
    public void What_the_maps_say_of_a_candidate_is_what_the_engine_says() =>
        Night.Sample(values =>
        {
            var rules = ProposalRules.Default;
            var both = new CandidateSettings(new LimitSettings<Percent>(Percent.Of(88), Duration.FromSeconds(10), Area.Of(30), Percent.Of(1)), null, Duration.Zero);
            var grid = CandidateGrid.Of(Small, both);
            var recording = Tuning(values);
            var evidence = EvidenceFromMaps.Of("P", [recording], grid, rules);
            for (int c = 0; c < grid.Count; c++)
            {
                var settings = grid.Candidates[c];
                if (!settings.CanRun())
                {
                    Assert.Equal(-1, evidence.Signals[c]);
                    continue;
                }

                var run = Replayer.RunLow(recording.SpO2, settings.SpO2Low, settings.Backstop, rules.Conditioning with { Averaging = settings.Averaging });
                Assert.True(run.Count == evidence.Signals[c], settings.InWords());
                Assert.Equal(run.Sum(s => s.Active.Milliseconds), evidence.ActiveMilliseconds[c]);
                for (int e = 0; e < recording.MustCatch.Count; e++)
                {
                    var (verdict, time) = CatchJudge.Judge(recording.MustCatch[e], run);
                    Assert.Equal(time, evidence.Events[e].TimeToSignal(c));
                    Assert.Equal(verdict == CatchVerdict.Missed, evidence.Events[e].IsMissed(c));
                    Assert.Equal(verdict == CatchVerdict.Late, evidence.Events[e].IsLate(c));
                }
            }
        }, iter: Iterations, threads: 1);

    [Fact]
    public void Technical_signals_of_lost_time_are_those_of_the_engine() =>
        Gen.Select(Night, Gen.Int[82, 94], Gen.OneOf(Gen.Const(0), Gen.Const(8)), Gen.OneOf(Gen.Const(0), Gen.Const(15))).Sample((values, limit, averaging, delay) =>
        {
            var conditioning = ConditioningSettings.Default with { Averaging = Duration.FromSeconds(averaging) };
            var recording = Recorded(values);
            var run = Replayer.Run(recording, new AlarmSettings
            {
                SpO2Low = new LimitSettings<Percent>(Percent.Of(limit), Duration.FromSeconds(delay), Area.Zero, default),
                SpO2Conditioning = conditioning,
            });
            var lost = LostTime.Of(ConditionedSource.SpO2Of(recording)!, conditioning);
            Assert.Equal(
                run.Of(AlarmCondition.NoReading).Count(),
                lost.TechnicalSignals(Percent.Of(limit), TechnicalSettings.Default.NoReadingDelay));
        }, iter: Iterations * 10, threads: 1);

    [Fact]
    public void Two_recordings_of_one_patient_add_up()
    {
        decimal?[] first = [.. Enumerable.Repeat((decimal?)96, 60), .. Enumerable.Repeat((decimal?)87, 40), .. Enumerable.Repeat((decimal?)96, 60)];
        decimal?[] second = [.. Enumerable.Repeat((decimal?)95, 30), .. Enumerable.Repeat((decimal?)86, 70), .. Enumerable.Repeat((decimal?)null, 60)];
        var grid = CandidateGrid.Of(Small, null);
        var apart = new[] { first, second }.Select(v => EvidenceFromMaps.Of("P", [Tuning(v)], grid, ProposalRules.Default)).ToList();
        var together = EvidenceFromMaps.Of("P", [Tuning(first), Tuning(second)], grid, ProposalRules.Default);
        for (int c = 0; c < grid.Count; c++)
            Assert.Equal(apart.Sum(a => Math.Max(0, a.Signals[c])), Math.Max(0, together.Signals[c]));
        Assert.Equal(apart.Sum(a => a.Valid.Milliseconds), together.Valid.Milliseconds);
        Assert.Equal(apart.Sum(a => a.Connected.Milliseconds), together.Connected.Milliseconds);
        Assert.Equal(2, together.Recordings);
        Assert.Equal(apart.Sum(a => a.Possible.Count), together.Possible.Count);
        Assert.Single(together.Possible);
    }

    private static Recording Recorded(decimal?[] values)
    {
        var source = ConditionedSource.Even(values, Duration.FromSeconds(1));
        return new Recording("night", new RecordingStart.Unknown(), [source.Channel], SourceAveraging.Unknown, []);
    }

    private static TuningRecording Tuning(decimal?[] values) => TuningRecording.Of(
        Recorded(values), OxygenStatus.OnAir, MustCatchDefinitions.For(PatientCategory.Adult), [], ConditioningSettings.Default)!;
}
