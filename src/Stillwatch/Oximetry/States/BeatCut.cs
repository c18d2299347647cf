namespace Stillwatch.Oximetry.States;

/// <summary>
/// One pulse cut out of the stream, from its trough to the next trough, both samples included; all spans of one length, sample beside sample.
/// </summary>
public readonly ref struct BeatCut
{
    /// <summary>The beat's time, in the clock in which seconds are judged.</summary>
    public required double UpstrokeSeconds { get; init; }

    /// <summary>Where in the spans the peak is; above 0, below the last.</summary>
    public required int PeakIndex { get; init; }

    /// <summary>Band-passed, rising with blood: of −ln(infrared), or of a pleth.</summary>
    public required ReadOnlySpan<double> Pulse { get; init; }

    /// <summary>Band-passed −ln(red); empty: one channel only.</summary>
    public ReadOnlySpan<double> Red { get; init; }

    /// <summary>Infrared light, or the pleth, as the source gives it, at the same instants.</summary>
    public required ReadOnlySpan<double> RawPulse { get; init; }

    /// <summary>Red light as the source gives it; empty: one channel only.</summary>
    public ReadOnlySpan<double> RawRed { get; init; }
}

/// <summary>What is made of one beat.</summary>
/// <param name="Quality">0 to 1.</param>
/// <param name="Ratio">Ratio of ratios over this beat, its two estimates combined; NaN with one channel or where it cannot be had.</param>
/// <param name="Amplitude">Trough to peak over a line from trough to trough, in the unit of the pulse: natural-log units for light.</param>
public readonly record struct BeatJudgement(double Quality, double Ratio, double Amplitude);

/// <summary>What is made of one second. A number that is refused is NaN.</summary>
/// <param name="State">Whether numbers are shown, and why not.</param>
/// <param name="Quality">0 to 1; NaN without samples.</param>
/// <param name="Ratio">Ratio of ratios over the averaging window; NaN unless the state is valid.</param>
/// <param name="RatioSpread">One standard error of it.</param>
/// <param name="RatioBeats">Beats that it rests on.</param>
/// <param name="PerfusionPercent">Median pulse amplitude over the averaging window × 100 (natural-log units: pulse over mean light); NaN unless valid, or for a pleth.</param>
public readonly record struct SecondJudgement(
    LightState State, double Quality, double Ratio, double RatioSpread, int RatioBeats, double PerfusionPercent);
