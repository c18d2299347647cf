using Stillwatch.Oximetry;
using Stillwatch.Time;

namespace Stillwatch.Tests.Oximetry.Stream;

/// <summary>Holes in the light: short ones are bridged, longer ones part segments, and only what lies near them changes.</summary>
public class GapTests
{
    private const int RateHz = 125;

    [Theory]
    [InlineData(1)]
    [InlineData(12)]
    public void A_hole_of_up_to_a_tenth_of_a_second_costs_no_beat(int samples)
    {
        var (infrared, red) = PlainLight.Light(RateHz, 60, 72, 1, 0.6);
        var whole = Heard.Of(Heard.TwoLights(RateHz), infrared, red);
        for (int i = 3780; i < 3780 + samples; i++) infrared[i] = red[i] = double.NaN;
        var holed = Heard.Of(Heard.TwoLights(RateHz), infrared, red);
        Assert.Equal(whole.Beats.Count, holed.Beats.Count);
        Assert.All(holed.Seconds.Take(23), (s, i) => Assert.Equal(whole.Seconds[i].PulseRatePerMinute, s.PulseRatePerMinute));
        Assert.Equal(LightState.Valid, holed.Seconds[30].State);
        Assert.Equal(72, holed.Seconds[30].PulseRatePerMinute, 0.5);
    }

    [Fact]
    public void A_gap_of_three_seconds_changes_only_what_is_near_and_no_interval_crosses_it()
    {
        var (infrared, red) = PlainLight.Light(RateHz, 90, 72, 1, 0.6);
        var whole = Heard.Of(Heard.TwoLights(RateHz), infrared, red);
        for (int i = 45 * RateHz; i < 48 * RateHz; i++) infrared[i] = red[i] = double.NaN;
        var gapped = Heard.Of(Heard.TwoLights(RateHz), infrared, red);
        Assert.Equal(whole.Beats.Where(b => b.PeakSeconds < 42), gapped.Beats.Where(b => b.PeakSeconds < 42));
        Assert.DoesNotContain(gapped.Beats, b => b.UpstrokeSeconds is > 45 and < 48);
        Assert.Equal(whole.Seconds.Take(36), gapped.Seconds.Take(36));
        Assert.All(gapped.Seconds.Skip(45).Take(3), s => Assert.Equal(LightState.NoSamples, s.State));
        Assert.All(gapped.Seconds.Skip(45).Take(3), s => Assert.True(double.IsNaN(s.Quality)));
        Assert.All(gapped.Seconds, s => Assert.True(double.IsNaN(s.PulseRatePerMinute) || Math.Abs(s.PulseRatePerMinute - 72) < 0.5));
        Assert.Equal(whole.Seconds.Skip(62).Select(s => s.State), gapped.Seconds.Skip(62).Select(s => s.State));
    }

    [Fact]
    public void Dark_light_is_a_sensor_off_and_not_a_gap_of_the_source()
    {
        var (infrared, red) = PlainLight.Light(RateHz, 60, 72, 1, 0.6);
        for (int i = 30 * RateHz; i < 40 * RateHz; i++) infrared[i] = red[i] = 0;
        var heard = Heard.Of(Heard.TwoLights(RateHz), infrared, red);
        Assert.All(heard.Seconds.Skip(30).Take(10), s => Assert.Equal(LightState.SensorOff, s.State));
        Assert.All(heard.Seconds.Skip(30).Take(10), s => Assert.Equal(0, s.Quality));
    }

    [Fact]
    public void Where_red_alone_is_missing_there_is_a_pulse_rate_and_no_saturation()
    {
        var (infrared, red) = PlainLight.Light(RateHz, 60, 72, 1, 0.6);
        for (int i = 20 * RateHz; i < 40 * RateHz; i++) red[i] = double.NaN;
        var heard = Heard.Of(Heard.TwoLights(RateHz), infrared, red);
        Assert.Equal(72, heard.Seconds[30].PulseRatePerMinute, 0.5);
        Assert.True(double.IsNaN(heard.Seconds[30].SpO2Percent));
        Assert.All(heard.Beats.Where(b => b.UpstrokeSeconds is > 20 and < 40), b => Assert.True(double.IsNaN(b.Ratio)));
        Assert.Equal(95, heard.Seconds[10].SpO2Percent, 0.5);
        Assert.All(heard.Seconds.Skip(26).Take(8), s => Assert.Equal(LightState.NoRed, s.State));
        Assert.All(heard.Seconds, s => Assert.True(s.State != LightState.Valid || !double.IsNaN(s.SpO2Percent), "valid without SpO2"));
    }

    [Theory]
    [InlineData(double.PositiveInfinity, 0, 60)]
    [InlineData(double.NaN, 20, 26)]
    [InlineData(0.0, 20, 40)]
    public void A_second_with_a_red_channel_and_without_SpO2_is_never_called_valid(double value, int from, int to)
    {
        var (infrared, red) = PlainLight.Light(RateHz, 60, 72, 1, 0.6);
        for (int i = from * RateHz; i < to * RateHz; i++) red[i] = value;
        var heard = Heard.Of(Heard.TwoLights(RateHz), infrared, red);
        heard.Sound();
        Assert.All(heard.Seconds, s => Assert.True(s.State != LightState.Valid || !double.IsNaN(s.SpO2Percent), $"{s.State} without SpO2"));
        if (to - from > 20) Assert.Contains(heard.Seconds, s => s.State == LightState.NoRed && Math.Abs(s.PulseRatePerMinute - 72) < 1 && !double.IsNaN(s.PerfusionPercent));
    }

    [Fact]
    public void Where_the_users_table_ends_the_pulse_goes_on_and_the_reason_is_given()
    {
        var (infrared, red) = PlainLight.Light(RateHz, 60, 72, 1, 0.6);
        var table = Stillwatch.Oximetry.Calibration.CurveTable.Parse("ratio,spo2\n0.8,90\n1.0,85\n", "by hand");
        var heard = Heard.Of(Heard.TwoLights(RateHz), infrared, red, new OximetrySettings { Curve = table });
        Assert.All(heard.Seconds.Skip(10).Take(40), s => Assert.Equal((LightState.BeyondCurve, true, true), (s.State, double.IsNaN(s.SpO2Percent), Math.Abs(s.PulseRatePerMinute - 72) < 1)));
    }

    [Fact]
    public void Seconds_of_a_rate_that_is_not_whole_hold_the_samples_of_their_time()
    {
        var grid = new Stillwatch.Oximetry.Streaming.SecondGrid(SampleRate.Of(100, 3003)); // 33.3 a second
        for (int second = 0; second < 1000; second++)
        {
            long from = grid.FirstIndexOf(second);
            Assert.True(from * 3003m / 100_000m >= second);
            Assert.True(from == 0 || (from - 1) * 3003m / 100_000m < second);
            Assert.InRange(grid.FirstIndexOf(second + 1) - from, 33, grid.MostInASecond);
        }
    }

    [Theory]
    [InlineData(1)]
    [InlineData(124)]
    [InlineData(125)]
    [InlineData(139)]
    [InlineData(140)]
    [InlineData(400)]
    public void Every_second_that_has_begun_has_a_reading(int samples)
    {
        var (infrared, red) = PlainLight.Light(RateHz, 4, 72, 1, 0.6);
        var heard = Heard.Of(Heard.TwoLights(RateHz), infrared[..samples], red[..samples]);
        Assert.Equal((samples + RateHz - 1) / RateHz, heard.Seconds.Count);
        heard.Sound();
    }

    [Fact]
    public void No_light_at_all_says_nothing() => Assert.Empty(Heard.Of(Heard.TwoLights(RateHz), [], []).Seconds);

    [Fact]
    public void What_does_not_fit_is_refused_in_words()
    {
        var sink = new Heard();
        Assert.Throws<ArgumentOutOfRangeException>(() => new OximetryStream(Heard.TwoLights(24), new OximetrySettings(), sink));
        Assert.Throws<ArgumentOutOfRangeException>(() => new OximetryStream(Heard.TwoLights(501), new OximetrySettings(), sink));
        Assert.Throws<ArgumentOutOfRangeException>(() => new OximetryStream(Heard.TwoLights(25), new OximetrySettings { Averaging = new Duration(1000) }, sink));
        Assert.Throws<ArgumentOutOfRangeException>(() => new OximetryStream(Heard.TwoLights(25), new OximetrySettings { Averaging = new Duration(41_000) }, sink));
        var stream = new OximetryStream(Heard.TwoLights(25), new OximetrySettings(), sink);
        Assert.Throws<ArgumentException>(() => stream.Push([1, 2], [1]));
        stream.End();
        Assert.Throws<InvalidOperationException>(() => stream.Push([1], [1]));
    }
}
