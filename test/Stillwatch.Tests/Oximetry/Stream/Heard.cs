using Stillwatch.Oximetry;
using Stillwatch.Time;

namespace Stillwatch.Tests.Oximetry.Stream;

/// <summary>All that a stream said.</summary>
internal sealed class Heard : IOximetrySink
{
    public List<Beat> Beats { get; } = [];

    public List<SecondReading> Seconds { get; } = [];

    public List<BreathingReading> Breathing { get; } = [];

    public void Take(in Beat beat) => Beats.Add(beat);

    public void Take(int secondIndex, in SecondReading reading)
    {
        Assert.Equal(Seconds.Count, secondIndex);
        Seconds.Add(reading);
    }

    public void Take(in BreathingReading reading) => Breathing.Add(reading);

    /// <summary>A whole series at once; NaN is a missing sample.</summary>
    public static Heard Of(StreamInput input, double[] pulse, double[] red, OximetrySettings? settings = null)
    {
        var heard = new Heard();
        var stream = new OximetryStream(input, settings ?? new OximetrySettings(), heard);
        stream.Push(pulse, red);
        stream.End();
        return heard;
    }

    public static StreamInput TwoLights(double rateHz) => StreamInput.RedAndInfrared(SampleRate.Of((long)(rateHz * 1000), 1_000_000));

    /// <summary>The same to the last bit, NaN beside NaN.</summary>
    public static void Same(Heard expected, Heard actual)
    {
        Assert.Equal(expected.Beats, actual.Beats);
        Assert.Equal(expected.Seconds, actual.Seconds);
        Assert.Equal(expected.Breathing, actual.Breathing);
    }

    /// <summary>Nothing infinite, nothing out of its range.</summary>
    public void Sound()
    {
        foreach (var beat in Beats)
        {
            Assert.True(double.IsFinite(beat.UpstrokeSeconds) && beat.TroughSeconds < beat.PeakSeconds);
            Assert.True(beat.UpstrokeSeconds >= beat.TroughSeconds && beat.UpstrokeSeconds <= beat.PeakSeconds);
            Assert.True(double.IsFinite(beat.Amplitude) && beat.Amplitude > 0);
            Assert.True(double.IsFinite(beat.Baseline));
            Assert.InRange(beat.Quality, 0, 1);
            Assert.False(double.IsInfinity(beat.Ratio));
        }

        for (int i = 1; i < Beats.Count; i++) Assert.True(Beats[i].UpstrokeSeconds > Beats[i - 1].UpstrokeSeconds);
        foreach (var second in Seconds)
        {
            Assert.False(double.IsInfinity(second.PulseRatePerMinute) || double.IsInfinity(second.RatioOfRatios) || double.IsInfinity(second.PerfusionPercent));
            Assert.True(double.IsNaN(second.SpO2Percent) || second.SpO2Percent is >= 0 and <= 100);
            Assert.True(double.IsNaN(second.Quality) || second.Quality is >= 0 and <= 1);
            if (second.State == LightState.Valid) continue;
            Assert.True(double.IsNaN(second.SpO2Percent) && double.IsNaN(second.RatioOfRatios));
            Assert.True(double.IsFinite(second.PulseRatePerMinute) == !second.State.RefusesAll());
            if (!second.State.RefusesAll()) continue;
            Assert.True(double.IsNaN(second.PulseRatePerMinute) && double.IsNaN(second.SpO2Percent) && double.IsNaN(second.RatioOfRatios) && double.IsNaN(second.PerfusionPercent));
        }
    }
}
