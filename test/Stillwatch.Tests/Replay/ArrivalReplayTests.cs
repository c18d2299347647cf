using CsCheck;
using Stillwatch.Alarms;
using Stillwatch.Replay;
using Stillwatch.Tests.Alarms;
using Stillwatch.Time;

namespace Stillwatch.Tests.Replay;

/// <summary>R11: live equals a replay of the journal in arrival order, bit for bit; differences to the time-sorted recording are listed.</summary>
public sealed class ArrivalReplayTests
{
    private static readonly Gen<(Night Night, int[] Delays, int Patience)> Feeds =
        Gen.Select(Nights.Any, Gen.Frequency((8, Gen.Const(0)), (2, Gen.Int[0, 20_000])).Array[60], Gen.OneOf(0, 0, 2, 5));

    [Fact]
    public void Rule_11_live_equals_the_replay_of_its_journal() =>
        Feeds.Sample((night, delays, patience) =>
        {
            var live = new ArrivalReplay(night.Settings, night.Feed, Duration.FromSeconds(patience));
            var journal = new List<AlarmInput>();
            var said = new List<AlarmChange>();
            var arrivals = Arrivals(night, delays).ToList();
            for (int i = 0; i < arrivals.Count; i++)
            {
                Arrive(arrivals[i].Input);
                // A live bed wakes when something is due, if no row comes before; the wake-up is journalled as what it is.
                long until = i + 1 < arrivals.Count ? arrivals[i + 1].At : long.MaxValue;
                if (AlarmEngine.NextDeadline(live.State) is { } due && due.Milliseconds + patience * 1000 + 1 < until && until != long.MaxValue)
                    Arrive(AlarmInput.AdvanceTo(due + new Duration(1)));
            }

            Arrive(AlarmInput.End(night.End));
            var again = new ArrivalReplay(night.Settings, night.Feed, Duration.FromSeconds(patience));
            var saidAgain = new List<AlarmChange>();
            foreach (var input in journal) again.Arrive(input, changes => saidAgain.AddRange(changes.Span));
            Assert.Equal(said, saidAgain);
            Assert.Equal(live.NotUsed, again.NotUsed);
            Assert.Equal(SignalText.Print(live.Ended()), SignalText.Print(again.Ended()));

            void Arrive(in AlarmInput input)
            {
                journal.Add(input);
                live.Arrive(input, changes => said.AddRange(changes.Span));
            }
        }, iter: Sampling.Cases(150));

    [Fact]
    public void Rule_11_rows_in_time_order_give_the_signals_of_the_recording() =>
        Gen.Select(Nights.Any, Gen.Int[0, 20]).Sample((night, patience) =>
            Assert.Empty(SignalDifference.Between(Run(night, night.Rows(), patience).Ended(), Sorted(night))), iter: Sampling.Cases(150));

    [Fact]
    public void Rule_11_rows_out_of_order_within_the_patience_give_the_signals_of_the_recording() =>
        Gen.Select(Nights.Any, Gen.Bool.Array[50]).Sample((night, swaps) =>
        {
            var rows = night.Rows().ToList();
            for (int i = 0; i + 1 < rows.Count; i += 2)
            {
                if (swaps[i % swaps.Length]) (rows[i], rows[i + 1]) = (rows[i + 1], rows[i]);
            }

            var live = Run(night, rows, (int)night.Period.Seconds + 1);
            Assert.Empty(live.NotUsed);
            Assert.Empty(SignalDifference.Between(live.Ended(), Sorted(night)));
        }, iter: Sampling.Cases(150));

    [Fact]
    public void Rule_11_a_late_row_is_listed_and_so_is_the_difference_it_makes()
    {
        // The row of 96 at 10 s comes 30 s late: the live bed signalled at 15 s, the recording in order would not have.
        var night = new Night([.. Series.Parse("96*5 88*5 96 88*5 96*30").Values], new Duration(1000), Stillwatch.Conditioning.ConditioningSettings.Default,
            new(Stillwatch.Quantities.Percent.Of(90), Duration.FromSeconds(8), Stillwatch.Quantities.Area.Zero, default), null);
        var rows = night.Rows().ToList();
        var late = rows[10];
        rows.RemoveAt(10);
        rows.Insert(39, late);
        var live = Run(night, rows, patience: 2);
        Assert.Equal(late.Row, Assert.Single(live.NotUsed));
        var difference = Assert.Single(SignalDifference.Between(live.Ended(), Sorted(night)));
        Assert.Equal((AlarmCondition.SpO2Low, SampleTime.FromSeconds(13), null), (difference.Condition, difference.Start, difference.Second));
    }

    [Fact]
    public void Differences_are_listed_whichever_run_has_them()
    {
        ReplayedSignal Signal(int start, int end) => new(AlarmCondition.SpO2Low, SampleTime.FromSeconds(start), SampleTime.FromSeconds(end), SignalEnding.Cleared, AlarmPriority.Medium, []);
        var found = SignalDifference.Between([Signal(1, 2), Signal(5, 6), Signal(9, 10)], [Signal(1, 2), Signal(5, 7), Signal(20, 30)]);
        Assert.Equal(
            ["5 6 7", "9 10 -", "20 - 30"],
            found.Select(d => $"{SignalText.Seconds(d.Start)} {(d.First is { } f ? SignalText.Seconds(f.End) : "-")} {(d.Second is { } s ? SignalText.Seconds(s.End) : "-")}"));
    }

    private static ArrivalReplay Run(Night night, IEnumerable<AlarmInput> arrivals, int patience)
    {
        var live = new ArrivalReplay(night.Settings, night.Feed, Duration.FromSeconds(patience));
        foreach (var input in arrivals) live.Arrive(input);
        live.Arrive(AlarmInput.End(night.End));
        return live;
    }

    private static IReadOnlyList<ReplayedSignal> Sorted(Night night) => EngineRun.Of(night.Settings, night.Feed, [.. night.Rows(), AlarmInput.End(night.End)]).Signals;

    private static IEnumerable<(long At, AlarmInput Input)> Arrivals(Night night, int[] delays) =>
        night.Rows().Select((row, i) => (At: row.Time.Milliseconds + delays[i % delays.Length], row)).OrderBy(a => a.At);
}
