using Stillwatch.Time;

namespace Stillwatch.Oxygenation;

/// <summary>
/// The patient's own start, which the hours are compared with: the time-weighted median over the first two hours that have at
/// least 30 min of valid values each, or over the one such hour where there is just one; else not known. Unit policy, no source.
/// </summary>
/// <param name="Median">In percent.</param>
/// <param name="HourNumbers">The one or two hours that it was taken from.</param>
public sealed record OwnBaseline(double Median, IReadOnlyList<int> HourNumbers)
{
    private const long EnoughOfAnHourMilliseconds = 30 * 60_000;
    private const int HoursTaken = 2;

    internal static OwnBaseline? Of(IReadOnlyList<(int Number, TimeDistribution Distribution)> hours)
    {
        var taken = hours.Where(h => h.Distribution.TotalMilliseconds >= EnoughOfAnHourMilliseconds).Take(HoursTaken).ToList();
        if (taken.Count == 0) return null;
        var pooled = new TimeDistribution();
        foreach (var (_, distribution) in taken) pooled.Add(distribution);
        return new OwnBaseline(pooled.Quantile(50)!.Value, [.. taken.Select(h => h.Number)]);
    }

    /// <summary>An hour that alone made the baseline cannot be compared with it.</summary>
    internal bool CanJudge(int hourNumber) => HourNumbers.Count > 1 || HourNumbers[0] != hourNumber;

    /// <summary>"hours 1 and 2".</summary>
    public string From => HourNumbers.Count == 1 ? $"hour {HourNumbers[0]}" : $"hours {string.Join(" and ", HourNumbers)}";
}
