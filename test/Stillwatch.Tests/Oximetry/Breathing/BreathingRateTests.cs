using CsCheck;
using Stillwatch.Oximetry;
using Stillwatch.Oximetry.Breathing;
using Stillwatch.Tests.Alarms;

namespace Stillwatch.Tests.Oximetry.Breathing;

/// <summary>What a respiratory rate does with beats: windows, refusals, identities.</summary>
public sealed class BreathingRateTests
{
    private static readonly InventedBreathing Patient = new() { LengthSeconds = 200 };

    [Fact]
    public void Windows_lie_side_by_side_from_second_0_and_a_rest_has_none()
    {
        var (beats, _) = Patient.Make(1);
        var readings = BreathingReadings.Of(beats, 200);
        Assert.Equal([0.0, 32, 64, 96, 128, 160], readings.Select(r => r.StartSeconds));
        Assert.All(readings, r => Assert.Equal(32, r.LengthSeconds));
        Assert.Equal(5, BreathingReadings.Of(beats.Where(b => b.UpstrokeSeconds < 191.9), 191.999).Count);
        Assert.Equal(6, BreathingReadings.Of(beats.Where(b => b.UpstrokeSeconds < 191.9), 192).Count);
        Assert.Equal(4, BreathingReadings.Of(beats, 200, 50).Count);
    }

    [Fact]
    public void A_reading_comes_four_seconds_after_its_window_or_at_the_end()
    {
        var readings = new BreathingReadings();
        var rate = new BreathingRate(32, readings);
        foreach (var beat in Patient.Make(1).Beats.Where(b => b.UpstrokeSeconds < 35)) rate.Take(beat);
        rate.PassTo(35.999);
        Assert.Empty(readings.All);
        rate.PassTo(36);
        Assert.Single(readings.All);
        rate.End(64);
        Assert.Equal(2, readings.All.Count);
    }

    [Fact]
    public void Telling_time_between_beats_changes_nothing() =>
        Gen.Select(Gen.ULong[0, 1000], Gen.Double[0, 1].Array[1, 200]).Sample((seed, places) =>
        {
            var (beats, _) = InventedBreathing.Mixed(seed).Make(seed);
            var told = new BreathingReadings();
            var rate = new BreathingRate(32, told);
            int k = 0;
            double last = 0;
            foreach (var beat in beats)
            {
                rate.PassTo(Math.Min(beat.UpstrokeSeconds, last + places[k++ % places.Length] * (beat.UpstrokeSeconds - last)));
                rate.Take(beat);
                last = beat.UpstrokeSeconds;
            }

            rate.End(300);
            Assert.Equal(BreathingReadings.Of(beats, 300), told.All);
        }, iter: Sampling.Cases(30));

    [Fact]
    public void Each_window_is_what_a_slow_look_at_the_whole_list_gives() =>
        Gen.Select(Gen.ULong[0, 10_000], Gen.Double[16, 60], Gen.Double[0, 0.4]).Sample((seed, window, poor) =>
        {
            var random = new Stillwatch.Rehearsal.SeededRandom(seed);
            var (whole, _) = InventedBreathing.Mixed(seed).Make(seed);
            Beat[] beats = [.. whole.Select(b => random.Unit() < poor * poor ? b with { Quality = 0.1 } : random.Unit() < 0.02 ? b with { Baseline = double.NaN } : b)];
            var expected = Enumerable.Range(0, (int)(300 / window)).Select(i => NaiveBreathing.Read(beats, i * window, window));
            AssertSame(expected, BreathingReadings.Of(beats, 300, window), 1e-6);
        }, iter: Sampling.Cases(40));

    [Fact]
    public void Another_scale_of_the_light_breathes_as_fast() =>
        Gen.Select(Gen.ULong[0, 1000], Gen.Double[1e-6, 1e6], Gen.Double[-1e3, 1e3]).Sample((seed, scale, offset) =>
        {
            var (beats, _) = InventedBreathing.Mixed(seed).Make(seed);
            var scaled = beats.Select(b => b with { Amplitude = b.Amplitude * scale, Baseline = (b.Baseline + offset) * scale });
            AssertSame(BreathingReadings.Of(beats, 300), BreathingReadings.Of(scaled, 300), 1e-6);
        }, iter: Sampling.Cases(30));

    [Fact]
    public void Beats_a_window_later_are_read_a_window_later() =>
        Gen.Select(Gen.ULong[0, 1000], Gen.Int[1, 5]).Sample((seed, windows) =>
        {
            var (beats, _) = InventedBreathing.Mixed(seed).Make(seed);
            var later = beats.Select(b => b with { UpstrokeSeconds = b.UpstrokeSeconds + 32 * windows });
            var readings = BreathingReadings.Of(later, 300 + 32 * windows);
            AssertSame(BreathingReadings.Of(beats, 300), readings.Skip(windows).Select(r => r with { StartSeconds = r.StartSeconds - 32 * windows }), 1e-6, from: 1);
        }, iter: Sampling.Cases(30));

    [Fact]
    public void Beats_beyond_the_margin_of_a_window_say_nothing_about_it()
    {
        var (beats, _) = Patient.Make(3);
        var all = BreathingReadings.Of(beats, 200);
        var part = BreathingReadings.Of(beats.Where(b => b.UpstrokeSeconds is >= 60 and < 100), 200);
        Assert.Equal(all[2], part[2]);
    }

    [Theory]
    [InlineData("no beat at all")]
    [InlineData("one beat")]
    [InlineData("beats for a third of the window")]
    [InlineData("beats like a clock, all alike")]
    [InlineData("fewer than three beats in ten seconds")]
    [InlineData("no figure but poor ones")]
    public void Too_little_to_go_by_is_refused(string what)
    {
        var (beats, _) = Patient.Make(4);
        IEnumerable<Beat> few = what switch
        {
            "no beat at all" => [],
            "one beat" => beats.Take(1),
            "beats for a third of the window" => beats.Where(b => b.UpstrokeSeconds < 11),
            "beats like a clock, all alike" => Enumerable.Range(0, 60).Select(i => beats[0] with { UpstrokeSeconds = 0.5 + 0.75 * i }),
            "fewer than three beats in ten seconds" => beats.Where((_, i) => i % 6 == 0),
            _ => beats.Select(b => b with { Quality = 0.1 }),
        };
        var reading = BreathingReadings.Of(few, 100)[0];
        Assert.True(double.IsNaN(reading.RatePerMinute), $"{what}: {reading}");
    }

    [Fact]
    public void A_gap_of_ten_minutes_has_its_windows_and_they_are_refused()
    {
        var (beats, _) = Patient.Make(5);
        var gapped = beats.Concat(beats.Select(b => b with { UpstrokeSeconds = b.UpstrokeSeconds + 800 }));
        var readings = BreathingReadings.Of(gapped, 1000);
        Assert.Equal(31, readings.Count);
        Assert.All(readings.Where(r => r.StartSeconds is >= 224 and <= 736), r => Assert.True(double.IsNaN(r.RatePerMinute)));
        Assert.All(readings.Where(r => r.StartSeconds is < 160 or >= 800 and < 960), r => Assert.False(double.IsNaN(r.RatePerMinute)));
    }

    [Fact]
    public void Figures_that_are_no_numbers_leave_the_time_between_beats()
    {
        var (beats, _) = new InventedBreathing { Frequency = 0.06, SlowWaves = 0.3 }.Make(6);
        var bare = BreathingReadings.Of(beats.Select(b => b with { Amplitude = double.NaN, Baseline = double.NegativeInfinity, Quality = double.NaN }), 300);
        Assert.All(bare, r => Assert.True(double.IsNaN(r.FromAmplitude) && double.IsNaN(r.FromIntensity)));
        Assert.All(bare, r => Assert.InRange(r.FromFrequency, 13, 19));
        Assert.All(bare, r => Assert.Equal(r.FromFrequency, r.RatePerMinute, 9));
    }

    /// <summary>The pulse is the beats' own in each window: slow waves and drift carry it far from the one that the patient was made with.</summary>
    [Fact]
    public void Nothing_above_half_of_the_windows_own_pulse_rate_is_ever_told() =>
        Gen.Select(Gen.ULong[0, 1_000_000], Gen.Double[20, 200]).Sample((seed, madeWith) =>
        {
            var (beats, _) = new InventedBreathing { BreathsPerMinute = 30, PulsePerMinute = madeWith, Noise = 3 }.Make(seed);
            Assert.All(BreathingReadings.Of(beats, 300).Where(r => !double.IsNaN(r.RatePerMinute)), r =>
            {
                double[] times = [.. beats.Select(b => b.UpstrokeSeconds).Where(t => t >= r.StartSeconds && t < r.StartSeconds + r.LengthSeconds)];
                double pulse = 60 * (times.Length - 1) / (times[^1] - times[0]);
                Assert.False(r.RatePerMinute > 0.5 * pulse || r.RatePerMinute is < 3.5 or > 70.5, $"made with {madeWith}, the window's pulse {pulse}: {r}");
            });
        }, iter: Sampling.Cases(100));

    [Theory]
    [InlineData(double.NaN)]
    [InlineData(double.PositiveInfinity)]
    [InlineData(5.0)]
    [InlineData(4.9)]
    [InlineData(-1.0)]
    [InlineData(1e12)]
    public void A_beat_out_of_order_is_refused(double seconds)
    {
        var rate = new BreathingRate(32, new BreathingReadings());
        rate.Take(new Beat(5, 4.9, 5.1, 1, 100, double.NaN, 1));
        Assert.ThrowsAny<ArgumentException>(() => rate.Take(new Beat(seconds, 0, 0, 1, 100, double.NaN, 1)));
    }

    [Fact]
    public void A_beat_in_time_that_has_passed_is_refused_and_so_is_one_after_the_end()
    {
        var rate = new BreathingRate(32, new BreathingReadings());
        rate.PassTo(10);
        rate.PassTo(7); // nothing new
        Assert.Throws<ArgumentException>(() => rate.Take(new Beat(9, 8.9, 9.1, 1, 100, double.NaN, 1)));
        Assert.Throws<ArgumentOutOfRangeException>(() => rate.PassTo(double.PositiveInfinity));
        Assert.Throws<ArgumentOutOfRangeException>(() => rate.PassTo(double.NaN));
        rate.End(20);
        Assert.Throws<InvalidOperationException>(() => rate.Take(new Beat(21, 20.9, 21.1, 1, 100, double.NaN, 1)));
    }

    [Theory]
    [InlineData(15.9)]
    [InlineData(128.1)]
    [InlineData(double.NaN)]
    public void A_window_too_short_or_too_long_is_refused(double seconds) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => new BreathingRate(seconds, new BreathingReadings()));

    [Fact]
    public void A_million_beats_cost_no_memory()
    {
        var readings = new CountingSink();
        var rate = new BreathingRate(32, readings);
        for (int i = 0; i < 1000; i++) rate.Take(InventedBeat(i)); // all is compiled and in place
        long before = GC.GetAllocatedBytesForCurrentThread();
        for (int i = 1000; i < 1_000_000; i++) rate.Take(InventedBeat(i));
        long allocated = GC.GetAllocatedBytesForCurrentThread() - before;
        Assert.True(allocated < 100_000, $"{allocated} bytes for {readings.Count} windows");
        Assert.InRange(readings.Count, 24_000, 26_000);
    }

    [Fact]
    public void Beats_too_many_to_be_a_pulse_are_refused_and_cost_no_memory()
    {
        var readings = new BreathingReadings();
        var rate = new BreathingRate(32, readings);
        for (int i = 0; i < 1_000_000; i++) rate.Take(new Beat(i * 1e-4, 0, 0, 1, i % 7, double.NaN, 1));
        rate.End(100);
        Assert.Equal(3, readings.All.Count);
        Assert.All(readings.All, r => Assert.True(double.IsNaN(r.RatePerMinute) && double.IsNaN(r.FromIntensity)));
    }

    private static Beat InventedBeat(int i) =>
        new(i * 0.8 + 0.02 * Math.Sin(i), 0, 0, 1 + 0.1 * Math.Sin(i * 1.3), 100 + Math.Sin(i * 1.3), double.NaN, 1);

    private static void AssertSame(IEnumerable<BreathingReading> expected, IEnumerable<BreathingReading> actual, double tolerance, int from = 0)
    {
        var pairs = expected.Zip(actual).ToList();
        Assert.True(pairs.Count > from);
        foreach (var (one, other) in pairs.Skip(from))
        {
            Assert.Equal(one.StartSeconds, other.StartSeconds);
            Assert.Equal(one.RatePerMinute, other.RatePerMinute, tolerance);
            Assert.Equal(one.FromIntensity, other.FromIntensity, tolerance);
            Assert.Equal(one.FromAmplitude, other.FromAmplitude, tolerance);
            Assert.Equal(one.FromFrequency, other.FromFrequency, tolerance);
        }
    }

    private sealed class CountingSink : IOximetrySink
    {
        public int Count { get; private set; }

        public void Take(in Beat beat)
        {
        }

        public void Take(int secondIndex, in SecondReading reading)
        {
        }

        public void Take(in BreathingReading reading) => Count++;
    }
}
