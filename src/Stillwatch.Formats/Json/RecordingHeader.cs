using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Formats.Json;

/// <summary>All that a recording says besides its times and values: in a recording in JSON, in a Parquet file's metadata, in the manifest beside a table.</summary>
internal sealed record RecordingHeader(RecordingStart Start, SourceAveraging SourceAveraging, IReadOnlyList<ChannelHeader> Channels, IReadOnlyList<Annotation> Annotations);

/// <summary>What a channel says besides its times and values.</summary>
/// <param name="Label">As the source has it.</param>
/// <param name="Kind">What it measures.</param>
/// <param name="Unit">Of its values.</param>
/// <param name="Calibration">Of its counts; null: it holds decimals.</param>
/// <param name="Axis">Its times.</param>
internal sealed record ChannelHeader(string Label, ChannelKind Kind, string Unit, Calibration? Calibration, AxisHeader Axis);

/// <summary>What is said of a channel's times.</summary>
/// <param name="Count">Rows. Never trusted: what a reader finds must be as many.</param>
internal abstract record AxisHeader(int Count)
{
    /// <param name="First">Of the first row.</param>
    /// <param name="Rate">Exact.</param>
    /// <param name="Count">Rows.</param>
    /// <param name="IsDeclared">Whether the source declared the period, or it was found from the rows.</param>
    public sealed record Even(SampleTime First, SampleRate Rate, int Count, bool IsDeclared) : AxisHeader(Count);

    /// <summary>The times stand with the values.</summary>
    /// <param name="Count">Rows.</param>
    /// <param name="DeclaredPeriod">Null: the median step.</param>
    public sealed record Uneven(int Count, Duration? DeclaredPeriod) : AxisHeader(Count);

    /// <summary>The very times of an earlier channel, counted from 0.</summary>
    public sealed record Same(int Channel, int Count) : AxisHeader(Count);

    /// <summary>The headers of the axes of channels: those that are one object, or even and alike, point to the first of them.</summary>
    public static IReadOnlyList<AxisHeader> Of(IReadOnlyList<Channel> channels)
    {
        var headers = new AxisHeader[channels.Count];
        var known = new Dictionary<object, int>();
        for (int c = 0; c < headers.Length; c++)
        {
            var times = channels[c].Times;
            AxisHeader header = times is { IsEven: true, Rate: { } rate }
                ? new Even(times.Count > 0 ? times.First : default, rate, times.Count, times.IsPeriodDeclared)
                : new Uneven(times.Count, times.IsPeriodDeclared ? times.Period : null);
            object key = header is Even ? header : times;
            headers[c] = known.TryGetValue(key, out int earlier) ? new Same(earlier, times.Count) : header;
            known.TryAdd(key, c);
        }

        return headers;
    }

    /// <summary>Builds the axis of an even header.</summary>
    public static TimeAxis Build(Even even)
    {
        if (even.IsDeclared) return TimeAxis.Even(even.First, even.Rate, even.Count);
        var builder = new TimeAxis.Builder();
        for (int i = 0; i < even.Count; i++) builder.Add(even.First.Milliseconds + even.Rate.MillisecondsAt(i));
        return builder.Build();
    }
}
