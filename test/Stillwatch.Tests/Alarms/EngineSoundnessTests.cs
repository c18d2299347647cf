using CsCheck;
using Stillwatch.Alarms;
using Stillwatch.Conditioning;
using Stillwatch.Quantities;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Tests.Alarms;

/// <summary>Hostile inputs, memory, and bounds.</summary>
public sealed class EngineSoundnessTests
{
    private static readonly Gen<int> HostileNumber = Gen.OneOf(
        Gen.Int, Gen.OneOf(int.MinValue, int.MinValue + 1, int.MaxValue, 0, -1, 1), Gen.Int[0, 100].Select(v => v * FixedPoint.One));

    private static readonly Gen<long> HostileTime = Gen.Frequency(
        (10, Gen.Long[-1000, 500_000]), (1, Gen.OneOf(long.MinValue, long.MaxValue, -1L, 0L, AlarmEngine.FurthestMilliseconds, AlarmEngine.FurthestMilliseconds + 1)), (1, Gen.Long));

    private static readonly AlarmSettings Everything = new()
    {
        SpO2Low = new(Percent.Of(90), Duration.FromSeconds(10), Area.Of(30), Percent.Of(2)),
        Backstop = new(Percent.Of(80), Duration.FromSeconds(5)),
        SpO2High = new(Percent.Of(97), Duration.FromSeconds(10), Area.Of(10), Percent.Of(1)),
        PulseRateLow = new(BeatsPerMinute.Of(50), Duration.FromSeconds(5), Area.Zero, BeatsPerMinute.Of(2)),
        PulseRateHigh = new(BeatsPerMinute.Of(120), Duration.FromSeconds(5), Area.Zero, BeatsPerMinute.Of(2)),
        Technical = new() { QualityThresholdMicro = 50 * FixedPoint.One },
        Annunciation = new() { ReminderEvery = Duration.FromSeconds(10), Latching = AlarmConditionSet.Of(AlarmCondition.SpO2Low) },
    };

    private static readonly Gen<AlarmInput> Hostile = Gen.Select(HostileTime, Gen.Int[0, 9], HostileNumber.Array[5], Gen.Int[-3, 20], Gen.Int[-3, 20]).Select((time, kind, n, a, b) =>
    {
        var at = new SampleTime(time);
        return kind switch
        {
            0 => AlarmInput.AdvanceTo(at),
            1 => AlarmInput.SourceIs(at, (SourceStates)n[0]),
            2 => AlarmInput.Operator(at, (OperatorAction)a, b < -1 ? null : (AlarmCondition)b, b == 7 ? new Duration(n[0]) : null),
            3 => AlarmInput.SettingsAre(at, a == 5 ? Everything with { Priorities = new() { SpO2Low = new((FailureResult)b, (HarmOnset)n[0]) } } : a % 2 == 0 ? Everything : Everything with { SpO2Low = new(Percent.FromMicro(n[0]), new Duration(n[1]), new Area(n[2]), Percent.FromMicro(n[3])) }),
            4 => AlarmInput.SettingsAre(at, Everything with { SpO2Conditioning = new((ValidityRule)(b & 3), new Duration(n[1]), new Duration(n[2]), (Rounding)(a & 3)) }),
            _ => AlarmInput.Of(new AlarmRow(at, n[0], n[1], n[2], n[3], (SourceStates)(n[4] & 255))),
        };
    });

    [Fact]
    public void No_input_makes_the_engine_throw() =>
        Hostile.Array[0, 80].Sample(inputs =>
        {
            var run = new EngineRun(Everything, new AlarmFeed(new Duration(1000), new Duration(1000)));
            foreach (var input in inputs) run.Step(input);
            // A step later in time than all before it still works: nothing hostile has put the engine out of order.
            if (!run.State.HasEnded && run.State.Now is { Milliseconds: < AlarmEngine.FurthestMilliseconds } now)
            {
                run.Step(AlarmInput.AdvanceTo(now + new Duration(1)));
                Assert.Equal(now + new Duration(1), run.State.Now);
                Assert.True(AlarmEngine.NextDeadline(run.State) is not { } next || next > now);
            }
        }, iter: Sampling.Cases(1500), print: inputs => string.Join('\n', inputs.Select(i => $"{i.Kind} {i.Time.Milliseconds} {i.Row} {i.States} {i.Action} {i.Condition} {i.Length} {i.Settings}")));

    [Fact]
    public void Hostile_rows_in_time_order_do_not_make_it_throw_either() =>
        Gen.Select(HostileNumber, HostileNumber, HostileNumber, HostileNumber, Gen.Int[1, 70_000]).Array[1, 200].Sample(rows =>
        {
            var settings = Everything with { SpO2Conditioning = Everything.SpO2Conditioning with { Validity = ValidityRule.None, GapTolerance = Duration.FromSeconds(86_400) } };
            var run = new EngineRun(settings, new AlarmFeed(new Duration(1000), new Duration(1000)));
            long time = 0;
            foreach (var (spO2, pulse, perfusion, quality, step) in rows)
            {
                time += step;
                run.Step(AlarmInput.Of(new AlarmRow(new SampleTime(time), spO2, pulse, perfusion, quality)));
            }

            run.Step(AlarmInput.End(new SampleTime(time + 1000)));
            Assert.All(run.Signals, s => Assert.True(s.Start < s.End));
        }, iter: Sampling.Cases(500));

    [Fact]
    public void A_leap_over_a_thousand_years_with_reminders_due_every_ten_seconds_ends_at_once()
    {
        var run = new EngineRun(Everything, new AlarmFeed(new Duration(1000)));
        run.Step(AlarmInput.Of(new AlarmRow(default, 96 * FixedPoint.One)));
        run.Step(AlarmInput.Operator(default, OperatorAction.TurnAudioOff));
        run.Step(AlarmInput.AdvanceTo(new SampleTime(1000L * 365 * 86_400_000)));
        Assert.Equal(2, run.Log.Count(c => c.Kind == AlarmChangeKind.Reminder));
    }

    [Fact]
    public void A_row_or_an_advance_allocates_nothing()
    {
        var settings = Everything with { SpO2Conditioning = Everything.SpO2Conditioning with { Averaging = Duration.FromSeconds(8) } };
        var state = AlarmEngine.Start(settings, new AlarmFeed(new Duration(1000), new Duration(1000)));
        var changes = new AlarmChanges();
        long starts = 0;
        Walk(0, 5_000);
        starts = 0;
        long before = GC.GetAllocatedBytesForCurrentThread();
        Walk(5_000, 25_000);
        Assert.Equal(0, GC.GetAllocatedBytesForCurrentThread() - before);
        Assert.True(starts > 1000, $"Found {starts} starts of signals; expected a lively walk, or the test shows nothing.");

        void Walk(int from, int to)
        {
            for (int i = from; i < to; i++)
            {
                // Falls, dropouts, losses, perfusion, quality, operators: everything comes by in a minute and a half.
                int phase = i % 90;
                int spO2 = phase is > 70 and < 85 ? ValueColumn.Missing : (phase is > 20 and < 60 ? 78 + phase % 5 : 98) * FixedPoint.One;
                var row = new AlarmRow(new SampleTime(i * 1000L), spO2, (phase < 40 ? 130 : 40) * FixedPoint.One, 100_000 * (phase / 10), phase * FixedPoint.One,
                    phase % 20 == 7 ? SourceStates.SensorOff : SourceStates.None);
                Take(AlarmInput.Of(row));
                if (phase == 30) Take(AlarmInput.Operator(row.Time, OperatorAction.Acknowledge));
                if (phase == 50) Take(AlarmInput.Operator(row.Time, OperatorAction.PauseAudio, length: new Duration(5000)));
                Take(AlarmInput.AdvanceTo(new SampleTime(i * 1000L + 500)));
                if (AlarmEngine.NextDeadline(state) is null) throw new InvalidOperationException("A monitored feed always has something to wait for.");
            }
        }

        void Take(in AlarmInput input)
        {
            AlarmEngine.Step(state, input, changes);
            foreach (ref readonly var change in changes.Span)
            {
                if (change.Kind == AlarmChangeKind.Started) starts++;
            }
        }
    }
}
