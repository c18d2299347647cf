using Stillwatch.Accuracy.Page;
using Stillwatch.Accuracy.Recordings;

namespace Stillwatch.Accuracy.Rows;

/// <summary>All rows, in the order of the page.</summary>
internal static class AccuracyRows
{
    public static IReadOnlyList<AccuracyRow> Measure(OpenData data, string only)
    {
        (string Keys, Func<IEnumerable<AccuracyRow>> Measure)[] families =
        [
            ("icu-beats icu-pulse-rate icu-breathing", () => IcuRows.Of(data)),
            ("camera-pulse-rate", () => CameraRow.Of(data)),
            ("desaturation-camera-pulse-rate", () => DesaturationCameraRow.Of(data)),
            ("rehearsal-clean", RehearsalRows.Clean),
            ("rehearsal-weak", RehearsalRows.Weak),
            ("rehearsal-motion", RehearsalRows.Moving),
            ("standard-curve", StandardCurveRow.Of),
        ];
        return [.. families.Where(f => f.Keys.Contains(only, StringComparison.Ordinal)).SelectMany(f => f.Measure()).Where(r => r.Key.Contains(only, StringComparison.Ordinal))];
    }
}
