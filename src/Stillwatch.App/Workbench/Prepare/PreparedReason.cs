using Stillwatch.Alarms;
using Stillwatch.App.Workbench.Library;
using Stillwatch.Reports.Model;

namespace Stillwatch.App.Workbench.Prepare;

/// <summary>Why a number stands where it stands, for a reader who has to answer for it.</summary>
public static class PreparedReason
{
    /// <summary>A number that the unit decided has that decision as its reason; one that nobody decided is Stillwatch's own until somebody does.</summary>
    /// <param name="line">The number as it stands on the card, with the source of the category's own numbers.</param>
    /// <param name="unitDefault">What the unit starts from.</param>
    public static string Of(CardLine line, KnownSettings unitDefault) =>
        unitDefault.IsWrittenDown && line.UnitDefault is null ? $"the unit's default, {unitDefault.From}"
        : line.Reason == CategoryPresets.UnitPolicy ? $"Stillwatch's starting value; {CategoryPresets.UnitPolicy}: replace it by your unit's"
        : line.Reason;
}
