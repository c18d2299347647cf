using System.Globalization;
using Stillwatch.Oximetry.Streaming;

namespace Stillwatch.Tests.Oximetry.Stream;

/// <summary>When a pulse rate is given, and when none.</summary>
public class PulseRateTests
{
    /// <summary>What it shows | seconds between beats | beats a minute, or none.</summary>
    private const string Table = """
        an even pulse                                  | 0.8 0.8 0.8 0.8 0.8 0.8            | 75
        the mean of intervals, not of rates            | 0.9 1.1 0.9 1.1                    | 60
        one missed beat is left out                    | 0.8 0.8 1.6 0.8 0.8                | 75
        one beat too many is left out                  | 0.8 0.8 0.4 0.4 0.8 0.8 0.8        | 75
        an early beat and its pause stay in            | 0.8 0.8 0.55 1.05 0.8 0.8          | 75
        every second beat early: both kinds count      | 0.7 0.9 0.7 0.9 0.7 0.9            | 75
        an irregular heart                             | 0.6 0.9 0.7 1.0 0.65 0.85 0.75     | 77.064
        a newborn                                      | 0.25 0.25 0.25 0.25                | 240
        three intervals are enough                     | 2 2 2                              | 30
        two are not                                    | 0.8 0.8                            | none
        none at all                                    |                                    | none
        no rhythm: a third lies far from the rest      | 0.3 0.8 0.8 2.0 0.3 2.1 0.8 0.2    | none
        no rhythm: nothing lies near anything          | 0.3 0.5 0.9 1.6 2.2                | none
        no rhythm: wide scatter around the median      | 0.62 1.55 0.62 1.55 1.0 0.62 1.55  | none
        """;

    public static TheoryData<string, string, string> Rows
    {
        get
        {
            var rows = new TheoryData<string, string, string>();
            foreach (string line in Table.Split('\n'))
            {
                string[] cells = [.. line.Split('|').Select(c => c.Trim())];
                rows.Add(cells[0], cells[1], cells[2]);
            }

            return rows;
        }
    }

    [Theory, MemberData(nameof(Rows))]
    public void The_table_holds(string shows, string intervals, string expected)
    {
        double[] seconds = [.. intervals.Split(' ', StringSplitOptions.RemoveEmptyEntries).Select(s => double.Parse(s, CultureInfo.InvariantCulture))];
        double rate = PulseRate.Of(seconds);
        if (expected == "none") Assert.True(double.IsNaN(rate), $"{shows}: found {rate}");
        else Assert.Equal(double.Parse(expected, CultureInfo.InvariantCulture), rate, 0.001);
    }
}
