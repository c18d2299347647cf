namespace Stillwatch.Oximetry.Calibration;

/// <summary>The curves that come with the program. A user's own is read by <see cref="CurveTable.Parse"/>.</summary>
public static class CalibrationCurves
{
    /// <summary>The linear one first: it is what is used where nothing else is asked for.</summary>
    public static IReadOnlyList<CalibrationCurve> All { get; } =
    [
        CalibrationCurve.Linear,
        new BeerLambertCurve(ExtinctionTable.A, 660, 940),
        new BeerLambertCurve(ExtinctionTable.A, 660, 905),
        new BeerLambertCurve(ExtinctionTable.B, 660, 940),
        new BeerLambertCurve(ExtinctionTable.B, 660, 905),
    ];

    /// <summary>The curve of that name, small and capital letters alike; null: there is none.</summary>
    public static CalibrationCurve? Find(string name) => All.FirstOrDefault(c => string.Equals(c.Name, name, StringComparison.OrdinalIgnoreCase));
}
