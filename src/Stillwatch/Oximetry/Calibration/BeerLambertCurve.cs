namespace Stillwatch.Oximetry.Calibration;

/// <summary>
/// Two-species Beer–Lambert with equal paths: S = (eHb,red − R·eHb,ir) / [(eHb,red − eHbO2,red) + R·(eHbO2,ir − eHb,ir)] (secondary copy:
/// https://chatppg.com/algorithms/spo2-ratio-of-ratios). Theory without scattering: it reads lower than practice at the top end (same page).
/// </summary>
public sealed class BeerLambertCurve : CalibrationCurve
{
    private readonly Extinction red, infrared;

    /// <exception cref="ArgumentOutOfRangeException">The table has no such wavelength.</exception>
    public BeerLambertCurve(ExtinctionTable table, double redNanometres, double infraredNanometres)
    {
        ArgumentNullException.ThrowIfNull(table);
        red = table.At(redNanometres);
        infrared = table.At(infraredNanometres);
        Name = string.Create(System.Globalization.CultureInfo.InvariantCulture, $"beer-lambert-{table.Letter.ToLowerInvariant()}-{redNanometres}-{infraredNanometres}");
        Source = $"two-species Beer–Lambert, equal paths, no scattering; {table.Source}";
        LowestRatio = RatioAt(100);
        HighestRatio = RatioAt(0);
        Range = string.Create(System.Globalization.CultureInfo.InvariantCulture,
            $"R {LowestRatio:0.000} to {HighestRatio:0.000} (0 to 100 %) by theory alone; it reads low at the top end; kept within 0 to 100 %");
    }

    public override string Name { get; }

    public override string Source { get; }

    public override string Range { get; }

    public override double LowestRatio { get; }

    public override double HighestRatio { get; }

    /// <inheritdoc/>
    /// <remarks>A ratio beyond what full or no saturation gives is kept at 100 or 0 %: noise there is no reason for silence.</remarks>
    public override double SaturationPercent(double ratio)
    {
        if (!(ratio > 0)) return double.NaN;
        double numerator = red.Deoxygenated - ratio * infrared.Deoxygenated;
        double denominator = red.Deoxygenated - red.Oxygenated + ratio * (infrared.Oxygenated - infrared.Deoxygenated);
        return double.IsInfinity(ratio) ? 0 : Math.Clamp(100 * numerator / denominator, 0, 100);
    }

    public override double RatioAt(double saturationPercent) =>
        saturationPercent is >= 0 and <= 100 ? red.At(saturationPercent / 100) / infrared.At(saturationPercent / 100) : double.NaN;
}
