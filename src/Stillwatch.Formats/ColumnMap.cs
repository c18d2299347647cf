using System.Text;
using Stillwatch.Formats.Csv;
using Stillwatch.Signals;

namespace Stillwatch.Formats;

/// <summary>
/// Which columns of a table, or signals of a file, the user says are which: <c>spo2="SpO2 4",time=Time,fio2=#-1</c>. A column is given by its header, by its number
/// (<c>#2</c>, from 1) or by its number from the end (<c>#-1</c>). Quotes keep commas, and a header that begins with #, together.
/// </summary>
public sealed class ColumnMap
{
    public static readonly ColumnMap Empty = new();

    private static readonly Dictionary<string, ChannelKind> Kinds = new(StringComparer.OrdinalIgnoreCase)
    {
        ["spo2"] = ChannelKind.SpO2,
        ["pulse"] = ChannelKind.PulseRate,
        ["heart"] = ChannelKind.HeartRate,
        ["perfusion"] = ChannelKind.PerfusionIndex,
        ["quality"] = ChannelKind.SignalQuality,
        ["valid"] = ChannelKind.SourceValid,
        ["fio2"] = ChannelKind.InhaledOxygen,
        ["pleth"] = ChannelKind.Pleth,
        ["red"] = ChannelKind.RedLight,
        ["infrared"] = ChannelKind.InfraredLight,
    };

    private static readonly Dictionary<string, NumericTimeUnit> Units = new(StringComparer.OrdinalIgnoreCase)
    {
        ["ms"] = NumericTimeUnit.Milliseconds,
        ["s"] = NumericTimeUnit.Seconds,
        ["min"] = NumericTimeUnit.Minutes,
        ["h"] = NumericTimeUnit.Hours,
        ["epoch-ms"] = NumericTimeUnit.EpochMilliseconds,
        ["epoch-s"] = NumericTimeUnit.EpochSeconds,
        ["serial-days"] = NumericTimeUnit.SerialDays,
    };

    private static readonly string Keys = string.Join(", ", Kinds.Keys.Concat(["time", "date", "time-unit"]));

    private readonly Dictionary<ChannelKind, string> channels = [];

    /// <summary>The columns of channels, by kind.</summary>
    public IReadOnlyDictionary<ChannelKind, string> Channels => channels;

    /// <summary>The time column; <c>none</c>: count the rows at the declared period, whatever the file says of their times.</summary>
    public string? Time { get; private set; }

    /// <summary>Whether <see cref="Time"/> says that no column is to be used.</summary>
    public bool CountsRows => Time is "none";

    /// <summary>A column with the date, where <see cref="Time"/> holds the time of day alone.</summary>
    public string? Date { get; private set; }

    public NumericTimeUnit? TimeUnit { get; private set; }

    public bool IsEmpty => channels.Count == 0 && Time is null && Date is null && TimeUnit is null;

    /// <exception cref="FormatException">With a message for the user: what was found, what is expected.</exception>
    public static ColumnMap Parse(string text)
    {
        var map = new ColumnMap();
        foreach (string entry in SplitOutsideQuotes(text))
        {
            int equals = entry.IndexOf('=');
            string key = (equals < 0 ? entry : entry[..equals]).Trim();
            string column = equals < 0 ? "" : Unquote(entry[(equals + 1)..].Trim());
            if (column.Length == 0)
                throw new FormatException($"found \"{entry.Trim()}\", expected KEY=COLUMN, e.g. spo2=\"SpO2 4\" or fio2=#-1. Keys: {Keys}.");
            if (!map.TrySet(key, column))
                throw new FormatException($"found key \"{key}\" a second time, expected each key once.");
        }

        return map;
    }

    private bool TrySet(string key, string column)
    {
        switch (key.ToLowerInvariant())
        {
            case "time" when Time is null:
                Time = column;
                return true;
            case "date" when Date is null:
                Date = column;
                return true;
            case "time-unit" when TimeUnit is null:
                TimeUnit = Units.TryGetValue(column, out var unit)
                    ? unit
                    : throw new FormatException($"found time-unit \"{column}\", expected one of {string.Join(", ", Units.Keys)}.");
                return true;
            case "time" or "date" or "time-unit":
                return false;
            default:
                if (!Kinds.TryGetValue(key, out var kind))
                    throw new FormatException($"found key \"{key}\", expected one of {Keys}.");
                return channels.TryAdd(kind, column);
        }
    }

    private static IEnumerable<string> SplitOutsideQuotes(string text)
    {
        var entry = new StringBuilder();
        bool quoted = false;
        foreach (char c in text)
        {
            if (c == '"') quoted = !quoted;
            if (c == ',' && !quoted)
            {
                yield return entry.ToString();
                entry.Clear();
            }
            else
            {
                entry.Append(c);
            }
        }

        if (quoted)
            throw new FormatException($"found an opening quote without its end in \"{entry}\", expected KEY=\"COLUMN\".");
        yield return entry.ToString();
    }

    // The quotes stay on a name that begins with #, so that it is not taken for a number.
    private static string Unquote(string text) =>
        text is ['"', .. var inner, '"'] && !inner.StartsWith('#') ? inner : text;
}
