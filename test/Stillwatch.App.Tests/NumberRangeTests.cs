using Stillwatch.App.Commands;

namespace Stillwatch.App.Tests;

public sealed class NumberRangeTests
{
    [Theory]
    [InlineData("70..100", "70 71 72 … 100 (31)")]
    [InlineData("88", "88 (1)")]
    [InlineData("80..90/5", "80 85 90 (3)")]
    [InlineData("80..91/5", "80 85 90 (3)")]
    [InlineData("88..90/0.5", "88 88.5 89 … 90 (5)")]
    public void A_range_holds_both_ends_and_every_step_between(string text, string expected)
    {
        Assert.Null(NumberRange.TryRead(text, 1, 100, 1, out var range));
        var values = range.Values.Select(v => v.ToString("0.###")).ToList();
        string shown = values.Count <= 3 ? string.Join(' ', values) : string.Join(' ', values.Take(3)) + " … " + values[^1];
        Assert.Equal(expected, $"{shown} ({range.Count})");
    }

    [Theory]
    [InlineData("")]
    [InlineData("..")]
    [InlineData("70..")]
    [InlineData("70...100")]
    [InlineData("70..100..110")]
    [InlineData("70..100/1/2")]
    [InlineData("70..100/0")]
    [InlineData("70..100/-1")]
    [InlineData("-70..100")]
    [InlineData("7e1..100")]
    [InlineData("70,5..100")]
    [InlineData("100..70")]
    [InlineData("0..100")]
    [InlineData("70..100.5")]
    [InlineData("1..100/0.001")]
    [InlineData("79228162514264337593543950336..100")]
    public void Anything_else_is_refused_with_the_form_expected(string text)
    {
        string? wrong = NumberRange.TryRead(text, 1, 100, 1, out _);
        Assert.NotNull(wrong);
        Assert.Contains("a..b", wrong, StringComparison.Ordinal);
    }
}
