using Stillwatch.Accuracy.Page;
using Stillwatch.Accuracy.Recordings;

namespace Stillwatch.Accuracy.Rows;

/// <summary>All rows, in the order of the page.</summary>
internal static class AccuracyRows
{
    // What is measured together, and the keys of the rows that come of it.
    private static readonly (string[] Keys, Func<OpenData, IEnumerable<AccuracyRow>> Measure)[] Families =
    [
        (["icu-beats", "icu-pulse-rate", "icu-breathing"], IcuRows.Of),
        (["camera-pulse-rate"], CameraRow.Of),
        (["desaturation-camera-pulse-rate"], DesaturationCameraRow.Of),
        (["rehearsal-clean"], _ => RehearsalRows.Clean()),
        (["rehearsal-weak"], _ => RehearsalRows.Weak()),
        (["rehearsal-motion"], _ => RehearsalRows.Moving()),
        (["detectors"], _ => DetectorRow.Of()),
        (["standard-curve"], _ => StandardCurveRow.Of()),
    ];

    public static IEnumerable<string> Keys => Families.SelectMany(f => f.Keys);

    /// <summary>The rows whose key holds a text; all for "".</summary>
    public static IReadOnlyList<AccuracyRow> Measure(OpenData data, string only) =>
        [.. Families.Where(f => f.Keys.Any(k => Holds(k, only))).SelectMany(f => f.Measure(data)).Where(r => Holds(r.Key, only))];

    private static bool Holds(string key, string only) => key.Contains(only, StringComparison.Ordinal);
}
