using System.Globalization;

namespace Stillwatch.Oximetry.Calibration;

/// <summary>One line of a user's own calibration.</summary>
public readonly record struct CurvePoint(double Ratio, double SaturationPercent);

/// <summary>
/// A user's own table: straight lines between its points, and nothing beyond its ends, where the saturation is NaN.
/// </summary>
public sealed class TabledCurve : CalibrationCurve
{
    private readonly double[] ratios, saturations;

    /// <param name="points">At least two, ratios rising and saturations falling, both strictly; ratios above 0, saturations 0 to 100.</param>
    /// <param name="origin">Where the table comes from, as the user says: it stands on every output.</param>
    /// <exception cref="ArgumentException">The points are not such; it says which.</exception>
    public TabledCurve(IReadOnlyList<CurvePoint> points, string origin)
    {
        ArgumentNullException.ThrowIfNull(points);
        if (points.Count < 2) throw new ArgumentException($"Found {points.Count} points, expected at least 2: a curve needs two ends.", nameof(points));
        for (int i = 0; i < points.Count; i++)
        {
            if (FaultAt(points, i) is { } fault) throw new ArgumentException($"Point {i + 1}: found {fault.Found}, expected {fault.Expected}.", nameof(points));
        }

        ratios = [.. points.Select(p => p.Ratio)];
        saturations = [.. points.Select(p => p.SaturationPercent)];
        Source = $"table of the user: {origin}";
        Range = string.Create(CultureInfo.InvariantCulture,
            $"R {ratios[0]} to {ratios[^1]} ({saturations[^1]} to {saturations[0]} %), the table's ends; beyond them no saturation is given");
    }

    public override string Name => "table";

    public override string Source { get; }

    public override string Range { get; }

    public override double LowestRatio => ratios[0];

    public override double HighestRatio => ratios[^1];

    public override double SaturationPercent(double ratio)
    {
        if (!(ratio >= ratios[0] && ratio <= ratios[^1])) return double.NaN;
        int at = Array.BinarySearch(ratios, ratio);
        return at >= 0 ? saturations[at] : Between(ratio, ~at - 1, ratios, saturations);
    }

    public override double RatioAt(double saturationPercent)
    {
        if (!(saturationPercent <= saturations[0] && saturationPercent >= saturations[^1])) return double.NaN;
        int at = 0;
        while (at < saturations.Length - 2 && saturations[at + 1] >= saturationPercent) at++;
        return Between(saturationPercent, at, saturations, ratios);
    }

    /// <summary>What is wrong with one point beside the one before it; null: nothing.</summary>
    internal static (string Found, string Expected)? FaultAt(IReadOnlyList<CurvePoint> points, int index)
    {
        var (ratio, saturation) = points[index];
        if (!(ratio > 0 && double.IsFinite(ratio))) return (Say($"ratio {ratio}"), "a number above 0");
        if (saturation is not (>= 0 and <= 100)) return (Say($"SpO2 {saturation}"), "0 to 100 %");
        if (index == 0) return null;
        var before = points[index - 1];
        if (ratio <= before.Ratio) return (Say($"ratio {ratio} after {before.Ratio}"), "a greater one: ratios rise from line to line");
        return saturation >= before.SaturationPercent
            ? (Say($"SpO2 {saturation} after {before.SaturationPercent}"), "a lower one: saturation falls as the ratio rises")
            : null;
    }

    private static string Say(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);

    private static double Between(double x, int at, double[] xs, double[] ys) =>
        ys[at] + (ys[at + 1] - ys[at]) * ((x - xs[at]) / (xs[at + 1] - xs[at]));
}
