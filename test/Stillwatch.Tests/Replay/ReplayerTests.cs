using CsCheck;
using Stillwatch.Alarms;
using Stillwatch.Conditioning;
using Stillwatch.Quantities;
using Stillwatch.Replay;
using Stillwatch.Signals;
using Stillwatch.Tests.Alarms;
using Stillwatch.Time;

namespace Stillwatch.Tests.Replay;

public sealed class ReplayerTests
{
    private static readonly LimitSettings<Percent> Low = new(Percent.Of(90), Duration.FromSeconds(3), Area.Zero, Percent.Of(0));
    private static readonly LimitSettings<BeatsPerMinute> Slow = new(BeatsPerMinute.Of(50), Duration.FromSeconds(3), Area.Zero, BeatsPerMinute.Of(0));

    [Fact]
    public void A_whole_recording_gives_each_condition_the_signals_it_has_alone() =>
        Gen.Select(Nights.Any, Nights.Values).Sample((night, pulse) =>
        {
            // The pulse rate has its own, sparser rows; both channels end together.
            long end = night.End.Milliseconds;
            var pulseTimes = new TimeAxis.Builder();
            var pulseValues = new List<decimal?>();
            for (long t = 0; t < end; t += 2500)
            {
                pulseTimes.Add(t);
                pulseValues.Add(pulse[pulseValues.Count % pulse.Count]);
            }

            var pulseChannel = new Channel("PR", ChannelKind.PulseRate, "/min", pulseTimes.Build(new Duration(end - (pulseValues.Count - 1) * 2500L)), ValueColumn.Of(pulseValues));
            var recording = Recording(night.Source.Channel, pulseChannel);
            var pulseLow = Slow with { Limit = BeatsPerMinute.Of(85) };
            var settings = night.Settings with { PulseRateLow = pulseLow };
            var all = Replayer.Run(recording, settings);
            Assert.Equal(
                SignalText.Print(Replayer.RunLow(night.Source, night.Low, night.Backstop, night.Conditioning)),
                SignalText.Print(all.Of(AlarmCondition.SpO2Low)));
            Assert.Equal(
                SignalText.Print(Replayer.RunPulseLow(new ConditionedSource(pulseChannel, ConditionedQuantity.PulseRate), pulseLow, settings.PulseConditioning)),
                SignalText.Print(all.Of(AlarmCondition.PulseRateLow)));
        }, iter: Sampling.Cases(150));

    [Fact]
    public void Loads_have_their_own_denominators_and_are_never_one_number()
    {
        // 12 h: a signal of a minute, then half an hour without values.
        var values = new List<decimal?>();
        values.AddRange(Enumerable.Repeat((decimal?)96, 3600));
        values.AddRange(Enumerable.Repeat((decimal?)88, 63));
        values.AddRange(Enumerable.Repeat((decimal?)96, 3600));
        values.AddRange(Enumerable.Repeat((decimal?)null, 1800));
        values.AddRange(Enumerable.Repeat((decimal?)96, 12 * 3600 - values.Count));
        var result = Replayer.Run(Recording(ConditionedSource.Even(values, new Duration(1000)).Channel), new AlarmSettings { SpO2Low = Low });
        Assert.Equal(Duration.FromHours(12), result.Connected);
        Assert.Equal(Duration.FromHours(12) - new Duration(1_795_000), result.Valid);
        Assert.Equal(new AlarmLoad(1, Duration.FromSeconds(60), result.Valid), result.PhysiologicalLoad);
        Assert.Equal(1, result.TechnicalLoad.Signals);
        Assert.Equal(2.0, result.TechnicalLoad.SignalsPerDay!.Value, 12);
        Assert.Equal(24 / result.Valid.Hours, result.PhysiologicalLoad.MinutesPerDay!.Value, 12);
        Assert.Equal(result.TechnicalLoad, result.LoadOf(AlarmCondition.NoReading));
    }

    [Fact]
    public void Latching_changes_no_replay()
    {
        var recording = Recording(Series.Source("96*5 88*10 96*5 88*10 96*5").Channel);
        var settings = new AlarmSettings { SpO2Low = Low };
        var latching = settings with { Annunciation = settings.Annunciation with { Latching = AlarmConditionSet.Of(AlarmCondition.SpO2Low) } };
        Assert.Equal(SignalText.Print(Replayer.Run(recording, settings).Signals), SignalText.Print(Replayer.Run(recording, latching).Signals));
    }

    [Fact]
    public void The_sources_own_word_counts_in_a_replay()
    {
        var source = Series.Source("96*5 88*10 96*5");
        var valid = new Channel("valid", ChannelKind.SourceValid, "", source.Channel.Times, ValueColumn.Of(Enumerable.Range(0, 20).Select(i => (decimal?)(i is >= 5 and < 15 ? 0 : 1))));
        Assert.Empty(Replayer.Run(Recording(source.Channel, valid), new AlarmSettings { SpO2Low = Low }).Of(AlarmCondition.SpO2Low));
        Assert.Empty(Replayer.RunLow(source with { SourceValid = valid }, Low, null, ConditioningSettings.Default));
        Assert.Single(Replayer.RunLow(source, Low, null, ConditioningSettings.Default));
    }

    [Fact]
    public void Quality_is_judged_only_against_a_threshold()
    {
        var source = Series.Source("96*5 88*10 96*5");
        var quality = new Channel("quality", ChannelKind.SignalQuality, "", source.Channel.Times, ValueColumn.Of(Enumerable.Repeat((decimal?)20, 20)));
        var recording = Recording(source.Channel, quality);
        var settings = new AlarmSettings { SpO2Low = Low };
        Assert.Single(Replayer.Run(recording, settings).Of(AlarmCondition.SpO2Low));
        var judged = Replayer.Run(recording, settings with { Technical = settings.Technical with { QualityThresholdMicro = 50 * FixedPoint.One } });
        Assert.Equal([AlarmCondition.NoReading, AlarmCondition.SignalInadequate], judged.Signals.Select(s => s.Condition).Order());
    }

    [Fact]
    public void A_recording_without_SpO2_and_pulse_rate_gives_nothing()
    {
        var other = new Channel("HR", ChannelKind.HeartRate, "/min", TimeAxis.Even(default, new Duration(1000), 3), ValueColumn.Of([80, 80, 80]));
        var result = Replayer.Run(Recording(other), new AlarmSettings { SpO2Low = Low });
        Assert.Empty(result.Signals);
        Assert.Null(result.PhysiologicalLoad.SignalsPerDay);
        Assert.Null(result.TechnicalLoad.MinutesPerDay);
    }

    [Fact]
    public void An_empty_pulse_column_does_not_drown_the_losses_of_SpO2()
    {
        var source = Series.Source("96*5 .*30 96*30 .*30 96*5");
        var empty = new Channel("PR", ChannelKind.PulseRate, "/min", source.Channel.Times, ValueColumn.Of(Enumerable.Repeat((decimal?)null, 100)));
        Assert.Equal(2, Replayer.Run(Recording(source.Channel, empty), new AlarmSettings()).TechnicalLoad.Signals);
    }

    [Fact]
    public void A_pulse_rate_is_not_taken_for_a_saturation() =>
        Assert.Throws<ArgumentException>(() => Replayer.RunLow(Series.Source("80*5", ConditionedQuantity.PulseRate), Low, null, ConditioningSettings.Default));

    [Fact]
    public void A_margin_above_a_hundred_is_refused() =>
        Assert.Throws<ArgumentException>(() => Replayer.RunLow(Series.Source("96*5"), Low with { ClearMargin = Percent.Of(11) }, null, ConditioningSettings.Default));

    private static Recording Recording(params Channel[] channels) => new("test", new RecordingStart.Unknown(), channels, SourceAveraging.Unknown, []);
}
