using CsCheck;
using Stillwatch.Alarms;
using Stillwatch.Conditioning;
using Stillwatch.Quantities;
using Stillwatch.Replay;
using Stillwatch.Time;

namespace Stillwatch.Tests.Alarms;

/// <summary>What must hold for every series and every settings set.</summary>
public sealed class EnginePropertyTests
{
    [Fact]
    public void Advancing_time_in_between_changes_no_signal() =>
        Gen.Select(Nights.Any, Gen.Int[0, 3].Array[1, 60], Gen.Int[1, 999]).Sample((night, extras, fraction) =>
        {
            var run = new EngineRun(night.Settings, night.Feed);
            int i = 0;
            foreach (var row in night.Rows())
            {
                if (extras[i % extras.Length] == 1) run.Step(AlarmInput.AdvanceTo(row.Time));
                run.Step(row);
                if (extras[i % extras.Length] == 2) run.Step(AlarmInput.AdvanceTo(row.Time));
                for (int k = 1; extras[i % extras.Length] == 3 && k < 4; k++)
                    run.Step(AlarmInput.AdvanceTo(row.Time + new Duration(night.Period.Milliseconds * fraction * k / 4000)));
                i++;
            }

            run.Step(AlarmInput.End(night.End));
            Assert.Equal(Print(Replay(night)), Print(run.Signals.Where(s => s.Condition == AlarmCondition.SpO2Low)));
        }, iter: Sampling.Cases(300));

    [Fact]
    public void Stepping_from_deadline_to_deadline_changes_no_signal() =>
        Nights.Any.Sample(night =>
        {
            var run = new EngineRun(night.Settings, night.Feed);
            foreach (var row in night.Rows())
            {
                while (AlarmEngine.NextDeadline(run.State) is { } deadline && deadline < row.Time)
                {
                    run.Step(AlarmInput.AdvanceTo(deadline + new Duration(1)));
                    Assert.True(AlarmEngine.NextDeadline(run.State) is not { } next || next > deadline);
                }

                run.Step(row);
            }

            run.Step(AlarmInput.End(night.End));
            Assert.Equal(Print(Replay(night)), Print(run.Signals.Where(s => s.Condition == AlarmCondition.SpO2Low)));
        }, iter: Sampling.Cases(200));

    [Fact]
    public void Shifting_time_shifts_every_signal() =>
        Gen.Select(Nights.Any, Gen.Long[-10_000_000, 10_000_000]).Sample((night, shift) =>
        {
            var shifted = EngineRun.Of(night.Settings, night.Feed, [.. night.Rows(shift), AlarmInput.End(night.End + new Duration(shift))]);
            var back = shifted.Signals.Select(s => s with
            {
                Start = s.Start - new Duration(shift),
                End = s.End - new Duration(shift),
                EndDecided = s.EndDecided - new Duration(shift),
                Suspensions = [.. s.Suspensions.Select(x => new TimeSlice(x.Start - new Duration(shift), x.End - new Duration(shift)))],
            });
            Assert.Equal(Print(EngineRun.Of(night.Settings, night.Feed, [.. night.Rows(), AlarmInput.End(night.End)]).Signals), Print(back));
        }, iter: Sampling.Cases(200));

    [Fact]
    public void Raising_values_and_limits_alike_changes_no_signal() =>
        Gen.Select(Nights.Any, Gen.Int[-40, 5]).Sample((night, offset) =>
        {
            var plain = night with { Conditioning = night.Conditioning with { Validity = ValidityRule.None }, Values = [.. night.Values.Select(v => v is 0 ? null : v)] };
            var moved = plain with
            {
                Values = [.. plain.Values.Select(v => v + offset)],
                Low = plain.Low with { Limit = Percent.Of(plain.Low.Limit.Value + offset), ClearMargin = plain.Low.ClearMargin },
                Backstop = plain.Backstop is { } b ? b with { Limit = Percent.Of(b.Limit.Value + offset) } : null,
            };
            if (moved.Low.Limit.Value + moved.Low.ClearMargin.Value > 100) return;
            Assert.Equal(Print(Replay(plain)), Print(Replay(moved)));
        }, iter: Sampling.Cases(200));

    [Fact]
    public void A_longer_delay_is_active_only_where_the_shorter_one_is() =>
        Gen.Select(Nights.Any, Gen.Int[1, 20_000]).Sample((night, more) => AssertInside(
            Replay(night with { Low = night.Low with { Delay = night.Low.Delay + new Duration(more) } }),
            Replay(night)), iter: Sampling.Cases(200));

    [Fact]
    public void A_larger_area_threshold_is_active_only_where_the_smaller_one_is() =>
        Gen.Select(Nights.Any, Gen.Int[1, 100_000]).Sample((night, more) => AssertInside(
            Replay(night with { Low = night.Low with { AreaThreshold = Area.Of(night.Low.AreaThreshold.Value + more / 1000m) } }),
            Replay(night)), iter: Sampling.Cases(200));

    [Fact]
    public void A_backstop_only_adds_active_time() =>
        Nights.Any.Sample(night => AssertInside(Replay(night with { Backstop = null }), Replay(night)), iter: Sampling.Cases(200));

    [Fact]
    public void A_larger_clear_margin_adds_no_start_and_takes_no_active_time() =>
        Gen.Select(Nights.Any, Gen.Int[1, 3]).Sample((night, more) =>
        {
            if (night.Low.Limit.Value + night.Low.ClearMargin.Value + more > 100) return;
            var wide = Replay(night with { Low = night.Low with { ClearMargin = Percent.Of(night.Low.ClearMargin.Value + more) } });
            var narrow = Replay(night);
            var starts = narrow.Select(s => s.Start).ToHashSet();
            Assert.All(wide, s => Assert.Contains(s.Start, starts));
            AssertInside(narrow, wide);
        }, iter: Sampling.Cases(200));

    [Fact]
    public void High_limits_mirror_low_ones() =>
        Nights.Any.Sample(night =>
        {
            // Rounding is not mirrored (R6), and validity rules know up from down (R2): both off.
            var conditioning = night.Conditioning with { Validity = ValidityRule.None, Rounding = Rounding.None };
            var low = night with { Conditioning = conditioning, Backstop = null };
            var high = ConditionedSource.Even(night.Values.Select(v => 180 - v), night.Period);
            var signals = Replayer.RunHigh(high, night.Low with { Limit = Percent.Of(180 - night.Low.Limit.Value) }, conditioning);
            // Means are rounded half away from zero to a millionth, which mirrors only where the mean is exact.
            if (conditioning.Averaging > Duration.Zero && night.Values.Any(v => v is { } x && x != Math.Round(x))) return;
            Assert.Equal(
                Replay(low).Select(s => (s.Start, s.End, s.Ending)).ToList(),
                signals.Select(s => (s.Start, s.End, s.Ending)).ToList());
        }, iter: Sampling.Cases(200));

    [Fact]
    public void Rule_9_nothing_stops_silently() =>
        Nights.Any.Sample(night =>
        {
            var all = EngineRun.Of(night.Settings, night.Feed, [.. night.Rows(), AlarmInput.End(night.End)]).Signals;
            var noReading = all.Where(s => s.Condition == AlarmCondition.NoReading).ToList();
            foreach (var signal in all.Where(s => s.Condition.IsPhysiological()))
            {
                foreach (var lost in signal.Suspensions) AssertCovered(lost.Start, lost.End);
                if (signal.Ending == SignalEnding.Lost) AssertCovered(signal.End, signal.EndDecided);

                void AssertCovered(SampleTime from, SampleTime to) => Assert.Contains(noReading, n =>
                    n.Start <= from && to <= n.End && n.HighestPriority >= AlarmPriority.Medium);
            }
        }, iter: Sampling.Cases(300));

    [Fact]
    public void Rule_12_operators_change_no_signal() =>
        Gen.Select(Nights.Any, Gen.Select(Gen.Int[0, 400], Gen.Int[0, 7], Gen.Int[-1, 13], Gen.Int[1, 60]).Array[0, 30], Gen.Int[0, 1 << 14]).Sample((night, actions, latching) =>
        {
            var settings = night.Settings with
            {
                Annunciation = new AnnunciationSettings { Latching = AlarmConditionSet.Of([.. Enum.GetValues<AlarmCondition>().Where(c => (latching >> (int)c & 1) == 1)]), ReminderEvery = Duration.FromSeconds(10) },
            };
            var busy = night.Rows().Concat(actions.Select(a => AlarmInput.Operator(
                new SampleTime(a.Item1 * 777L), (OperatorAction)a.Item2, a.Item3 < 0 ? null : (AlarmCondition)a.Item3, Duration.FromSeconds(a.Item4)))).Where(i => i.Time < night.End).OrderBy(i => i.Time);
            var quiet = EngineRun.Of(night.Settings, night.Feed, [.. night.Rows(), AlarmInput.End(night.End)]);
            var attended = EngineRun.Of(settings, night.Feed, [.. busy, AlarmInput.End(night.End)]);
            Assert.Equal(Print(quiet.Signals), Print(attended.Signals));
        }, iter: Sampling.Cases(200));

    private static IReadOnlyList<ReplayedSignal> Replay(Night night) => Replayer.RunLow(night.Source, night.Low, night.Backstop, night.Conditioning);

    private static string Print(IEnumerable<ReplayedSignal> signals) => SignalText.Print(signals);

    private static void AssertInside(IReadOnlyList<ReplayedSignal> inner, IReadOnlyList<ReplayedSignal> outer)
    {
        foreach (var signal in inner)
        {
            Assert.Contains(outer, o => o.Start <= signal.Start && signal.End <= o.End
                && o.Suspensions.Where(s => s.Start >= signal.Start && s.End <= signal.End).SequenceEqual(signal.Suspensions));
        }
    }
}
