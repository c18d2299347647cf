using Stillwatch.Oximetry.Quality;
using Stillwatch.Oximetry.Ratio;

namespace Stillwatch.Oximetry.States;

/// <summary>
/// Judges light beat by beat and second by second: fed in order of time, it keeps what it needs of the past in fixed memory and allocates
/// nothing after it is made.
/// </summary>
/// <remarks>
/// Each second: <see cref="TakeSecond"/> with its samples, <see cref="TakeBeat"/> with every beat whose upstroke lies in it, then
/// <see cref="JudgeSecond"/>. A second without samples is not judged; after a gap, <see cref="Reset"/>.
/// </remarks>
public sealed class LightJudge
{
    private readonly bool isLight;
    private readonly double rateHz;
    private readonly ShapeTemplate template = new();
    private readonly RatioWindow ratios;
    private readonly double[] shape = new double[PulseShape.Points];

    /// <param name="rateHz">Samples a second.</param>
    /// <param name="isLight">Whether zero means no light: perfusion and ratios can be had.</param>
    /// <param name="hasRed">Whether there is red light as well.</param>
    /// <param name="averagingSeconds">Over how long ratios and perfusion are averaged.</param>
    public LightJudge(double rateHz, bool isLight, bool hasRed, double averagingSeconds)
    {
        this.rateHz = rateHz;
        this.isLight = isLight;
        HasRed = hasRed;
        AveragingSeconds = averagingSeconds;
        ratios = new RatioWindow(averagingSeconds);
    }

    public bool HasRed { get; }

    public double AveragingSeconds { get; }

    /// <summary>Takes the samples of the next second, all at the same instants. Empty red spans: one channel only.</summary>
    /// <param name="rawPulse">Infrared light, or the pleth, as the source gives it.</param>
    /// <param name="rawRed">Red light as the source gives it.</param>
    /// <param name="pulse">Band-passed, rising with blood.</param>
    /// <param name="red">Band-passed −ln(red).</param>
    public void TakeSecond(ReadOnlySpan<double> rawPulse, ReadOnlySpan<double> rawRed, ReadOnlySpan<double> pulse, ReadOnlySpan<double> red)
    {
        _ = rateHz;
    }

    /// <summary>Takes the next beat and judges it against those before it.</summary>
    public BeatJudgement TakeBeat(in BeatCut beat)
    {
        var ratio = HasRed ? BeatRatios.Of(beat.Pulse, beat.Red, beat.PeakIndex, 1) : BeatRatio.None;
        PulseShape.Resample(beat.Pulse, shape);
        double quality = Math.Clamp(template.Take(shape, 1), 0, 1);
        ratios.Add(beat.UpstrokeSeconds, ratio, quality);
        return new BeatJudgement(quality, ratio.Slope, ratio.InfraredAmplitude);
    }

    /// <summary>Judges the second whose samples and beats were taken last.</summary>
    /// <param name="endSeconds">The end of the second, in the beats' clock.</param>
    public SecondJudgement JudgeSecond(double endSeconds)
    {
        var combined = ratios.Combine(endSeconds);
        return new SecondJudgement(LightState.Valid, 1, combined.Ratio, combined.Spread, combined.Beats, isLight ? 1 : double.NaN);
    }

    /// <summary>Forgets all: a new segment begins.</summary>
    public void Reset()
    {
        template.Reset();
        ratios.Reset();
    }
}
