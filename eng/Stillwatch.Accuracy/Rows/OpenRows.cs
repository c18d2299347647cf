using Stillwatch.Accuracy.Beats;
using Stillwatch.Accuracy.Page;

namespace Stillwatch.Accuracy.Rows;

/// <summary>What rows on open recordings have in common.</summary>
internal static class OpenRows
{
    public const string Missing = "the open recordings are not on this machine";

    /// <summary>Of every row on a recording: nothing was tuned on it, but not everything was fixed before it was seen.</summary>
    public static readonly IReadOnlyList<string> RulesChanged =
    [
        "The rules of state, the hold after a disturbance and where a beat begins were changed after this row had first been measured: movement recognised more strictly, a beat beginning at the foot of its rise, "
        + "then (light that had really changed was refused for ever, early beats were called flicker) when light is trusted anew and what is called flicker. Each on rehearsed light of seeds below 9000 and on "
        + "invented hearts, not on this recording; but its figures were known, and the early beat that was called flicker is one of record 01.",
    ];

    public static IEnumerable<AccuracyRow> NotHere(params AccuracyRow[] rows) => rows.Select(r => r with { NotMeasured = Missing });

    public static IEnumerable<Figure> RateFigures(WindowErrors errors, Reach reach) =>
    [
        new Figure("mean absolute error", errors.MeanAbsolute, "/min", 2, reach),
        new Figure("bias", errors.Bias, "/min", 2),
        new Figure("share of windows kept", errors.ShareKeptPercent, "%", 1),
        new Figure("windows", errors.Asked, "", 0),
    ];
}
