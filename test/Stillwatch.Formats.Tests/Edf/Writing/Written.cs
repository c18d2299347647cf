using Stillwatch.Formats.Edf.Writing;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Formats.Tests.Edf.Writing;

/// <summary>Recordings for these tests, and what is written of them.</summary>
internal static class Written
{
    public static (PlainEdf File, IReadOnlyList<ReadIssue> Issues) As(IRecordingWriter writer, Recording recording)
    {
        using var stream = new MemoryStream();
        var issues = writer.Write(recording, stream);
        return (PlainEdf.Read(stream.ToArray()), issues);
    }

    public static (PlainEdf File, IReadOnlyList<ReadIssue> Issues) Edf(Recording recording) => As(new EdfRecordingWriter(), recording);

    public static (PlainEdf File, IReadOnlyList<ReadIssue> Issues) Bdf(Recording recording) => As(new BdfRecordingWriter(), recording);

    public static Recording Of(params Channel[] channels) => new("test", new RecordingStart.Unknown(), channels, SourceAveraging.Unknown, []);

    public static Channel SpO2(params decimal?[] values) => SpO2(TimeAxis.Even(default, new Duration(1000), values.Length), values);

    public static Channel SpO2(TimeAxis times, params decimal?[] values) => new("SpO2", ChannelKind.SpO2, "%", times, ValueColumn.Of(values));

    public static TimeAxis Times(params long[] milliseconds)
    {
        var builder = new TimeAxis.Builder();
        foreach (long time in milliseconds) builder.Add(time);
        return builder.Build();
    }

    public static Channel Pleth(SampleRate rate, Calibration calibration, params int?[] counts) => Pleth(TimeAxis.Even(default, rate, counts.Length), calibration, counts);

    public static Channel Pleth(TimeAxis times, Calibration calibration, params int?[] counts) => new("Pleth", ChannelKind.Pleth, "NU", times, CountColumn.Of(calibration, counts));

    /// <summary>The value of a row in exact decimals; null: no number.</summary>
    public static decimal? ValueAt(Channel channel, int row)
    {
        if (channel.Counts is { } counts)
        {
            var line = counts.Calibration;
            return counts[row] == CountColumn.Missing ? null : line.Offset + (counts[row] - line.Origin) * line.Numerator / line.Denominator;
        }

        return channel.Values[row] == ValueColumn.Missing ? null : channel.Values[row] / 1_000_000m;
    }
}
