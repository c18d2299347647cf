using CsCheck;
using Stillwatch.Alarms;
using Stillwatch.Conditioning;
using Stillwatch.Quantities;
using Stillwatch.Replay;
using Stillwatch.Replay.Fidelity;
using Stillwatch.Signals;
using Stillwatch.Tests.Alarms;
using Stillwatch.Time;

namespace Stillwatch.Tests.Fidelity;

/// <summary>A replay beside a log: the figure, and why they differ.</summary>
public sealed class FidelityComparerTests
{
    /// <summary>Falls of many lengths and depths, one every two minutes, an hour and more.</summary>
    private static readonly string Falls = string.Join(' ', Enumerable.Range(0, 40).Select(i => $"96*{100 - i} {91 - i % 7}*{1 + i} 96*20"));

    /// <summary>One a little over an hour, four in all.</summary>
    private static readonly string FourFalls = string.Concat(Enumerable.Repeat("96*60 85*60 96*3940 ", 4)).Trim();

    private static readonly AlarmSettings Given = new() { SpO2Low = Low(90, 10) };

    [Fact]
    public void A_log_made_by_the_engine_under_the_same_settings_agrees_entirely() =>
        Nights.Any.Sample(night =>
        {
            var (recording, signals) = Replayed(night.Values, night.Period, night.Settings);
            var result = Compare(recording, night.Settings, LogOf(signals));
            Assert.Empty(result.Missing);
            Assert.Empty(result.Extra);
            Assert.Null(result.Clock);
            Assert.Empty(result.BetterChanges);
            if (signals.Any(s => s.Condition.IsPhysiological())) Assert.Equal((1.0, 1.0), (result.Physiological!.OfLogged!.Value.Share, result.Physiological.OfReplayed!.Value.Share));
        }, iter: 60);

    [Fact]
    public void Shifting_the_log_and_giving_the_shift_as_offset_changes_nothing() =>
        Gen.Select(Nights.Any, Nights.Low, Gen.Int[-5000, 5000]).Sample((night, other, by) =>
        {
            var (recording, signals) = Replayed(night.Values, night.Period, night.Settings);
            var log = LogOf(Replayed(night.Values, night.Period, night.Settings with { SpO2Low = other, Backstop = null }).Signals);
            var shifted = new AlarmLog("log", log.Entries.Select(e => e with { Start = e.Start + new Duration(by) }));
            var plain = FidelityComparer.Compare(recording, night.Settings, signals, log, new FidelityOptions(new Duration(15_000), Duration.Zero));
            var moved = FidelityComparer.Compare(recording, night.Settings, signals, shifted, new FidelityOptions(new Duration(15_000), new Duration(-by)));
            Assert.Equal(Print(plain), Print(moved));
        }, iter: 30);

    [Theory]
    [InlineData("delay 4", "a delay of 4 s in place of 10 s")]
    [InlineData("delay 20", "a delay of 20 s in place of 10 s")]
    [InlineData("limit 88", "a limit of 88 % in place of 90 %")]
    [InlineData("limit 91", "a limit of 91 % in place of 90 %")]
    [InlineData("averaging 8", "averaging over 8 s on top of the source's own")]
    [InlineData("averaging 16", "averaging over 16 s on top of the source's own")]
    public void A_log_made_under_one_other_setting_is_explained_by_that_setting(string other, string expected)
    {
        decimal number = decimal.Parse(other.Split(' ')[1]);
        var monitor = other.Split(' ')[0] switch
        {
            "delay" => new AlarmSettings { SpO2Low = Low(90, number) },
            "limit" => new AlarmSettings { SpO2Low = Low(number, 10) },
            _ => Given with { SpO2Conditioning = ConditioningSettings.Default with { Averaging = Duration.FromSeconds(number) } },
        };
        var (recording, signals) = Replayed(Falls, Given);
        var result = FidelityComparer.Compare(recording, Given, signals, LogOf(Replayed(Falls, monitor).Signals), new FidelityOptions(new Duration(9_000), Duration.Zero));
        Assert.True(result.Physiological!.Agreement < 1, "the other setting should change something");
        Assert.Equal(expected, result.BetterChanges[0].Change.ToString());
        Assert.Equal(1, result.BetterChanges[0].Physiological.Agreement);
        Assert.All(result.Missing.Select(m => m.Because).Concat(result.Extra.Select(e => e.Because)),
            reasons => Assert.Contains(reasons, r => r.Kind == ReasonKind.OtherSetting));
    }

    [Fact]
    public void Of_changes_that_match_as_many_the_one_that_meets_the_starts_is_named()
    {
        // Long falls: within the tolerance delays of 20, 25, 30 and 45 s all match.
        string falls = string.Concat(Enumerable.Repeat("96*100 85*200 ", 4)).Trim();
        var log = LogOf(Replayed(falls, new AlarmSettings { SpO2Low = Low(90, 30) }).Signals);
        var result = Compare(Replayed(falls, Given).Recording, Given, log);
        Assert.Equal("a delay of 30 s in place of 10 s", result.BetterChanges[0].Change.ToString());
        Assert.Equal(-20, result.Clock!.Offset.Seconds); // a clock explains it as well, and is stated too
    }

    [Theory]
    [InlineData("96*60 89*5 96*60", "65", "TooShort", "beyond the limit for 5 s at most, no longer than the delay of 10 s: the monitor waits less, or counts otherwise")]
    [InlineData("96*60 90*30 96*60", "72", "NeverBeyondLimit", "the lowest value there is 90 %, the limit 90 %: another limit, or values averaged or exported otherwise")]
    [InlineData("96*60 .*90 96*60", "110", "NoValue", "the recording has no valid value there: a gap, a dropout, or values rejected by the validity rules")]
    [InlineData("96*60 85*90 96*60", "70 120", "PartOfOther", "it begins inside a replayed signal that started 49 s earlier: the log counts again what is counted once here, or the monitor clears and starts anew")]
    [InlineData("96*60 85*90 96*60", "100", "OutsideTolerance", "a replayed signal without a pair starts 29 s earlier")]
    [InlineData("96*60 89*5 96*60", "65", "OtherSetting", "it would be signalled here with a delay of 4 s in place of 10 s")]
    public void A_missing_signal_says_what_the_recording_shows(string series, string logged, string kind, string words)
    {
        var (recording, signals) = Replayed(series, Given);
        var missing = Compare(recording, Given, Log(logged)).Missing.Single();
        Assert.Contains(words, missing.Because.Where(r => r.Kind == Enum.Parse<ReasonKind>(kind)).Select(r => r.Words));
    }

    [Theory]
    [InlineData("96*60 89*12 96*300 80*60 96*60", "442", "OtherSetting", "it would not be there with a delay of 12 s in place of 10 s")]
    [InlineData("96*60 89*15 96*300 80*60 96*60", "445", "BeyondLog", "it lies before the log's first line: the log may not have been kept yet")]
    [InlineData("96*60 60*60 96*300 80*60 96*60", "70 500", "OutsideTolerance", "a logged signal without a pair starts 69 s later")]
    [InlineData("96*60 60*200 96*300 60*200 96*60", "70", "Unexplained", "nothing that was tried accounts for it: the monitor may have been paused, its alarm acknowledged or switched off, or the log is not complete; the file cannot tell")]
    public void An_extra_signal_says_what_would_account_for_it(string series, string logged, string kind, string words)
    {
        var (recording, _) = Replayed(series, Given);
        var log = kind == "Unexplained" ? Log(logged, until: 1000) : Log(logged);
        var extra = Compare(recording, Given, log).Extra[0];
        Assert.Contains(words, extra.Because.Where(r => r.Kind == Enum.Parse<ReasonKind>(kind)).Select(r => r.Words));
    }

    [Fact]
    public void A_logged_condition_without_a_limit_in_the_settings_says_so()
    {
        var (recording, _) = Replayed("96*60 85*60 96*60", Given);
        var log = new AlarmLog("log", [Entry(70), Entry(100, AlarmCondition.SpO2High)]);
        Assert.Equal(ReasonKind.NoSuchLimit, Compare(recording, Given, log).Missing.Single().Because[0].Kind);
    }

    [Fact]
    public void What_only_the_monitor_knows_is_counted_apart_and_in_no_figure()
    {
        var (recording, _) = Replayed("96*60 85*60 96*60", Given);
        var log = new AlarmLog("log", [Entry(70), Entry(20, AlarmCondition.SensorOff), Entry(30, AlarmCondition.PulseRateHigh), new LoggedSignal(SampleTime.FromSeconds(40), "bed up")]);
        var result = Compare(recording, Given, log);
        Assert.Equal((1, 1, 1), (result.Physiological!.Logged, result.Physiological.Replayed, result.Physiological.Matched));
        Assert.Null(result.Technical);
        Assert.Equal([AlarmCondition.PulseRateHigh, AlarmCondition.SensorOff], result.NotComparable.Select(n => n.Condition));
        Assert.Equal("bed up", result.NotUnderstood.Single().Text);
    }

    [Fact]
    public void Technical_signals_have_a_figure_of_their_own() // R12
    {
        var (recording, signals) = Replayed("96*60 85*60 96*60 .*60 96*60", Given);
        var result = Compare(recording, Given, LogOf(signals));
        Assert.Equal((1, 1), (result.Physiological!.Matched, result.Physiological.Logged));
        Assert.Equal((1, 1), (result.Technical!.Matched, result.Technical.Logged));
    }

    [Fact]
    public void A_constant_clock_difference_is_stated_and_applied_only_when_asked_for()
    {
        var (recording, signals) = Replayed(Falls, Given);
        var log = new AlarmLog("log", LogOf(signals).Entries.Select(e => e with { Start = e.Start + Duration.FromSeconds(37) }));
        var untouched = Compare(recording, Given, log);
        Assert.Equal(-37, untouched.Clock!.Offset.Seconds);
        Assert.Equal(0, untouched.Physiological!.Matched);
        Assert.Equal(Duration.Zero, untouched.Options.Offset);
        Assert.Empty(untouched.BetterChanges); // none explains as much as the clock
        Assert.All(untouched.Missing.Select(m => m.Because).Concat(untouched.Extra.Select(e => e.Because)), b => Assert.Equal(ReasonKind.OtherClock, b[0].Kind));
        Assert.Equal("it has a pair with −37 s added to the times of the log: the clocks may differ", untouched.Missing[0].Because[0].Words);
        var asked = FidelityComparer.Compare(recording, Given, signals, log, new FidelityOptions(new Duration(15_000), untouched.Clock.Offset));
        Assert.Null(asked.Clock);
        Assert.Equal(1, asked.Physiological!.Agreement);
    }

    [Theory]
    [InlineData("", null, "the log is empty: nothing shows whether the monitor was silent or the log was not kept")]
    [InlineData("5000", null, "no signal of the log falls within the recording (1 lie outside): another night, or another clock")]
    [InlineData("70", AlarmCondition.SensorOff, "the log holds no signal that a replay of this recording could give")]
    public void Without_anything_to_compare_no_figure_is_given(string logged, AlarmCondition? condition, string why)
    {
        var (recording, _) = Replayed("96*60 85*60 96*60", Given);
        var result = Compare(recording, Given, new AlarmLog("log", logged.Length == 0 ? [] : [Entry(decimal.Parse(logged), condition ?? AlarmCondition.SpO2Low)]));
        Assert.Equal(why, result.WhyNot);
        Assert.Null(result.Physiological);
    }

    [Fact]
    public void Only_the_time_that_log_and_recording_both_cover_is_counted()
    {
        var (recording, _) = Replayed("96*60 85*60 96*200 85*60 96*200 85*60 96*60", Given);
        var log = new AlarmLog("log", [Entry(330), Entry(9000)], new TimeSlice(SampleTime.FromSeconds(200), SampleTime.FromSeconds(500)));
        var result = Compare(recording, Given, log);
        Assert.Equal((1, 1, 1), (result.Physiological!.Logged, result.Physiological.Replayed, result.Physiological.Matched));
        Assert.Equal(1, result.Outside);
        Assert.False(result.IsSpanAssumed);
    }

    [Theory]
    // Falls at 60, 4120, 8180 and 12240 s, signalled 11 s later.
    [InlineData("8191 12251", 2, 0, 4, 2)]
    [InlineData("71 4131", 0, 2, 4, 2)]
    [InlineData("4131 8191", 1, 1, 4, 2)]
    public void Where_a_log_may_have_begun_later_or_ended_earlier_the_figure_without_that_time_stands_beside_the_whole(string logged, int before, int after, int whole, int without)
    {
        var result = Compare(Replayed(FourFalls, Given).Recording, Given, Log(logged));
        Assert.Equal((2, whole, 2), (result.Physiological!.Logged, result.Physiological.Replayed, result.Physiological.Matched));
        var lines = result.Lines!;
        Assert.Equal((before, after, 2, without, 2), (lines.Before, lines.After, lines.Physiological!.Logged, lines.Physiological.Replayed, lines.Physiological.Matched));
        Assert.All(result.Extra, e => Assert.Equal(ReasonKind.BeyondLog, e.Because[0].Kind));
        Assert.Empty(result.BetterChanges);
        Assert.StartsWith("Where the log was surely kept the replay reproduces the monitor", FidelityWords.NotReproduced(result), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("71 12251")] // what lies between its lines the log should have
    [InlineData("71 4131 8191 12251")]
    public void Signals_between_the_lines_of_a_log_are_never_left_out(string logged) =>
        Assert.Null(Compare(Replayed(FourFalls, Given).Recording, Given, Log(logged)).Lines);

    [Fact]
    public void A_log_that_states_its_span_or_has_any_other_line_there_was_kept_then()
    {
        var recording = Replayed(FourFalls, Given).Recording;
        Assert.Null(Compare(recording, Given, new AlarmLog("log", [Entry(12251)], new TimeSlice(default, SampleTime.FromSeconds(13000)))).Lines);
        Assert.Null(Compare(recording, Given, new AlarmLog("log", [new LoggedSignal(SampleTime.FromSeconds(5), "bed up"), Entry(12251)])).Lines);
    }

    [Fact]
    public void A_signal_within_half_an_hour_of_the_log_is_no_sign_that_it_was_not_kept()
    {
        Assert.Null(Compare(Replayed("96*60 85*60 96*1740 85*60 96*60", Given).Recording, Given, Log("1871")).Lines); // 1800 s before
        Assert.NotNull(Compare(Replayed("96*60 85*60 96*1741 85*60 96*60", Given).Recording, Given, Log("1872")).Lines); // 1801 s
    }

    [Fact]
    public void Where_the_source_averages_the_tolerance_is_that_much_wider()
    {
        Assert.Equal(15, FidelityOptions.For(SourceAveraging.Unknown).Tolerance.Seconds);
        Assert.Equal(23, FidelityOptions.For(new SourceAveraging(Duration.FromSeconds(8))).Tolerance.Seconds);
    }

    [Fact]
    public void Shares_bear_their_exact_interval()
    {
        // scipy 1.10 (Debian): binomtest(9, 10).proportion_ci(0.95, 'exact') = (0.5549839, 0.9974714).
        var share = ShareEstimate.Of(9, 10)!.Value;
        Assert.Equal((0.9, 0.5549839, 0.9974714), (share.Share, Math.Round(share.Low, 7), Math.Round(share.High, 7)));
        Assert.Null(ShareEstimate.Of(0, 0));
    }

    private static LimitSettings<Percent> Low(decimal limit, decimal delay) => new(Percent.Of(limit), Duration.FromSeconds(delay), Area.Zero, Percent.Of(0));

    private static FidelityResult Compare(Recording recording, AlarmSettings settings, AlarmLog log) =>
        FidelityComparer.Compare(recording, settings, Replayer.Run(recording, settings).Signals, log);

    private static (Recording Recording, IReadOnlyList<ReplayedSignal> Signals) Replayed(string series, AlarmSettings settings)
    {
        var (period, values) = Series.Parse(series);
        return Replayed(values, period, settings);
    }

    private static (Recording Recording, IReadOnlyList<ReplayedSignal> Signals) Replayed(List<decimal?> values, Duration period, AlarmSettings settings)
    {
        var channel = new Channel("SpO2", ChannelKind.SpO2, "%", TimeAxis.Even(default, period, values.Count), ValueColumn.Of(values));
        var recording = new Recording("night", new RecordingStart.Unknown(), [channel], SourceAveraging.Unknown, []);
        return (recording, Replayer.Run(recording, settings).Signals);
    }

    private static AlarmLog LogOf(IReadOnlyList<ReplayedSignal> signals) =>
        new("log", signals.Select(s => new LoggedSignal(s.Start, s.Condition.ToString(), s.Condition, s.End - s.Start)));

    private static AlarmLog Log(string seconds, decimal? until = null) => new(
        "log", seconds.Split(' ').Select(t => Entry(decimal.Parse(t))), until is { } end ? new TimeSlice(default, SampleTime.FromSeconds(end)) : null);

    private static LoggedSignal Entry(decimal seconds, AlarmCondition condition = AlarmCondition.SpO2Low) => new(SampleTime.FromSeconds(seconds), "alarm", condition);

    private static string Print(FidelityResult result) => string.Join('\n',
        [
            result.WhyNot ?? "compared", $"{result.Physiological?.Logged} {result.Physiological?.Replayed} {result.Physiological?.Matched} {result.Technical?.Matched}",
            .. result.Missing.Select(m => $"{m.Signal.Start} {string.Join("; ", m.Because)}"),
            .. result.Extra.Select(e => $"{e.Signal.Start} {string.Join("; ", e.Because)}"),
            .. result.BetterChanges.Select(c => $"{c.Change} {c.Physiological.Matched}"),
        ]);
}
