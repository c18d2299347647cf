using Stillwatch.Time;

namespace Stillwatch.Signals;

/// <summary>One measured channel: its rows' times and values. Channels of one file may share their <see cref="TimeAxis"/>.</summary>
public sealed class Channel
{
    public Channel(string label, ChannelKind kind, string unit, TimeAxis times, ValueColumn values)
    {
        if (times.Count != values.Count)
            throw new ArgumentException($"Channel '{label}': found {values.Count} values, expected one for each of {times.Count} times.", nameof(values));
        Label = label;
        Kind = kind;
        Unit = unit;
        Times = times;
        Values = values;
    }

    /// <summary>The label as the source gives it.</summary>
    public string Label { get; }

    public ChannelKind Kind { get; }

    /// <summary>The unit after reading ("%", "/min", "1"); empty where unknown.</summary>
    public string Unit { get; }

    public TimeAxis Times { get; }

    public ValueColumn Values { get; }
}
