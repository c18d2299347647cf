using CsCheck;
using Stillwatch.Oxygenation.Agreement;
using Stillwatch.Quantities;
using Stillwatch.Tests.Alarms;
using Stillwatch.Time;

namespace Stillwatch.Tests.Physiology;

/// <summary>Hypoxaemia that a reading hides. The published shares cannot be recomputed (their pairs are not open); definitions and counting can.</summary>
public sealed class OccultHypoxaemiaTests
{
    // what | SpO2 (minute:percent …) | blood at minute 60, SaO2 % | unpaired, outside, in window, occult by ≥ 92 | the same by 92–96 | source
    [Theory]
    [InlineData("well by both | 60:95 | 94 | 0 0 1 0 | 0 0 1 0 | invented")]
    [InlineData("hidden | 60:93 | 87.9 | 0 0 1 1 | 0 0 1 1 | invented; Valbuena et al., BMJ 2022;378:e069775: < 88 despite ≥ 92")]
    [InlineData("88 is not below 88 | 60:93 | 88 | 0 0 1 0 | 0 0 1 0 | the same definition")]
    [InlineData("92 belongs to the window | 60:92 | 87 | 0 0 1 1 | 0 0 1 1 | the same definition")]
    [InlineData("91 does not: it is no longer hidden | 60:91 | 80 | 0 1 0 0 | 0 1 0 0 | the same definition")]
    [InlineData("96 belongs to the narrow window | 60:96 | 87 | 0 0 1 1 | 0 0 1 1 | Sjoding et al., NEJM 2020;383:2477, from memory")]
    [InlineData("97 only to the wide one | 60:97 | 87 | 0 0 1 1 | 0 1 0 0 | Sjoding, from memory")]
    [InlineData("ten minutes apart | 50:93 | 87 | 0 0 1 1 | 0 0 1 1 | pairs up to 10 min: Valbuena")]
    [InlineData("a moment more | 49.99:93 | 87 | 1 0 0 0 | 1 0 0 0 | pairs up to 10 min: Valbuena")]
    [InlineData("after the sample as well | 70:93 | 87 | 0 0 1 1 | 0 0 1 1 | either way: our own reading")]
    [InlineData("the nearest counts | 55:93 58:85 66:99 | 87 | 0 1 0 0 | 0 1 0 0 | our own rule")]
    [InlineData("of two as near, the earlier | 58:93 62:85 | 87 | 0 0 1 1 | 0 0 1 1 | our own rule")]
    [InlineData("0 is no reading | 55:93 60:0 | 87 | 0 0 1 1 | 0 0 1 1 | our own rule")]
    [InlineData("no reading at all | 60:0 | 87 | 1 0 0 0 | 1 0 0 0 | our own rule")]
    [InlineData("no blood value | 60:93 | 0 | 1 0 0 0 | 1 0 0 0 | our own rule")]
    public void A_blood_sample_is_counted(string row)
    {
        var cells = new Cells(row);
        TimedSaturation[] readings = [.. cells[1].Split(' ').Select(r => r.Split(':')).Select(r => At(decimal.Parse(r[0]), decimal.Parse(r[1])))];
        TimedSaturation[] blood = [At(60, cells.Decimal(2))];
        Assert.Equal(cells[3], Words(OccultHypoxaemia.Count(OccultDefinition.From92, blood, readings)));
        Assert.Equal(cells[4], Words(OccultHypoxaemia.Count(OccultDefinition.From92To96, blood, readings)));
    }

    [Fact]
    public void Window_limit_and_pairing_time_can_be_ones_own()
    {
        var strict = OccultDefinition.From92 with { WindowFrom = Percent.FromMicro(Percent.Of(92).Micro + 1), LongestApart = Duration.FromSeconds(60), Source = "above 92, a minute apart" };
        Assert.Equal("0 1 0 0", Words(OccultHypoxaemia.Count(strict, [At(60, 80)], [At(60, 92)])));
        Assert.Equal("1 0 0 0", Words(OccultHypoxaemia.Count(strict, [At(60, 80)], [At(58, 95)])));
    }

    // of | out of | printed share % | source: counts and shares as printed in the abstract at anesthesiaexperts.com (151 070 intra-operative pairs)
    [Theory]
    [InlineData("791 | 70722 | 1.1")]
    [InlineData("339 | 16011 | 2.1")]
    [InlineData("383 | 21223 | 1.8")]
    public void The_share_of_published_counts_is_the_published_share(string row)
    {
        var cells = new Cells(row);
        cells.Holds(2, new OccultCount((int)cells.Number(1), 0, 0, (int)cells.Number(1), (int)cells.Number(0)).Share.Value * 100);
    }

    [Fact]
    public void Without_a_pair_in_the_window_there_is_no_share() =>
        Assert.Contains("no pair", OccultHypoxaemia.Count(OccultDefinition.From92, [], []).Share.WhyNot, StringComparison.Ordinal);

    [Fact]
    public void Readings_that_go_back_in_time_are_refused() =>
        Assert.Contains("order of time", Assert.Throws<ArgumentException>(() => OccultHypoxaemia.Count(OccultDefinition.From92, [], [At(2, 95), At(1, 95)])).Message, StringComparison.Ordinal);

    [Fact]
    public void Counting_agrees_with_looking_at_every_reading_for_every_sample() =>
        Gen.Select(Gen.Select(Gen.Int[0, 120], Gen.Int[0, 101]).Array[0, 20], Gen.Select(Gen.Int[0, 120], Gen.Int[70, 100]).Array[0, 20]).Sample((drawn, drawnBlood) =>
        {
            TimedSaturation[] readings = [.. drawn.OrderBy(r => r.Item1).DistinctBy(r => r.Item1).Select(r => At(r.Item1, r.Item2))];
            TimedSaturation[] blood = [.. drawnBlood.Select(b => At(b.Item1, b.Item2))];
            int unpaired = 0, outside = 0, inWindow = 0, occult = 0;
            foreach (var sample in blood)
            {
                var near = readings.Where(r => r.Saturation.Value is > 0 and <= 100 && Math.Abs(r.Time.Seconds - sample.Time.Seconds) <= 600)
                    .OrderBy(r => Math.Abs(r.Time.Seconds - sample.Time.Seconds)).ThenBy(r => r.Time).Select(r => (decimal?)r.Saturation.Value).FirstOrDefault();
                if (near is null) unpaired++;
                else if (near is < 92 or > 96) outside++;
                else
                {
                    inWindow++;
                    if (sample.Saturation.Value < 88) occult++;
                }
            }

            Assert.Equal(new OccultCount(blood.Length, unpaired, outside, inWindow, occult), OccultHypoxaemia.Count(OccultDefinition.From92To96, blood, readings));
        }, iter: Sampling.Cases(500));

    private static TimedSaturation At(decimal minute, decimal percent) => new(SampleTime.FromSeconds(minute * 60), Percent.Of(percent));

    private static string Words(OccultCount count) => $"{count.Unpaired} {count.OutsideWindow} {count.InWindow} {count.Occult}";
}
