using Stillwatch.Oxygenation;
using Stillwatch.Quantities;
using Stillwatch.Time;
using Xunit;

namespace Stillwatch.Tests.Oxygenation;

/// <summary>Whether the hours at the end are worse than those before, by a definition that anyone can add up.</summary>
public class BurdenTrendTests
{
    // minutes below 90 % in each hour; "-" has no valid time | before | after | rising
    [Theory]
    [InlineData("0 0 0 6 6 6", 0, 6, true)]
    [InlineData("5 5 5 9 9 9", 5, 9, false)] // more, and not twice as much
    [InlineData("1 1 1 3 3 3", 1, 3, false)] // twice, and only 2 minutes more
    [InlineData("1 1 1 4 4 4", 1, 4, true)]
    [InlineData("30 0 0 0 6 6 6", 0, 6, true)] // only the three before the last three
    [InlineData("9 9 9 2 2 2", 9, 2, false)]
    [InlineData("0 0 8 8", 0, 8, true)] // four hours: two and two
    [InlineData("0 - 0 - 8 8", 0, 8, true)] // hours without a reading are passed over
    public void The_last_hours_are_compared_with_those_before(string minutes, double before, double after, bool rising)
    {
        var trend = BurdenTrend.Of(Hours(minutes), Percent.Of(90))!;
        Assert.Equal((before, after, rising), (trend.Before, trend.After, trend.IsRising));
        Assert.StartsWith($"{after} minutes an hour below 90 % in the last ", trend.Words);
    }

    [Theory]
    [InlineData("")]
    [InlineData("7")]
    [InlineData("- - 7")]
    public void Too_few_hours_say_nothing(string minutes) => Assert.Null(BurdenTrend.Of(Hours(minutes), Percent.Of(90)));

    [Fact]
    public void A_level_that_was_not_summed_up_says_nothing() => Assert.Null(BurdenTrend.Of(Hours("0 0 9 9"), Percent.Of(77)));

    private static List<HourSummary> Hours(string minutes) =>
    [
        .. minutes.Split(' ', StringSplitOptions.RemoveEmptyEntries).Select((m, i) => new HourSummary
        {
            Number = i + 1,
            Span = new TimeSlice(SampleTime.FromSeconds(3600 * i), SampleTime.FromSeconds(3600 * (i + 1))),
            Valid = m == "-" ? Duration.Zero : Duration.FromSeconds(3600),
            Below = [new TimeBelow(Percent.Of(90), Duration.FromSeconds(m == "-" ? 0 : 60 * int.Parse(m)), 0, 0)],
            Events = 0,
            Clusters = 0,
            Median = 95,
            ChangeFromBaseline = 0,
            Words = "",
        }),
    ];
}
