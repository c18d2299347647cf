using Stillwatch.Oximetry.Calibration;

namespace Stillwatch.Tests.Oximetry.Curves;

/// <summary>A calibration that the user brings: invented numbers, arithmetic only.</summary>
public sealed class CurveTableTests
{
    private const string Good = "# bench of 3 March\nratio, SpO2\n0.4,100\n\n0.5,97.5\r\n1.0,85\n2,60\n";

    // ratio | saturation; a blank: none
    [Theory]
    [InlineData(0.4, 100)]
    [InlineData(0.45, 98.75)]
    [InlineData(0.5, 97.5)]
    [InlineData(0.75, 91.25)]
    [InlineData(2.0, 60)]
    [InlineData(0.399, double.NaN)]
    [InlineData(2.001, double.NaN)]
    [InlineData(double.NaN, double.NaN)]
    public void Between_points_it_is_straight_and_beyond_its_ends_it_says_nothing(double ratio, double saturation)
    {
        var curve = CurveTable.Parse(Good, "ward.csv");
        Assert.Equal(saturation, curve.SaturationPercent(ratio), 1e-9);
        if (!double.IsNaN(saturation)) Assert.Equal(ratio, curve.RatioAt(saturation), 1e-9);
    }

    [Fact]
    public void It_says_whose_table_it_is_and_where_it_ends()
    {
        var curve = CurveTable.Parse(Good, "ward.csv");
        Assert.Contains("ward.csv", curve.Source);
        Assert.Contains("R 0.4 to 2 (60 to 100 %)", curve.Range);
        Assert.Equal((0.4, 2.0), (curve.LowestRatio, curve.HighestRatio));
        Assert.Equal(double.NaN, curve.RatioAt(59.9));
        Assert.Equal(double.NaN, curve.RatioAt(100.1));
    }

    // text, ~ ends a line | line number | found | expected
    private const string Refused = """
        0.4,100~0.5,97             | 1 | '0.4,100'              | the line 'ratio,spo2'
        ratio,spo2~0.4             | 2 | '0.4'                  | two numbers
        ratio,spo2~0.4,            | 2 | '0.4,'                 | two numbers
        ratio,spo2~0,4;100         | 2 | '0,4;100'              | two numbers
        ratio,spo2~NaN,100         | 2 | 'NaN,100'              | two numbers
        ratio,spo2~0.4,100~0.4,99  | 3 | ratio 0.4 after 0.4    | a greater one
        ratio,spo2~0.4,100~0.3,99  | 3 | ratio 0.3 after 0.4    | a greater one
        ratio,spo2~0.4,90~0.5,90   | 3 | SpO2 90 after 90       | a lower one
        ratio,spo2~0.4,101~0.5,90  | 2 | SpO2 101               | 0 to 100 %
        ratio,spo2~-1,100~0.5,90   | 2 | ratio -1               | a number above 0
        ratio,spo2~0.4,100         | 2 | 1 points               | at least 2
        ratio,spo2                 | 1 | 0 points               | at least 2
        """;

    [Fact]
    public void What_is_no_table_is_refused_with_its_line()
    {
        foreach (string row in Refused.Split('\n'))
        {
            string[] cells = row.Split('|', StringSplitOptions.TrimEntries);
            var refused = Assert.Throws<CurveTableException>(() => CurveTable.Parse(cells[0].Replace('~', '\n'), "ward.csv"));
            Assert.Equal(int.Parse(cells[1]), refused.LineNumber);
            Assert.Equal(cells[2], refused.Found);
            Assert.StartsWith(cells[3], refused.Expected);
            Assert.Contains("ward.csv", refused.Message);
        }
    }

    [Fact]
    public void A_table_without_end_is_refused_and_not_held()
    {
        string text = "ratio,spo2\n" + string.Join('\n', Enumerable.Range(1, 5000).Select(i => FormattableString.Invariant($"{i},{100 - i * 0.01}")));
        Assert.Equal(CurveTable.MostPoints + 2, Assert.Throws<CurveTableException>(() => CurveTable.Parse(text, "long.csv")).LineNumber);
    }

    [Fact]
    public void Points_given_by_a_program_obey_the_same_rules()
    {
        Assert.Contains("Point 2", Assert.Throws<ArgumentException>(() => new TabledCurve([new(0.4, 90), new(0.5, 91)], "code")).Message);
        Assert.Contains("at least 2", Assert.Throws<ArgumentException>(() => new TabledCurve([new(0.4, 90)], "code")).Message);
    }
}
