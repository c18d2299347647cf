using Stillwatch.Accuracy.Beats;
using Stillwatch.Accuracy.Page;

namespace Stillwatch.Accuracy.Rows;

/// <summary>What rows on open recordings have in common.</summary>
internal static class OpenRows
{
    public const string Missing = "the open recordings are not on this machine";

    public static IEnumerable<AccuracyRow> NotHere(params AccuracyRow[] rows) => rows.Select(r => r with { NotMeasured = Missing });

    public static IEnumerable<Figure> RateFigures(WindowErrors errors, Reach reach) =>
    [
        new Figure("mean absolute error", errors.MeanAbsolute, "/min", 2, reach),
        new Figure("bias", errors.Bias, "/min", 2),
        new Figure("share of windows kept", errors.ShareKeptPercent, "%", 1),
        new Figure("windows", errors.Asked, "", 0),
    ];
}
