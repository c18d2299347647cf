namespace Stillwatch.Oximetry;

/// <summary>What the chain says of one second of the recording: [k, k + 1) of its seconds. A number that is refused is NaN.</summary>
/// <param name="PulseRatePerMinute">Averaged as the settings say; NaN: refused.</param>
/// <param name="SpO2Percent">Averaged as the settings say, unrounded, 0 to 100; NaN: refused, or one channel only.</param>
/// <param name="RatioOfRatios">What SpO2 was read from; NaN where it is.</param>
/// <param name="PerfusionPercent">Median height of the pulses in the infrared light itself, trough to peak, over its mean, × 100; NaN for a pleth of unknown zero, or refused.</param>
/// <param name="Quality">0 to 1, given whenever there are samples; NaN: none.</param>
/// <param name="State">Whether numbers are shown, and the reason where they are not.</param>
public readonly record struct SecondReading(
    double PulseRatePerMinute, double SpO2Percent, double RatioOfRatios, double PerfusionPercent, double Quality, LightState State);
