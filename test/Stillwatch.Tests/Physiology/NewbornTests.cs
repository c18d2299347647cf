using CsCheck;
using Stillwatch.Oxygenation.Newborn;
using Stillwatch.Quantities;
using Stillwatch.Tests.Alarms;

namespace Stillwatch.Tests.Physiology;

/// <summary>Targets of the first minutes, and the pulse-oximetry screen by its two tables.</summary>
public sealed class NewbornTests
{
    // minute | low | high, or what the reason says | source
    [Theory]
    [InlineData("1 | 60 | 65 | resuscitation algorithm 2015, secondary copy")]
    [InlineData("2 | 65 | 70 | the same")]
    [InlineData("3 | 70 | 75 | the same")]
    [InlineData("4 | 75 | 80 | the same")]
    [InlineData("5 | 80 | 85 | the same")]
    [InlineData("10 | 85 | 95 | the same; one page prints 85–90, taken for an error")]
    public void The_target_of_a_minute(string row)
    {
        var cells = new Cells(row);
        var target = FirstMinutes.TargetAt((int)cells.Number(0)).Value;
        Assert.Equal(Percent.Of(cells.Decimal(1)), target.Low);
        Assert.Equal(Percent.Of(cells.Decimal(2)), target.High);
    }

    [Theory]
    [InlineData(6)]
    [InlineData(7)]
    [InlineData(8)]
    [InlineData(9)]
    public void Minutes_6_to_9_have_no_published_target_and_none_is_made_up(int minute) =>
        Assert.Contains($"no target is published for minute {minute}", FirstMinutes.TargetAt(minute).WhyNot, StringComparison.Ordinal);

    [Theory]
    [InlineData(0)]
    [InlineData(11)]
    [InlineData(-1)]
    [InlineData(int.MaxValue)]
    public void Other_minutes_have_no_target(int minute) =>
        Assert.Contains("minutes 1 to 5 and 10", FirstMinutes.TargetAt(minute).WhyNot, StringComparison.Ordinal);

    // right hand/foot, measurement after measurement | 2011 | 2025 | source. A verdict is read after the last measurement, or where the screen ends before.
    [Theory]
    [InlineData("97/96 | Pass 1 | Pass 1 | worked on both tables")]
    [InlineData("95/95 | Pass 1 | Pass 1 | worked on both tables")]
    [InlineData("95/92 | Pass 1 | Retest 1 | worked on both tables: difference 3")]
    [InlineData("94/97 | Pass 1 | Retest 1 | worked on both tables: difference 3")]
    [InlineData("99/95 | Retest 1 | Retest 1 | worked on both tables: difference 4")]
    [InlineData("94/94 | Retest 1 | Retest 1 | worked on both tables")]
    [InlineData("89/96 | Fail 1 | Fail 1 | worked on both tables")]
    [InlineData("96/89 | Fail 1 | Fail 1 | worked on both tables")]
    [InlineData("90/90 | Retest 1 | Retest 1 | worked on both tables")]
    [InlineData("94/94 95/94 | Pass 2 | Fail 2 | worked on both tables")]
    [InlineData("94/94 94/94 96/95 | Pass 3 | Fail 2 | worked on both tables: failed at the second by the newer")]
    [InlineData("94/94 94/94 94/94 | Fail 3 | Fail 2 | up to two retests, or one")]
    [InlineData("94/94 89/99 | Fail 2 | Fail 2 | below 90 fails at any measurement")]
    [InlineData("94/94 96/95 | Pass 2 | Pass 2 | a retest may pass")]
    public void The_screen_decides_by_either_table(string row)
    {
        var cells = new Cells(row);
        Assert.Equal(cells[1], Screened(ScreeningRule.Of2011, cells[0]));
        Assert.Equal(cells[2], Screened(ScreeningRule.Of2025, cells[0]));
    }

    [Theory]
    [InlineData("95/98 | Pass 1")]
    [InlineData("98/95 | Pass 1")]
    [InlineData("95/98.000001 | Retest 1")]
    [InlineData("99/95 | Retest 1")]
    public void A_difference_of_exactly_3_passes_and_more_does_not(string row)
    {
        // From memory; one page prints "less than 3". The same in both tables.
        var cells = new Cells(row);
        Assert.Equal(cells[1], Screened(ScreeningRule.Of2011, cells[0]));
        Assert.Equal(cells[1], Screened(ScreeningRule.Of2025, cells[0]));
    }

    [Theory]
    [InlineData("95/95 | Pass 1 | at least 95")]
    [InlineData("94.999999/94.999999 | Retest 1 | not rounded up to 95")]
    [InlineData("90/90 | Retest 1 | 90 does not fail at once")]
    [InlineData("89.999999/95 | Fail 1 | below 90 does")]
    public void The_limits_of_95_and_90_are_exact(string row)
    {
        var cells = new Cells(row);
        Assert.Equal(cells[1], Screened(ScreeningRule.Of2011, cells[0]));
        Assert.Equal(cells[1], Screened(ScreeningRule.Of2025, cells[0]));
    }

    [Fact]
    public void What_passes_the_newer_table_at_first_passes_the_older_and_what_fails_at_first_fails_both() =>
        Gen.Select(Gen.Int[80, 100], Gen.Int[80, 100]).Sample((hand, foot) =>
        {
            var reading = ScreeningReading.Of(Percent.Of(hand), Percent.Of(foot)).Value;
            var older = ScreeningRule.Of2011.Judge(reading);
            var newer = ScreeningRule.Of2025.Judge(reading);
            if (newer == ScreeningVerdict.Pass) Assert.Equal(ScreeningVerdict.Pass, older);
            Assert.Equal(older == ScreeningVerdict.Fail, newer == ScreeningVerdict.Fail);
            Assert.Equal(newer, ScreeningRule.Of2025.Judge(ScreeningReading.Of(Percent.Of(foot), Percent.Of(hand)).Value)); // neither site is favoured
        }, iter: Sampling.Cases(1000));

    [Fact]
    public void A_screen_that_has_ended_takes_no_further_measurement()
    {
        var ended = NewbornScreening.Start(ScreeningRule.Of2025).With(ScreeningReading.Of(Percent.Of(98), Percent.Of(98)).Value);
        Assert.True(ended.IsFinished);
        Assert.Contains("ended with Pass after 1", Assert.Throws<InvalidOperationException>(() => ended.With(ScreeningReading.Of(Percent.Of(80), Percent.Of(80)).Value)).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_site_without_a_reading_cannot_be_judged()
    {
        Assert.Contains("right hand: SpO2 is 0 %", ScreeningReading.Of(Percent.Of(0), Percent.Of(98)).WhyNot, StringComparison.Ordinal);
        Assert.Contains("foot: SpO2 is 127 %", ScreeningReading.Of(Percent.Of(98), Percent.Of(127)).WhyNot, StringComparison.Ordinal);
        var start = NewbornScreening.Start(ScreeningRule.Of2011);
        Assert.Equal(ScreeningVerdict.NotStarted, start.Verdict);
        Assert.False(start.IsFinished);
        Assert.Equal(3600, ScreeningRule.Wait.Seconds); // an hour, secondary copy
    }

    private static string Screened(ScreeningRule rule, string measurements)
    {
        var screen = NewbornScreening.Start(rule);
        foreach (string measurement in measurements.Split(' '))
        {
            if (screen.IsFinished) break;
            decimal[] sites = [.. measurement.Split('/').Select(decimal.Parse)];
            screen = screen.With(ScreeningReading.Of(Percent.Of(sites[0]), Percent.Of(sites[1])).Value);
        }

        return $"{screen.Verdict} {screen.Measured}";
    }
}
