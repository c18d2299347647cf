using Stillwatch.Conditioning;
using Stillwatch.Time;

namespace Stillwatch.Tests.Alarms;

/// <summary>Series as the tables write them: "@60 96*3 88 . 88" is one row a minute, three times 96, 88, a row without a number, 88.</summary>
internal static class Series
{
    public static (Duration Period, List<decimal?> Values) Parse(string text)
    {
        var period = Duration.FromSeconds(1);
        var values = new List<decimal?>();
        foreach (string word in text.Split(' ', StringSplitOptions.RemoveEmptyEntries))
        {
            if (word[0] == '@')
            {
                period = Duration.FromSeconds(decimal.Parse(word[1..]));
                continue;
            }

            string[] parts = word.Split('*');
            decimal? value = parts[0] == "." ? null : decimal.Parse(parts[0]);
            int count = parts.Length == 2 ? int.Parse(parts[1]) : 1;
            for (int i = 0; i < count; i++) values.Add(value);
        }

        return (period, values);
    }

    public static ConditionedSource Source(string text, ConditionedQuantity quantity = ConditionedQuantity.SpO2)
    {
        var (period, values) = Parse(text);
        return ConditionedSource.Even(values, period, quantity);
    }
}
