using Stillwatch.Quantities;
using Stillwatch.Time;

namespace Stillwatch.Oxygenation;

/// <summary>Minutes below a level per hour of valid time, at the end of a recording beside the hours before.</summary>
/// <param name="Level">Below it is burden.</param>
/// <param name="HoursEach">How many hours stand on either side: three, or as many as there are twice.</param>
/// <param name="Before">Minutes per hour in the earlier ones.</param>
/// <param name="After">Minutes per hour in the last ones.</param>
/// <remarks>A plain comparison, no forecast. Hours with less than half an hour of valid time are passed over. All its numbers are unit policy, no source.</remarks>
public sealed record BurdenTrend(Percent Level, int HoursEach, double Before, double After)
{
    /// <summary>The level of the pages: 90 %.</summary>
    public static readonly Percent Usual = Percent.Of(90);

    private const int MostHoursEach = 3;
    private const double LeastRise = 3;
    private const double LeastTimes = 2;

    private static readonly Duration LeastValid = Duration.FromSeconds(1800);

    /// <summary>At least three minutes an hour more than before, and at least twice as much.</summary>
    public bool IsRising => After - Before >= LeastRise && After >= LeastTimes * Before;

    /// <summary>What it is and when it rises, in a sentence; belongs beside the numbers, once a page.</summary>
    public static string Definition => "Burden: minutes below 90 % an hour of valid time; rising where the last three hours with a reading have at least 3 minutes an hour more than the three before, and at least twice as much (unit policy, no source).";

    /// <summary>Its numbers: "4.2 minutes an hour below 90 % in the last 3 h with a reading, 0.1 in the 3 h before".</summary>
    public string Words =>
        $"{After:0.#} minutes an hour below {Level.Value:0.##} % in the last {HoursEach} h with a reading, {Before:0.#} in the {HoursEach} h before";

    /// <summary>Null where fewer than two hours hold enough valid time, or the level was not summed up.</summary>
    /// <param name="hours">Hour by hour, as a review has them.</param>
    /// <param name="level">One of the levels of the review.</param>
    public static BurdenTrend? Of(IReadOnlyList<HourSummary> hours, Percent level)
    {
        var judged = hours.Where(h => h.Valid >= LeastValid && h.Below.Any(b => b.Level == level)).OrderBy(h => h.Number).ToList();
        int each = Math.Min(MostHoursEach, judged.Count / 2);
        return each == 0 ? null : new BurdenTrend(level, each, Rate(judged[^(2 * each)..^each], level), Rate(judged[^each..], level));
    }

    private static double Rate(List<HourSummary> hours, Percent level) =>
        hours.Sum(h => h.Below.First(b => b.Level == level).Time.Minutes) / hours.Sum(h => h.Valid.Hours);
}
