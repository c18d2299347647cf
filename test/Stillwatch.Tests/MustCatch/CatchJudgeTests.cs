using Stillwatch.Alarms;
using Stillwatch.Quantities;
using Stillwatch.Replay;
using Stillwatch.Time;
using Stillwatch.Tuning.MustCatch;
using Xunit;

namespace Stillwatch.Tests.MustCatch;

/// <summary>Rule R13: in time, late, missed.</summary>
public sealed class CatchJudgeTests
{
    // id | what it shows | event parts onset-end/T | signals start-end, suspensions after ! | verdict, seconds to signal
    private const string Table =
        """
        time-1 | active within T | 100-200/60 | 110-200 | InTime 10
        time-2 | starts exactly at onset + T | 100-200/60 | 160-200 | InTime 60
        time-3 | a millisecond after onset + T is late | 100-200/60 | 160.001-200 | Late 60.001
        time-4 | already active counts as 0 s | 100-200/60 | 90-150 | InTime 0
        time-5 | starts with the event | 100-200/60 | 100-101 | InTime 0
        time-6 | ended exactly at the onset: signals are [start, end) | 100-200/60 | 90-100 | Missed
        time-7 | short, but active at some instant | 100-200/60 | 150-150.5 | InTime 50
        late-1 | after T, before the end | 100-200/60 | 199-210 | Late 99
        late-2 | starts with the event's end | 100-200/60 | 200-210 | Missed
        miss-1 | no signal | 100-200/60 | none | Missed
        miss-2 | another time altogether | 100-200/60 | 10-50 300-400 | Missed
        susp-1 | suspended at the onset, active again within T | 100-200/60 | 90-180!95-130 | InTime 30
        susp-2 | suspended until after T | 100-200/60 | 90-180!95-170 | Late 70
        susp-3 | suspended to its very end | 100-200/60 | 90-150!95-150 | Missed
        susp-4 | two suspensions that touch | 100-200/60 | 90-180!95-130!130-140 | InTime 40
        susp-5 | suspended later: it was active before | 100-200/60 | 105-180!110-170 | InTime 5
        many-1 | the first that is active decides | 100-200/60 | 180-190 120-130 | InTime 20
        short-1 | an event shorter than T, signalled after its end but within T | 100-130/60 | 140-150 | InTime 40
        part-1 | the worst over the parts: the deep one is late | 100-200/60,120-150/15 | 140-200 | Late 40
        part-2 | both in time | 100-200/60,120-150/15 | 130-200 | InTime 30
        part-3 | one part missed is the event missed | 100-200/60,120-150/15 | 110-115 | Missed
        """;

    public static TheoryData<string[]> Cases => MustCatchTables.Rows(Table);

    [Theory]
    [MemberData(nameof(Cases))]
    public void Verdicts_are_as_the_table_says(string[] row)
    {
        var (verdict, time) = CatchJudge.Judge(Event(row[2]), MustCatchTables.Signals(row[3]));
        string found = time is { } t ? $"{verdict} {t.Milliseconds / 1000m:0.###}" : verdict.ToString();
        Assert.True(row[4] == found, $"{row[0]} ({row[1]}): expected {row[4]}, found {found}");
    }

    [Fact]
    public void Signals_of_other_conditions_catch_nothing()
    {
        var technical = MustCatchTables.Signals("100-200").ConvertAll(s => s with { Condition = AlarmCondition.NoReading });
        Assert.Equal(CatchVerdict.Missed, CatchJudge.Judge(Event("100-200/60"), technical).Verdict);
    }

    [Fact]
    public void The_summary_counts_verdicts_and_takes_times_over_signalled_events()
    {
        var summary = CatchSummary.Of([
            (CatchVerdict.InTime, Duration.FromSeconds(4)), (CatchVerdict.Late, Duration.FromSeconds(90)), (CatchVerdict.Missed, null),
            (CatchVerdict.InTime, Duration.FromSeconds(10)), (CatchVerdict.InTime, Duration.Zero)]);
        Assert.Equal(new CatchSummary(3, 1, 1, Duration.FromSeconds(7), Duration.FromSeconds(90)), summary);
        Assert.Equal(5, summary.Events);
    }

    [Fact]
    public void The_median_of_an_odd_number_is_the_middle_one() =>
        Assert.Equal(Duration.FromSeconds(10), CatchSummary.Of([(CatchVerdict.InTime, Duration.FromSeconds(4)), (CatchVerdict.Late, Duration.FromSeconds(90)), (CatchVerdict.InTime, Duration.FromSeconds(10))]).MedianTimeToSignal);

    [Fact]
    public void Without_events_or_signals_there_are_no_times()
    {
        Assert.Equal(new CatchSummary(0, 0, 0, null, null), CatchSummary.Of([]));
        Assert.Equal(new CatchSummary(0, 0, 1, null, null), CatchSummary.Of([Event("100-200/60")], new List<ReplayedSignal>()));
    }

    private static MustCatchEvent Event(string parts)
    {
        var all = parts.Split(',').Select(text =>
        {
            string[] halves = text.Split('/');
            var slice = MustCatchTables.Slice(halves[0]);
            return new MustCatchPart(slice.Start, slice.End, Duration.FromSeconds(decimal.Parse(halves[1])), "table");
        }).ToList();
        return new MustCatchEvent(all.Min(p => p.Onset), all.Max(p => p.End), Percent.Of(80), all);
    }
}
