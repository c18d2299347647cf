using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Tests.Oximetry.Feed;

/// <summary>Channels of light for tests.</summary>
internal static class Lights
{
    public static Channel Channel(TimeAxis times, Func<int, double> value, string label = "IR") =>
        new(label, ChannelKind.InfraredLight, "", times, ValueColumn.Of(Enumerable.Range(0, times.Count).Select(i => double.IsNaN(value(i)) ? (decimal?)null : (decimal)Math.Round(value(i), 6))));

    public static TimeAxis Uneven(IEnumerable<long> milliseconds, Duration? declared = null)
    {
        var builder = new TimeAxis.Builder();
        foreach (long time in milliseconds) builder.Add(time);
        return builder.Build(declared);
    }

    /// <summary>Rows of an exact rate written in whole milliseconds, some of them left out.</summary>
    public static TimeAxis Written(double hertz, int count, Func<int, bool>? isThere = null, long first = 0) =>
        Uneven(Enumerable.Range(0, count).Where(i => isThere?.Invoke(i) ?? true).Select(i => first + (long)Math.Floor(i * 1000 / hertz + 0.5)));

    /// <summary>Value of a row as it is held: in millionths.</summary>
    public static double Held(double value) => (double)Math.Round((decimal)value, 6);
}
