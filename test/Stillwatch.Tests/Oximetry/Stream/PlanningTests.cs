using Stillwatch.Oximetry;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Tests.Oximetry.Stream;

/// <summary>Which channels are read as what.</summary>
public class PlanningTests
{
    private const int RateHz = 50;
    private static readonly SampleRate Rate = SampleRate.Of(RateHz, 1000);

    [Fact]
    public void Red_and_infrared_by_their_kind_go_before_all_else()
    {
        var derived = Of(Channel("P", ChannelKind.Pleth, Rising), Channel("R", ChannelKind.RedLight, Falling), Channel("I", ChannelKind.InfraredLight, Falling));
        Assert.Equal(("I", "R", true, true), (derived.Plan.PulseLabel, derived.Plan.RedLabel, derived.Plan.IsLight, derived.Plan.FallsWithBlood));
        Assert.Equal(["I", "R"], derived.Plan.Candidates.Where(c => c.Chosen).Select(c => c.Label));
    }

    [Theory]
    [InlineData(ChannelKind.RedLight)]
    [InlineData(ChannelKind.InfraredLight)]
    public void One_light_alone_gives_a_pulse_but_no_saturation(ChannelKind kind)
    {
        var derived = Of(Channel("L", kind, Falling));
        Assert.Equal(("L", null, true), (derived.Plan.PulseLabel, derived.Plan.RedLabel, derived.Plan.IsLight));
        Assert.Equal(72, derived.Seconds[20].PulseRatePerMinute, 0.5);
        Assert.True(double.IsNaN(derived.Seconds[20].SpO2Percent));
        Assert.False(double.IsNaN(derived.Seconds[20].PerfusionPercent));
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void A_pleth_is_turned_so_that_the_steeper_slope_rises(bool falls)
    {
        var derived = Of(Channel("PLETH", ChannelKind.Pleth, falls ? Falling : Rising));
        Assert.Equal(falls, derived.Plan.FallsWithBlood);
        Assert.False(derived.Plan.IsLight);
        Assert.Equal(72, derived.Seconds[20].PulseRatePerMinute, 0.5);
        Assert.True(double.IsNaN(derived.Seconds[20].PerfusionPercent));
        Assert.All(derived.Beats, b => Assert.True(b.PeakSeconds - b.TroughSeconds < 0.5 * 60 / 72));
    }

    [Fact]
    public void Of_channels_whose_use_nobody_told_the_best_pulse_is_taken_and_all_are_named()
    {
        var random = new Random(3);
        var derived = Of(
            Channel("noise", ChannelKind.Other, _ => 1000 + 100 * random.NextDouble()),
            Channel("good", ChannelKind.Other, Rising),
            Channel("poor", ChannelKind.Other, t => Rising(t) + 600 * random.NextDouble()));
        Assert.Equal("good", derived.Plan.PulseLabel);
        Assert.Equal(["noise", "good", "poor"], derived.Plan.Candidates.Select(c => c.Label));
        Assert.Equal([false, true, false], derived.Plan.Candidates.Select(c => c.Chosen));
        Assert.True(derived.Plan.Candidates[1].MeanQuality > derived.Plan.Candidates[2].MeanQuality);
    }

    [Fact]
    public void Two_lights_that_do_not_belong_together_give_the_infrared_alone_and_say_why()
    {
        var infrared = Channel("I", ChannelKind.InfraredLight, Falling);
        var red = new Channel("R", ChannelKind.RedLight, "", TimeAxis.Even(default, SampleRate.Of(100, 1000), 100), CountColumn.Of(Stillwatch.Signals.Calibration.Counts, Enumerable.Repeat((int?)5, 100)));
        var derived = Of(infrared, red);
        Assert.Equal(("I", null), (derived.Plan.PulseLabel, derived.Plan.RedLabel));
        Assert.Contains(derived.Plan.Candidates, c => c.Label == "R" && !c.Chosen && c.Reason.Contains("rates of"));
    }

    [Theory] // infrared rises, red rises | used as infrared, used as red, light, falls
    [InlineData(true, true, false, false, false)]
    [InlineData(false, true, false, true, true)]
    [InlineData(true, false, false, false, false)]
    [InlineData(false, false, true, true, true)]
    public void Two_lights_have_their_direction_tested_and_one_that_rises_with_blood_gives_no_saturation(bool infraredRises, bool redRises, bool hasSaturation, bool isLight, bool falls)
    {
        double Rises(double t) => 90_000 - Falling(t);
        var derived = Of(Channel("I", ChannelKind.InfraredLight, infraredRises ? Rises : Falling), Channel("R", ChannelKind.RedLight, redRises ? Rises : Falling));
        Assert.Equal((hasSaturation, isLight, falls), (derived.Plan.RedLabel is not null, derived.Plan.IsLight, derived.Plan.FallsWithBlood));
        Assert.Equal(72, derived.Seconds[20].PulseRatePerMinute, 0.5);
        Assert.Equal(hasSaturation, !double.IsNaN(derived.Seconds[20].SpO2Percent));
        Assert.Equal(hasSaturation, derived.Plan.NoSaturationBecause is null);
        Assert.All(derived.Beats, b => Assert.True(b.PeakSeconds - b.TroughSeconds < 0.5 * 60 / 72));
        Assert.Contains(derived.Plan.Candidates, c => c.Label == "I" && c.Reason.Contains(infraredRises ? "rises with blood" : "falls with blood"));
        Assert.Contains(derived.Plan.Candidates, c => c.Label == "R" && c.Reason.Contains(redRises ? "rises with blood" : "falls with blood"));
    }

    [Fact]
    public void Light_without_its_level_is_refused_in_words_and_a_pleth_of_any_level_is_not()
    {
        Channel Infrared() => Channel("I", ChannelKind.InfraredLight, t => Falling(t) - 49_700);
        Channel Red() => Channel("R", ChannelKind.RedLight, t => Falling(t) - 49_700);
        var refused = Assert.Throws<NoLightException>(() => Of(Infrared(), Red()));
        Assert.Matches("^\"I\", \"R\": found [0-9]+ % of its values below zero .* expected raw light above zero; likely cause: the recording holds the pulse without its level", refused.Found);
        Assert.Contains("--map pleth=I", refused.LikelyCause);
        Assert.Equal(72, Of(Infrared(), Channel("P", ChannelKind.Pleth, t => Rising(t) - 1100)).Seconds[20].PulseRatePerMinute, 0.5);
        Assert.Equal(72, Of(Channel("P", ChannelKind.Pleth, t => Rising(t) - 90_000)).Seconds[20].PulseRatePerMinute, 0.5);
    }

    [Fact]
    public void A_reason_that_channels_share_is_said_once_with_their_names()
    {
        Channel Slow(string label) => new(label, ChannelKind.Other, "", TimeAxis.Even(default, new Duration(1000), 3), ValueColumn.Of([1m, 2m, 3m]));
        var refused = Assert.Throws<NoLightException>(() => Of(Slow("RESP"), Slow("ABP")));
        Assert.Equal("\"RESP\", \"ABP\": found 1 a second, expected 25 to 500 samples a second", refused.Found);
        Assert.Contains("trend", refused.LikelyCause);
    }

    [Fact]
    public void Where_nothing_can_hold_a_pulse_that_is_said()
    {
        var trend = new Channel("SpO2", ChannelKind.SpO2, "%", TimeAxis.Even(default, new Duration(1000), 3), ValueColumn.Of([97m, 97m, 96m]));
        var slow = new Channel("slow", ChannelKind.Other, "", TimeAxis.Even(default, new Duration(1000), 3), ValueColumn.Of([1m, 2m, 3m]));
        Assert.Contains("no waveform", Assert.Throws<NoLightException>(() => Of(trend)).Found);
        Assert.Contains("slow", Assert.Throws<NoLightException>(() => Of(trend, slow)).Found);
    }

    [Fact]
    public void A_wrong_date_does_not_fill_the_memory_but_is_refused_in_words()
    {
        var times = new TimeAxis.Builder();
        for (int i = 0; i < 500; i++) times.Add(i < 499 ? 20 * i : 3_000_000_000_000);
        var channel = new Channel("P", ChannelKind.Pleth, "", times.Build(), CountColumn.Of(Stillwatch.Signals.Calibration.Counts, Enumerable.Range(0, 500).Select(i => (int?)i)));
        var refused = Assert.Throws<NoLightException>(() => Of(channel));
        Assert.Contains("days", refused.Found);
        Assert.Contains("a wrong time among the rows", refused.LikelyCause);
    }

    [Fact]
    public void The_whole_recording_says_what_the_stream_says()
    {
        var (infrared, red) = PlainLight.Light(RateHz, 40, 80, 1, 0.8, noise: 0.05);
        var derived = Derivation.Of(PlainLight.RecordingOf(Rate, infrared, red), new OximetrySettings());
        var heard = Heard.Of(StreamInput.RedAndInfrared(Rate), [.. infrared.Select(v => Math.Round(v))], [.. red.Select(v => Math.Round(v))]);
        Assert.Equal(heard.Beats, derived.Beats);
        Assert.Equal(heard.Seconds, derived.Seconds);
        Assert.Equal(heard.Breathing, derived.Breathing);
    }

    private static double Rising(double seconds) => 1000 + 300 * PlainLight.Pulse(seconds * 1.2);

    private static double Falling(double seconds) => 50_000 * Math.Exp(-0.01 * PlainLight.Pulse(seconds * 1.2));

    private static DerivedRecording Of(params Channel[] channels) =>
        Derivation.Of(new Recording("plan", new RecordingStart.Unknown(), channels, SourceAveraging.Unknown, []), new OximetrySettings());

    private static Channel Channel(string label, ChannelKind kind, Func<double, double> value)
    {
        var counts = Enumerable.Range(0, 40 * RateHz).Select(i => (int?)Math.Round(value(i / (double)RateHz)));
        return new Channel(label, kind, "", TimeAxis.Even(default, Rate, 40 * RateHz), CountColumn.Of(Stillwatch.Signals.Calibration.Counts, counts));
    }
}
