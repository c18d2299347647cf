namespace Stillwatch.Oximetry;

/// <summary>One pulse found in the light.</summary>
/// <param name="UpstrokeSeconds">
/// When blood volume rises fastest, in seconds of the recording's own time, finer than a sample. This is the beat's time everywhere:
/// the steepest point moves least with noise and with the shape of the pulse.
/// </param>
/// <param name="TroughSeconds">The least blood volume before the upstroke.</param>
/// <param name="PeakSeconds">The greatest blood volume after it.</param>
/// <param name="Amplitude">Trough to peak after the band-pass: natural-log units of the infrared light, or the pleth's own unit. Above zero.</param>
/// <param name="Baseline">Mean of the raw light (or pleth) from this trough to the next, in the source's unit.</param>
/// <param name="Ratio">Ratio of ratios over this beat (1); NaN with one channel or where it cannot be had.</param>
/// <param name="Quality">0 (no pulse shape) to 1 (like its neighbours).</param>
public readonly record struct Beat(
    double UpstrokeSeconds, double TroughSeconds, double PeakSeconds, double Amplitude, double Baseline, double Ratio, double Quality);
