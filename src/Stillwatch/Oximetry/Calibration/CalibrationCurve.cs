namespace Stillwatch.Oximetry.Calibration;

/// <summary>How a ratio of ratios becomes a saturation. No device's own curve is here: none is published.</summary>
public abstract class CalibrationCurve
{
    /// <summary>SpO2 = 110 − 25·R, kept within 0 to 100. Secondary copy of a textbook approximation, useful at about R 0.4–1.0 (85–100 %).</summary>
    public static CalibrationCurve Linear { get; } = new LinearCurve();

    /// <summary>What it is called in commands and on pages.</summary>
    public abstract string Name { get; }

    /// <summary>Where its numbers are published, and what to beware of.</summary>
    public abstract string Source { get; }

    /// <summary>Saturation in percent, 0 to 100; NaN for NaN or a ratio that is not above zero.</summary>
    public abstract double SaturationPercent(double ratio);

    private sealed class LinearCurve : CalibrationCurve
    {
        public override string Name => "linear";

        public override string Source => "textbook approximation 110 − 25·R, secondary copy; for no sensor in particular";

        public override double SaturationPercent(double ratio) => ratio > 0 ? Math.Clamp(110 - 25 * ratio, 0, 100) : double.NaN;
    }
}
