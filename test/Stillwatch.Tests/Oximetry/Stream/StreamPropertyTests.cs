using CsCheck;
using Stillwatch.Oximetry;
using Stillwatch.Tests.Alarms;
using Stillwatch.Time;

namespace Stillwatch.Tests.Oximetry.Stream;

/// <summary>What must hold of the stream whatever the light.</summary>
public class StreamPropertyTests
{
    /// <summary>A minute or less of light at some rate, with holes, spikes and dark stretches.</summary>
    private sealed record Drawn(double RateHz, double[] Infrared, double[] Red);

    private static readonly Gen<Drawn> AnyLight =
        from rateHz in One(25, 50, 62.5, 125, 256)
        from perMinute in Gen.Double[30, 240]
        from perfusion in Gen.Double[0.05, 5]
        from seconds in Gen.Int[1, 40]
        from noise in Gen.Double[0, 0.3]
        from seed in Gen.Int[0, 10_000]
        from holes in Gen.Select(Gen.Double[0, 1], Gen.Double[0, 0.3], Gen.Int[0, 5]).Array[0, 4]
        select Spoil(rateHz, PlainLight.Light(rateHz, seconds, perMinute, perfusion, 0.7, noise, seed), holes);

    private const double ConverterEnd = 262_143;

    private static Gen<double> One(params double[] values) => Gen.Int[0, values.Length - 1].Select(i => values[i]);

    private static Drawn Spoil(double rateHz, (double[] Infrared, double[] Red) light, (double From, double Length, int Kind)[] holes)
    {
        foreach (var (from, length, kind) in holes)
        {
            int start = (int)(from * light.Infrared.Length), count = kind == 0 ? 1 : kind == 1 ? (int)(0.08 * rateHz) : (int)(length * light.Infrared.Length);
            for (int i = start; i < Math.Min(start + count, light.Infrared.Length); i++)
            {
                light.Infrared[i] = kind switch { 3 => 0, 4 => ConverterEnd, 5 => light.Infrared[i], _ => double.NaN };
                light.Red[i] = kind switch { 3 => 0, 4 => ConverterEnd, _ => double.NaN };
            }
        }

        return new Drawn(rateHz, light.Infrared, light.Red);
    }

    [Fact]
    public void Any_cutting_gives_the_same_to_the_last_bit_gaps_too() =>
        Gen.Select(AnyLight, Gen.Int[1, 400].Array[1, 6], Gen.Enum<BeatMethod>()).Sample((light, cuts, method) =>
        {
            var settings = new OximetrySettings { Beats = method };
            var whole = Heard.Of(Heard.TwoLights(light.RateHz), light.Infrared, light.Red, settings);
            var heard = new Heard();
            var stream = new OximetryStream(Heard.TwoLights(light.RateHz), settings, heard);
            for (int at = 0, n = 0; at < light.Infrared.Length; n++)
            {
                int count = Math.Min(cuts[n % cuts.Length], light.Infrared.Length - at);
                var infrared = light.Infrared.AsSpan(at, count);
                var red = light.Red.AsSpan(at, count);
                if (IsGap(infrared) && IsGap(red)) stream.PushGap(count);
                else stream.Push(infrared, red);
                at += count;
            }

            stream.End();
            Heard.Same(whole, heard);
            whole.Sound();
        }, iter: Sampling.Cases(60));

    [Fact]
    public void Brighter_or_darker_light_says_the_same() =>
        Gen.Select(AnyLight, Gen.Double[0.2, 5], Gen.Double[0.2, 5]).Sample((light, factor, redFactor) =>
        {
            // A converter at its end is level: where on a level stretch the extreme lies, rounding decides.
            foreach (double[] values in new[] { light.Infrared, light.Red }) values.AsSpan().Replace(ConverterEnd, double.NaN);
            var once = Heard.Of(Heard.TwoLights(light.RateHz), light.Infrared, light.Red);
            var again = Heard.Of(Heard.TwoLights(light.RateHz), [.. light.Infrared.Select(v => v * factor)], [.. light.Red.Select(v => v * redFactor)]);
            Assert.Equal(once.Beats.Count, again.Beats.Count);
            foreach (var (a, b) in once.Beats.Zip(again.Beats))
            {
                Assert.Equal(a.UpstrokeSeconds, b.UpstrokeSeconds, 1e-6);
                Assert.Equal(a.TroughSeconds, b.TroughSeconds);
                Near(a.Amplitude, b.Amplitude, 1e-9);
                if (a.Quality > 0.3) Near(a.Ratio, b.Ratio, 1e-7);
            }
        }, iter: Sampling.Cases(40));

    [Fact]
    public void Light_that_comes_some_seconds_later_gives_beats_that_come_so_many_seconds_later() =>
        Gen.Select(AnyLight, Gen.Int[1, 30]).Sample((light, seconds) =>
        {
            int gap = (int)new Stillwatch.Oximetry.Streaming.SecondGrid(SampleRate.Of((long)(light.RateHz * 1000), 1_000_000)).FirstIndexOf(2 * seconds); // whole seconds at any of the rates
            var once = Heard.Of(Heard.TwoLights(light.RateHz), light.Infrared, light.Red);
            var later = new Heard();
            var stream = new OximetryStream(Heard.TwoLights(light.RateHz), new OximetrySettings(), later);
            stream.PushGap(gap);
            stream.Push(light.Infrared, light.Red);
            stream.End();
            Assert.Equal(once.Beats.Count, later.Beats.Count);
            foreach (var (a, b) in once.Beats.Zip(later.Beats))
            {
                Assert.Equal(a.UpstrokeSeconds + gap / light.RateHz, b.UpstrokeSeconds, 1e-9);
                Near(a.Amplitude, b.Amplitude, 1e-9);
            }

            Assert.Equal(once.Seconds.Select(s => s.State), later.Seconds.Skip(2 * seconds).Select(s => s.State));
            Assert.All(later.Seconds.Take(2 * seconds), s => Assert.Equal(LightState.NoSamples, s.State));
        }, iter: Sampling.Cases(40));

    [Fact]
    public void Whatever_comes_nothing_is_thrown_and_nothing_infinite_is_said() => Whatever(seed: null, Sampling.Cases(80));

    /// <summary>A pulse that is found only after its second was told: one of 4 000 draws, kept.</summary>
    [Fact]
    public void A_pulse_that_is_found_after_its_second_was_told_is_no_reason_to_stop() => Whatever(seed: "6t1j-n_zfmzd", iter: 1);

    private static void Whatever(string? seed, long iter) =>
        Gen.Select(Hostile.Array[1, 2000], Gen.Int[1, 40], Gen.Enum<BeatMethod>(), Gen.Bool, Gen.Bool).Sample((drawn, repeat, method, isLight, falls) =>
        {
            double[] pulse = [.. drawn.SelectMany(v => Enumerable.Repeat(v, repeat)).Take(8000)], red = [.. pulse.Reverse()];
            var settings = new OximetrySettings { Beats = method };
            Heard.Of(new StreamInput(SampleRate.Of(50, 1000), isLight, falls, isLight), pulse, isLight ? red : [], settings).Sound();
        }, seed: seed, iter: iter);

    private static readonly Gen<double> Hostile = Gen.Frequency(
        (6, Gen.Double[1, 2]),
        (3, One(0, 1, -1, 1e5, 1e-300, double.Epsilon)),
        (1, One(double.NaN, 1e300, -1e300, double.PositiveInfinity, double.NegativeInfinity, double.MaxValue, 1e59, -1e59)));

    private static bool IsGap(ReadOnlySpan<double> samples)
    {
        foreach (double sample in samples)
        {
            if (!double.IsNaN(sample)) return false;
        }

        return true;
    }

    private static void Near(double expected, double actual, double part)
    {
        if (double.IsNaN(expected)) Assert.True(double.IsNaN(actual));
        else Assert.Equal(expected, actual, Math.Abs(expected) * part);
    }
}
