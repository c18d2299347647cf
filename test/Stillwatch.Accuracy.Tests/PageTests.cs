using Stillwatch.Accuracy.Page;

namespace Stillwatch.Accuracy.Tests;

/// <summary>A page that no longer tells the truth must be found out.</summary>
public class PageTests
{
    // as written | as measured | agree
    [Theory]
    [InlineData("| sensitivity | ≥ 0.98 | 0.985 | met |", "| sensitivity | ≥ 0.98 | 0.986 | met |", true)]
    [InlineData("| sensitivity | ≥ 0.98 | 0.985 | met |", "| sensitivity | ≥ 0.98 | 0.987 | met |", false)]
    [InlineData("| sensitivity | ≥ 0.98 | 0.980 | met |", "| sensitivity | ≥ 0.98 | 0.979 | missed |", false)]
    [InlineData("| beats | report | 730 | reported |", "| beats | report | 731 | reported |", false)]
    [InlineData("| bias | report | -0.05 % | reported |", "| bias | report | -0.06 % | reported |", true)]
    [InlineData("| bias | report | -0.01 % | reported |", "| bias | report | 0.00 % | reported |", true)]
    [InlineData("doi 10.13026/C2208R, 125 Hz", "doi 10.13026/C2208R, 125 Hz", true)]
    [InlineData("doi 10.13026/C2208R, 125 Hz", "doi 10.13027/C2208R, 125 Hz", false)]
    [InlineData("| error | ≤ 3 | none | missed |", "| error | ≤ 3 | 2.0 | met |", false)]
    public void A_number_may_differ_by_one_in_its_last_digit_and_nothing_else_may(string written, string now, bool agree) =>
        Assert.Equal(agree, PageComparison.Agree(written, now));

    [Fact]
    public void A_row_that_got_worse_is_found_and_one_without_data_is_passed_over()
    {
        var (good, bad, gone) = (Page(0.5, 1.2), Page(0.5, 1.4), Page(0.5, null));

        Assert.Empty(PageComparison.Differences(good, good, []));
        Assert.Equal(2, PageComparison.Differences(good, bad, []).Count);
        Assert.Empty(PageComparison.Differences(good, bad, ["two"]));
        Assert.NotEmpty(PageComparison.Differences(good, Page(0.9, 1.2), ["two"]));
        Assert.NotEmpty(PageComparison.Differences(good, gone, []));
        Assert.Empty(PageComparison.Differences(good, gone, ["two"]));
    }

    [Fact]
    public void A_page_says_met_missed_and_not_measured()
    {
        string page = Page(1.5, null);
        Assert.Contains("| mean absolute error | ≤ 1 /min | 1.50 /min | **missed** | invented |", page, StringComparison.Ordinal);
        Assert.Contains("not measured: no data", page, StringComparison.Ordinal);
        Assert.Contains("Parameters were fixed before a row was looked at", page, StringComparison.Ordinal);
        Assert.Contains("Changed afterwards: nothing.", page, StringComparison.Ordinal);
    }

    [Fact]
    public void Nothing_shown_meets_nothing() => Assert.Equal(("none", "missed"), (new Figure("Arms", double.NaN, "%", 2, Reach.AtMost(2)).Shown, new Figure("Arms", double.NaN, "%", 2, Reach.AtMost(2)).Verdict));

    private static string Page(double one, double? two) => PageText.Markdown([Row("one", one), Row("two", two)]);

    private static AccuracyRow Row(string key, double? value) => new()
    {
        Key = key,
        Data = $"invented data {key}",
        Origin = "invented",
        Source = "invented",
        Method = "None.",
        NotMeasured = value is null ? "no data" : null,
        Figures = value is { } v ? [new Figure("mean absolute error", v, "/min", 2, Reach.AtMost(1, "/min")), new Figure("share", 2 * v, "%", 1)] : [],
    };
}
