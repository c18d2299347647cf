namespace Stillwatch.Oximetry;

/// <summary>Respiratory rate over one window, fused from the three ways in which breathing changes the pulse; NaN: refused.</summary>
/// <param name="StartSeconds">Start of the window in the recording's own time.</param>
/// <param name="LengthSeconds">Length of the window.</param>
/// <param name="RatePerMinute">Fused; NaN: refused.</param>
/// <param name="FromIntensity">From the baseline alone; NaN: none found.</param>
/// <param name="FromAmplitude">From the pulse's amplitude alone; NaN: none found.</param>
/// <param name="FromFrequency">From the time between beats alone; NaN: none found.</param>
public readonly record struct BreathingReading(
    double StartSeconds, double LengthSeconds, double RatePerMinute, double FromIntensity, double FromAmplitude, double FromFrequency);
