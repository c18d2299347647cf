using System.Globalization;
using Stillwatch.Conditioning;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Tests.Oxygenation;

/// <summary>
/// Series as text, one row a second: value*count; '.' is a row without a number; 96>86*30 is 30 rows falling evenly from 96,
/// the last one just short of 86; (…)*3 repeats.
/// </summary>
internal static class SeriesText
{
    public static decimal?[] Rows(string text) => [.. Expand(text)];

    public static ConditionedSource Source(string text, decimal periodSeconds = 1) =>
        ConditionedSource.Even(Rows(text), Duration.FromSeconds(periodSeconds));

    public static Recording Recording(ConditionedSource spo2, params Channel[] more) =>
        new("invented", new RecordingStart.Unknown(), [spo2.Channel, .. more], SourceAveraging.Unknown, []);

    private static IEnumerable<decimal?> Expand(string text)
    {
        while (text.IndexOf('(') is var open and >= 0)
        {
            int close = text.IndexOf(')', open);
            int end = text.IndexOf(' ', close) is var blank and >= 0 ? blank : text.Length;
            int times = int.Parse(text[(close + 2)..end], CultureInfo.InvariantCulture);
            text = text[..open] + string.Join(' ', Enumerable.Repeat(text[(open + 1)..close], times)) + text[end..];
        }

        foreach (string token in text.Split(' ', StringSplitOptions.RemoveEmptyEntries))
        {
            string[] parts = token.Split('*');
            int count = parts.Length > 1 ? int.Parse(parts[1], CultureInfo.InvariantCulture) : 1;
            string[] ends = parts[0].Split('>');
            for (int i = 0; i < count; i++)
            {
                yield return parts[0] == "." ? null
                    : ends.Length == 1 ? Number(ends[0])
                    : Number(ends[0]) + (Number(ends[1]) - Number(ends[0])) * i / count;
            }
        }
    }

    private static decimal Number(string text) => decimal.Parse(text, CultureInfo.InvariantCulture);
}
