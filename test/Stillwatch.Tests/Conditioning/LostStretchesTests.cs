using CsCheck;
using Stillwatch.Conditioning;
using Stillwatch.Time;

namespace Stillwatch.Tests.Conditioning;

/// <summary>Lost time says why it is lost (rules R2–R5).</summary>
public sealed class LostStretchesTests
{
    private static readonly ConditioningSettings NoHold = ConditioningSettings.Default with { GapTolerance = Duration.Zero };

    // What it shows | rows, one a second ("-": no number) | the lost stretches: from..to reason
    [Theory]
    [InlineData("no gap, no stretch", "97 97 97", "")]
    [InlineData("rows without a number", "97 - - - 96", "1..4 NoNumber")]
    [InlineData("a dropout code is no measurement", "97 0 0 0 96", "1..4 OutOfRange")]
    [InlineData("at the start of the recording", "- - 97", "0..2 NoNumber")]
    [InlineData("to the end of the recording", "97 - - -", "1..4 NoNumber")]
    [InlineData("a jump of more than 10 % a second is doubted", "97 97 60 60 60 97", "2..5 DoubtedJump")]
    [InlineData("what most rows have in common", "97 - 0 0 96", "1..4 OutOfRange")]
    [InlineData("a recording without any value", "- - -", "0..3 NoNumber")]
    public void Each_stretch_has_its_reason(string shows, string rows, string expected)
    {
        var source = ConditionedSource.Even(rows.Split(' ').Select(r => r == "-" ? (decimal?)null : decimal.Parse(r)), Duration.FromSeconds(1));
        var found = LostStretches.Of(source, NoHold, ConditionedSeries.Of(source, NoHold));
        string words = string.Join(", ", found.Select(l => $"{l.Span.Start.Seconds:0.###}..{l.Span.End.Seconds:0.###} {l.Reason}"));
        Assert.True(words == expected, $"{shows}: found {words}, expected {expected}");
    }

    [Fact]
    public void Lost_and_valid_time_together_are_the_recording()
    {
        var row = Gen.OneOf(Gen.Int[85, 100].Select(v => (decimal?)v), Gen.Const((decimal?)null), Gen.Const((decimal?)0m));
        Gen.Select(row.List[1, 80], Gen.Int[0, 6], Gen.Int[0, 4]).Sample((rows, tolerance, averaging) =>
        {
            var settings = NoHold with { GapTolerance = Duration.FromSeconds(tolerance), Averaging = Duration.FromSeconds(averaging) };
            var source = ConditionedSource.Even(rows, Duration.FromSeconds(1));
            var series = ConditionedSeries.Of(source, settings);
            var lost = LostStretches.Of(source, settings, series);
            Assert.Equal(series.Connected.Milliseconds, series.Valid.Milliseconds + lost.Sum(l => l.Span.Length.Milliseconds));
            Assert.All(lost, l => Assert.DoesNotContain(series.Pieces, p => p.Start < l.Span.End && l.Span.Start < p.End));
            Assert.All(lost.Where(l => l.HadNumbers), l => Assert.NotEqual(LossReason.NoRow, l.Reason));
        });
    }
}
