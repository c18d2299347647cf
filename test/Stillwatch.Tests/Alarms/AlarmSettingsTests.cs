using Stillwatch.Alarms;
using Stillwatch.Conditioning;
using Stillwatch.Quantities;
using Stillwatch.Time;

namespace Stillwatch.Tests.Alarms;

public sealed class AlarmSettingsTests
{
    private static readonly LimitSettings<Percent> Low = new(Percent.Of(90), Duration.FromSeconds(10), Area.Zero, Percent.Of(2));

    [Fact]
    public void The_defaults_can_be_used() => Assert.Empty(AlarmSettingsCheck.Problems(new AlarmSettings()));

    public static TheoryData<string, AlarmSettings> Unusable() => new()
    {
        { "together at most 100 %", new() { SpO2Low = Low with { Limit = Percent.Of(99) } } },
        { "expected 0 or more", new() { SpO2Low = Low with { ClearMargin = Percent.Of(-1) } } },
        { "SpO2 low: delay", new() { SpO2Low = Low with { Delay = new Duration(-1) } } },
        { "SpO2 low: area threshold", new() { SpO2Low = Low with { AreaThreshold = Area.Of(-1) } } },
        { "below the SpO2 low limit", new() { SpO2Low = Low, Backstop = new(Percent.Of(90), Duration.Zero) } },
        { "Backstop: delay", new() { SpO2Low = Low, Backstop = new(Percent.Of(80), new Duration(-1)) } },
        { "limit minus margin", new() { SpO2High = Low with { Limit = Percent.Of(1) } } },
        { "limit minus margin", new() { PulseRateHigh = new(BeatsPerMinute.Of(10), Duration.Zero, Area.Zero, BeatsPerMinute.Of(11)) } },
        { "pulse rate: gap tolerance", new() { PulseConditioning = ConditioningSettings.Default with { GapTolerance = new Duration(-1) } } },
        { "SpO2: averaging", new() { SpO2Conditioning = ConditioningSettings.Default with { Averaging = Duration.FromHours(2) } } },
        { "NoReading: delay", new() { Technical = new() { NoReadingDelay = new Duration(-1) } } },
        { "Audio paused", new() { Annunciation = new() { AudioPausedFor = Duration.Zero } } },
        { "Reminder", new() { Annunciation = new() { ReminderEvery = new Duration(1) } } },
        { "no priority found", new() { Priorities = new() { SpO2High = new(FailureResult.MinorInjuryOrDiscomfort, HarmOnset.Delayed), Table = new() { MinorDelayed = AlarmPriority.None } } } },
        { "NoReading: risk", new() { Priorities = new() { NoReading = new((FailureResult)9, HarmOnset.Delayed) } } },
        { "SpO2: validity", new() { SpO2Conditioning = ConditioningSettings.Default with { Validity = (ValidityRule)7 } } },
        { "SpO2: rounding", new() { SpO2Conditioning = ConditioningSettings.Default with { Rounding = (Rounding)7 } } },
        { "expected no lower than SpO2 low's", new() { SpO2Low = Low, Backstop = new(Percent.Of(80), Duration.Zero), Priorities = new() { Backstop = new(FailureResult.ReversibleInjury, HarmOnset.Delayed) } } },
    };

    [Theory]
    [MemberData(nameof(Unusable))]
    public void Settings_that_contradict_the_rules_are_refused_with_the_reason(string reason, AlarmSettings settings)
    {
        Assert.Contains(reason, Assert.Single(AlarmSettingsCheck.Problems(settings)));
        var error = Assert.Throws<ArgumentException>(() => AlarmEngine.Start(settings, new AlarmFeed(new Duration(1000))));
        Assert.Contains(reason, error.Message);
    }

    [Fact]
    public void Limit_and_margin_may_come_to_exactly_a_hundred() =>
        Assert.Empty(AlarmSettingsCheck.Problems(new() { SpO2Low = Low with { Limit = Percent.Of(98) } }));

    [Fact]
    public void A_feed_without_a_usable_period_is_refused() =>
        Assert.Throws<ArgumentException>(() => AlarmEngine.Start(new(), new AlarmFeed(Duration.Zero)));

    [Theory]
    // IEC 60601-1-8, Table 1, from memory: hence configurable, and checked here against nothing but our own reading.
    [InlineData(FailureResult.DeathOrIrreversibleInjury, "High High Medium")]
    [InlineData(FailureResult.ReversibleInjury, "High Medium Low")]
    [InlineData(FailureResult.MinorInjuryOrDiscomfort, "Medium Low Low")]
    public void The_priority_table_falls_from_immediate_to_delayed(FailureResult result, string priorities) =>
        Assert.Equal(priorities, string.Join(' ', new[] { HarmOnset.Immediate, HarmOnset.Prompt, HarmOnset.Delayed }.Select(o => PriorityTable.Default.Of(new(result, o)))));

    [Fact]
    public void No_harm_ranks_under_a_lesser_one_nor_a_later_onset_above_an_earlier()
    {
        foreach (var result in Enum.GetValues<FailureResult>())
        {
            foreach (var onset in Enum.GetValues<HarmOnset>())
            {
                var here = PriorityTable.Default.Of(new(result, onset));
                if (result > 0) Assert.True(here >= PriorityTable.Default.Of(new(result - 1, onset)));
                if (onset > 0) Assert.True(here >= PriorityTable.Default.Of(new(result, onset - 1)));
            }
        }
    }

    [Fact]
    public void A_low_saturation_is_of_medium_priority_and_the_backstop_of_high()
    {
        // SpO2 low at least medium: from memory, low confidence; unit policy may say otherwise.
        Assert.Equal(AlarmPriority.Medium, PrioritySettings.Default.Of(AlarmCondition.SpO2Low));
        Assert.Equal(AlarmPriority.High, PrioritySettings.Default.OfBackstop);
    }

    [Fact]
    public void A_technical_condition_without_a_priority_gives_no_signal_of_its_own()
    {
        var settings = new AlarmSettings { Priorities = new() { Table = new() { MinorDelayed = AlarmPriority.None } } };
        var run = new EngineRun(settings, new AlarmFeed(new Duration(1000)));
        run.Step(AlarmInput.SourceIs(default, SourceStates.OnBattery | SourceStates.BatteryLow));
        run.Step(AlarmInput.End(SampleTime.FromSeconds(5)));
        Assert.Equal(AlarmCondition.SourceBatteryLow, Assert.Single(run.Signals).Condition);
    }

    [Fact]
    public void Settings_with_the_same_content_are_equal()
    {
        Assert.Equal(new AlarmSettings { SpO2Low = Low }, new AlarmSettings { SpO2Low = Low with { } });
        Assert.Equal(AlarmConditionSet.Of(AlarmCondition.SpO2Low, AlarmCondition.NoReading), AlarmConditionSet.Of(AlarmCondition.NoReading, AlarmCondition.SpO2Low));
        Assert.Equal("SpO2Low, NoReading", AlarmConditionSet.Of(AlarmCondition.NoReading, AlarmCondition.SpO2Low).ToString());
    }
}
