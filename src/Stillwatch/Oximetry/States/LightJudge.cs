using System.Numerics.Tensors;
using Stillwatch.Oximetry.Quality;
using Stillwatch.Oximetry.Ratio;

namespace Stillwatch.Oximetry.States;

/// <summary>
/// Judges light beat by beat and second by second: fed in order of time, it keeps what it needs of the past in fixed memory and allocates
/// nothing after it is made.
/// </summary>
/// <remarks>
/// Each second: <see cref="TakeSecond"/> with its samples and <see cref="TakeBeat"/> with every beat as it becomes known, both in order; then, as many seconds later
/// as the caller waits, <see cref="JudgeSecond"/>, which looks at what was taken before and after that second. At most <see cref="MostSecondsLate"/> later. A
/// second without samples is neither taken nor judged; after a gap of more than a few seconds, <see cref="Reset"/>.
/// </remarks>
public sealed class LightJudge
{
    /// <summary>How many seconds after it was taken a second can still be judged.</summary>
    public const int MostSecondsLate = 24;

    private const int HeldSeconds = MostSecondsLate + PulseSpectrum.WindowSeconds;
    private const int MostSecondsMissing = PulseSpectrum.WindowSeconds;
    private const double NearSeconds = 2; // to either side of the second's middle
    private const double ReferenceSeconds = 20; // how fast the trusted amplitude follows; the ratio four times as fast
    private const double LevelSeconds = 8; // how fast the trusted level follows
    private const double LeastLine = 0.05; // of the power; a weaker line is not followed
    private const int LineHiddenSeconds = 4;
    private const double MovedLog = 0.16; // a sixth, as the rule on the level has it
    private const double LineStaysHz = 2.1 / PulseSpectrum.WindowSeconds; // two bins: beside a pulse that varies a line is not found sharper
    private const double SmoothSeconds = 0.1; // of each of the two means that let noise through the band-pass

    private readonly bool isLight, hasRed;
    private readonly double rateHz, noiseGain;
    private readonly ShapeTemplate template = new(), trustedShape = new();
    private readonly RatioWindow ratios;
    private readonly PulseSpectrum spectrum;
    private readonly SecondEdge edge;
    private readonly StateHold hold = new();
    private readonly NewReference fresh = new();
    private readonly BeatRing beats;
    private readonly SecondFeatures[] seconds = new SecondFeatures[HeldSeconds];
    private readonly double[] shape = new double[PulseShape.Points];
    private readonly RecentMedian amplitudes = new(9), intervals = new(9), noises = new(9), redNoises = new(9);
    private double noise, redNoise, greatestLevel, greatestRedLevel;
    private Reference trusted;
    private long first, next, lineFirst, lineLast;
    private double lineHz, levelThen, redLevelThen; // the levels of the last second that was shown

    /// <param name="rateHz">Samples a second.</param>
    /// <param name="isLight">Whether zero means no light: perfusion and ratios can be had.</param>
    /// <param name="hasRed">Whether there is red light as well.</param>
    /// <param name="averagingSeconds">Over how long ratios and perfusion are averaged.</param>
    public LightJudge(double rateHz, bool isLight, bool hasRed, double averagingSeconds)
    {
        this.rateHz = rateHz;
        this.isLight = isLight;
        this.hasRed = hasRed && isLight;
        // Two equal means of n samples let (2n² + 1)/(3n³) of white noise's power through.
        double n = Math.Max(1, SmoothSeconds * rateHz);
        noiseGain = (2 * n * n + 1) / (3 * n * n * n);
        ratios = new RatioWindow(averagingSeconds + MostSecondsLate);
        edge = new SecondEdge(rateHz);
        beats = new BeatRing(averagingSeconds + MostSecondsLate);
        spectrum = new PulseSpectrum(rateHz, HeldSeconds, this.hasRed);
        Reset();
    }

    /// <summary>The evidence behind the last judgement, for whoever wants to show or test it.</summary>
    public SecondEvidence LastEvidence { get; private set; }

    /// <summary>Takes the samples of the next second, all at the same instants. Empty red spans: one channel only.</summary>
    /// <param name="second">Its index: greater than the last taken unless there was a reset; seconds left out had no samples.</param>
    /// <param name="rawPulse">Infrared light, or the pleth, as the source gives it.</param>
    /// <param name="rawRed">Red light as the source gives it.</param>
    /// <param name="pulse">Band-passed, rising with blood.</param>
    /// <param name="red">Band-passed −ln(red).</param>
    public void TakeSecond(long second, ReadOnlySpan<double> rawPulse, ReadOnlySpan<double> rawRed, ReadOnlySpan<double> pulse, ReadOnlySpan<double> red)
    {
        if (first < 0 || second - next > MostSecondsMissing)
        {
            first = next = second;
            spectrum.Reset();
        }

        while (next < second)
        {
            seconds[next++ % HeldSeconds] = SecondFeatures.None;
            spectrum.Take([], []);
            edge.Clear();
        }

        var features = SecondFeatures.Of(rawPulse, hasRed ? rawRed : [], rateHz, edge);
        seconds[next++ % HeldSeconds] = features;
        spectrum.Take(pulse, hasRed ? red : []);
        noise = noises.Take(features.Noise);
        redNoise = redNoises.Take(features.RedNoise);
        greatestLevel = Math.Max(greatestLevel, features.Level);
        if (hasRed) greatestRedLevel = Math.Max(greatestRedLevel, features.RedLevel);
    }

    /// <summary>Takes the next beat and judges it against those before it.</summary>
    public BeatJudgement TakeBeat(in BeatCut beat)
    {
        double noiseRatio = noise > 0 && redNoise > 0 ? Math.Clamp(redNoise / noise, 0.05, 20) : 1;
        var ratio = hasRed ? BeatRatios.Of(beat.Pulse, beat.Red, beat.PeakIndex, noiseRatio) : BeatRatio.None;
        double amplitude = BeatRatios.AboveLine(beat.Pulse, beat.PeakIndex);
        bool moves = PulseShape.Resample(beat.Pulse, shape);
        double correlation = moves ? Correlation() : 0;
        double mean = TensorPrimitives.Sum(beat.RawPulse) / beat.RawPulse.Length;
        double change = (beat.RawPulse[^1] - beat.RawPulse[0]) / (isLight ? mean : 1) / amplitude;
        double interval = (beat.Pulse.Length - 1) / rateHz;
        double clipped = Clipping.Of(beat.RawPulse).ClippedShare;
        if (!beat.RawRed.IsEmpty) clipped = Math.Max(clipped, Clipping.Of(beat.RawRed).ClippedShare);
        var features = new BeatFeatures(
            correlation, Skewness.Of(beat.Pulse), change, amplitude / amplitudes.Value, interval / intervals.Value, interval, clipped);
        double quality = amplitude > 0 && moves ? BeatQuality.Of(features) : 0;
        if (moves) template.Take(shape, Math.Max(0.1, quality));
        if (amplitude > 0) amplitudes.Add(amplitude);
        intervals.Add(interval);
        ratios.Add(beat.UpstrokeSeconds, ratio, quality);
        beats.Add(new BeatNote(beat.UpstrokeSeconds, amplitude, isLight ? PulseHeight.Share(beat.RawPulse, beat.PeakIndex, rateHz) : double.NaN, quality, features, ratio));
        return new BeatJudgement(quality, ratio.Slope, amplitude);
    }

    /// <summary>Judges a second that was taken; seconds in order, none twice.</summary>
    /// <param name="second">Its index: [second, second + 1) of the beats' clock.</param>
    /// <param name="fromSeconds">Beats after this time are averaged; not before the last call's.</param>
    /// <param name="toSeconds">And up to this time.</param>
    public SecondJudgement JudgeSecond(long second, double fromSeconds, double toSeconds)
    {
        var combined = hasRed ? ratios.Combine(fromSeconds, toSeconds) : CombinedRatio.None;
        var window = beats.Between(fromSeconds, toSeconds);
        var near = beats.Near(second + 0.5, NearSeconds);
        var evidence = Evidence(second, combined, window, near);
        LastEvidence = evidence;
        var own = StateRules.Judge(evidence);
        if (fresh.Take(second, evidence, window.Amplitude, HasMoved(second)) && own != LightState.Valid)
        {
            TrustAnew(second, combined, window);
            own = LightState.Valid;
        }

        var state = hold.Next(second, own, !double.IsNaN(trusted.Amplitude));
        double quality = SecondQuality.Of(evidence);
        if (own is LightState.Valid or LightState.Motion or LightState.Weak) TrustLevel(second);
        if (state != LightState.Valid) return new SecondJudgement(state, Math.Min(quality, 0.4), double.NaN, double.NaN, 0, double.NaN);
        Trust(second, combined, window);
        return new SecondJudgement(
            state, quality, combined.Ratio, combined.Spread, combined.Beats, isLight ? 100 * window.Height : double.NaN);
    }

    /// <summary>Forgets all: a new segment begins.</summary>
    public void Reset()
    {
        template.Reset();
        trustedShape.Reset();
        ratios.Reset();
        spectrum.Reset();
        beats.Clear();
        hold.Reset();
        fresh.Reset();
        edge.Clear();
        amplitudes.Clear();
        intervals.Clear();
        noises.Clear();
        redNoises.Clear();
        noise = redNoise = double.NaN;
        trusted = Reference.None;
        first = next = -1;
        lineFirst = lineLast = long.MinValue / 2;
        levelThen = redLevelThen = double.NaN;
    }

    private SecondEvidence Evidence(long second, in CombinedRatio combined, in BeatSummary window, in BeatSummary near)
    {
        ref readonly var here = ref seconds[second % HeldSeconds];
        double amplitude = double.IsNaN(trusted.Amplitude) ? near.Amplitude : trusted.Amplitude;
        double clipped = here.ClippedShare, step = 0, stepAlike = double.NaN;
        for (long s = Math.Max(first, second - 1); s <= Math.Min(next - 1, second + 1); s++)
        {
            ref readonly var f = ref seconds[s % HeldSeconds];
            clipped = Math.Max(clipped, f.ClippedShare);
            double size = Math.Abs(f.Step) / (isLight ? f.Level : 1) / amplitude;
            if (!(size > step) || Math.Abs(f.Step) < 6 * f.UsualStep) continue;
            step = size;
            stepAlike = AlikeInCounts(f);
        }

        spectrum.Open(second - first);
        var shares = spectrum.Shares(1 / window.IntervalSeconds);
        FollowLine(second, shares);
        double power = noise * noiseGain, redPower = redNoise * noiseGain;
        double unlike = near.Sums.Count > 0
            ? Math.Max(0, 1 - near.Sums.Correlation * near.Sums.Correlation - near.Sums.Count * (power / near.Sums.Xx + redPower / near.Sums.Yy))
            : double.NaN;
        double level = here.Level / trusted.Level, redLevel = here.RedLevel / trusted.RedLevel;
        return new SecondEvidence
        {
            LevelOfReference = isLight ? (Math.Abs(Math.Log(redLevel)) > Math.Abs(Math.Log(level)) ? redLevel : level) : double.NaN,
            LevelOfGreatest = !isLight ? double.NaN : hasRed ? Math.Min(here.Level / greatestLevel, here.RedLevel / greatestRedLevel) : here.Level / greatestLevel,
            FlatShare = here.FlatShare,
            ClippedShare = clipped,
            StepOfPulse = step,
            StepAlikeInCounts = stepAlike,
            NearBeats = near.Beats,
            WindowBeats = window.GoodBeats,
            Shape = near.Correlation,
            Skewness = near.Skewness,
            SpectralShare = shares.Pulse,
            LineShare = shares.Line,
            LineInCounts = shares.LineSlope * here.RedLevel / here.Level,
            PulseInCounts = shares.PulseSlope * here.RedLevel / here.Level,
            LineOfPulse = shares.LineHz * window.IntervalSeconds,
            LineSeconds = second == lineLast ? second - lineFirst + 1 : 0,
            PeakHz = shares.PeakHz,
            PeakOvertone = shares.PeakOvertone,
            PeakInCounts = shares.PeakSlope * here.RedLevel / here.Level,
            PulseHz = 1 / window.IntervalSeconds,
            IntervalSpread = near.IntervalSpread,
            AmplitudeSpread = near.AmplitudeSpread,
            AmplitudeOfReference = near.Amplitude / trusted.Amplitude,
            Wander = near.Wander,
            Unlike = unlike,
            Ratio = combined.Ratio,
            RatioScatter = combined.Scatter,
            RatioError = combined.Spread,
            RatioApart = combined.Apart,
            RatioChange = combined.Ratio - trusted.Ratio,
            PulseOverNoise = isLight ? near.Amplitude / Math.Sqrt(power) : near.Amplitude * Math.Abs(here.Level) / (Math.Sqrt(power) * here.Level * here.Level),
            NoiseOfLevel = !isLight ? double.NaN : Math.Sqrt(double.IsNaN(here.RedNoise) ? here.Noise : Math.Max(here.Noise, here.RedNoise)),
            SecondsSinceStart = second - first,
        };
    }

    // A lamp stands where it is; what a changing heart leaves behind does not stay. Where pulse and line come close, it is lost from sight for a second or two.
    private void FollowLine(long second, in SpectralShares shares)
    {
        if (!(shares.Line > LeastLine)) return;
        bool stays = second - lineLast <= LineHiddenSeconds && Math.Abs(shares.LineHz - lineHz) <= LineStaysHz;
        if (!stays) lineFirst = second;
        (lineHz, lineLast) = (shares.LineHz, second);
    }

    private bool HasMoved(long second) =>
        isLight && (Math.Abs(Math.Log(seconds[second % HeldSeconds].Level / levelThen)) > MovedLog || Math.Abs(Math.Log(seconds[second % HeldSeconds].RedLevel / redLevelThen)) > MovedLog);

    // The level is followed in disturbed seconds too: where a sensor that has moved stays, it is the level from then on.
    private void TrustLevel(long second)
    {
        ref readonly var here = ref seconds[second % HeldSeconds];
        trusted = trusted with
        {
            Level = Follow(trusted.Level, here.Level, 1 / LevelSeconds),
            RedLevel = Follow(trusted.RedLevel, here.RedLevel, 1 / LevelSeconds),
        };
    }

    private void TrustAnew(long second, in CombinedRatio combined, in BeatSummary window)
    {
        ref readonly var here = ref seconds[second % HeldSeconds];
        trusted = new Reference(here.Level, here.RedLevel, window.Amplitude, combined.Ratio);
        (greatestLevel, greatestRedLevel) = (here.Level, hasRed ? here.RedLevel : 0);
        hold.Reset(); // the wait is over, and was longer than the hold's
    }

    private void Trust(long second, in CombinedRatio combined, in BeatSummary window)
    {
        (levelThen, redLevelThen) = (seconds[second % HeldSeconds].Level, seconds[second % HeldSeconds].RedLevel);
        trustedShape.CopyFrom(template);
        trusted = trusted with
        {
            Amplitude = Follow(trusted.Amplitude, window.Amplitude, 1 / ReferenceSeconds),
            Ratio = Follow(trusted.Ratio, combined.Ratio, 4 / ReferenceSeconds),
        };
    }

    // Movement spoils the mean shape: after it, beats that look like those of the last trusted second are good again at once.
    private double Correlation() =>
        trustedShape.Beats > 0 ? Math.Max(template.Correlation(shape), trustedShape.Correlation(shape)) : template.Correlation(shape);

    private static double AlikeInCounts(in SecondFeatures f)
    {
        double counts = Math.Abs(Math.Log(f.RedStep / f.Step)), shares = Math.Abs(Math.Log(f.RedStep / f.RedLevel / (f.Step / f.Level)));
        return counts / (counts + shares);
    }

    private static double Follow(double held, double fresh, double share) => double.IsNaN(held) ? fresh : double.IsNaN(fresh) ? held : held + share * (fresh - held);

    private readonly record struct Reference(double Level, double RedLevel, double Amplitude, double Ratio)
    {
        public static Reference None => new(double.NaN, double.NaN, double.NaN, double.NaN);
    }
}
