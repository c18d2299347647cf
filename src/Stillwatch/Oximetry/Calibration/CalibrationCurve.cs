namespace Stillwatch.Oximetry.Calibration;

/// <summary>How a ratio of ratios becomes a saturation. No device's own curve is here: none is published.</summary>
/// <remarks>
/// Ratios fall as saturation rises. Whoever shows a number names the curve, its source and the range in which it is meant to hold: between two
/// curves of this folder lie up to 12 % of saturation at one and the same ratio.
/// </remarks>
public abstract class CalibrationCurve
{
    /// <summary>SpO2 = 110 − 25·R, kept within 0 to 100. Secondary copy of a textbook approximation, useful at about R 0.4–1.0 (85–100 %).</summary>
    public static CalibrationCurve Linear { get; } = new LinearCurve();

    /// <summary>What it is called in commands and on pages.</summary>
    public abstract string Name { get; }

    /// <summary>Where its numbers are published, and what to beware of.</summary>
    public abstract string Source { get; }

    /// <summary>Where the curve is meant to hold, in words with numbers.</summary>
    public abstract string Range { get; }

    /// <summary>Lowest ratio at which the curve is meant to hold (the highest saturation).</summary>
    public abstract double LowestRatio { get; }

    /// <summary>Highest ratio at which the curve is meant to hold (the lowest saturation).</summary>
    public abstract double HighestRatio { get; }

    /// <summary>Saturation in percent, 0 to 100; NaN for NaN, for a ratio that is not above zero, and where the curve says nothing.</summary>
    public abstract double SaturationPercent(double ratio);

    /// <summary>The ratio that reads as this saturation; NaN for NaN and where the curve never gives it.</summary>
    public abstract double RatioAt(double saturationPercent);

    private sealed class LinearCurve : CalibrationCurve
    {
        private const double Intercept = 110; // textbook approximation, secondary copy: https://chatppg.com/algorithms/spo2-ratio-of-ratios
        private const double Fall = 25;       // the same

        public override string Name => "linear";

        public override string Source => "textbook approximation 110 − 25·R, secondary copy; for no sensor in particular";

        public override string Range => "useful at about R 0.4 to 1.0 (85 to 100 %); kept within 0 to 100 %";

        public override double LowestRatio => 0.4;

        public override double HighestRatio => 1.0;

        public override double SaturationPercent(double ratio) => ratio > 0 ? Math.Clamp(Intercept - Fall * ratio, 0, 100) : double.NaN;

        public override double RatioAt(double saturationPercent) =>
            saturationPercent is >= 0 and <= 100 ? (Intercept - saturationPercent) / Fall : double.NaN;
    }
}
