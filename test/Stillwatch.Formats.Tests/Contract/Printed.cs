using System.Globalization;
using System.Text;
using Stillwatch.Formats.Tests.Csv;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Formats.Tests.Contract;

/// <summary>Everything that a reading says, as text: two readings are equal when their texts are.</summary>
internal static class Printed
{
    public static string Whole(ReadResult result)
    {
        var text = new StringBuilder().AppendLine(result.Format);
        if (result.Recording is { } recording) text.Append(Whole(recording));
        foreach (var issue in result.Issues) text.AppendLine(issue.ToString());
        return text.ToString();
    }

    public static string Whole(Recording recording)
    {
        var text = new StringBuilder();
        text.AppendLine(CultureInfo.InvariantCulture, $"start {recording.Start.Show()}, source averaging {recording.SourceAveraging}");
        foreach (var channel in recording.Channels) text.Append(Whole(channel));
        foreach (var note in recording.Annotations) text.AppendLine(note.ToString());
        return text.ToString();
    }

    public static string Whole(Channel channel)
    {
        var text = new StringBuilder();
        text.AppendLine(CultureInfo.InvariantCulture, $"{channel.Label}|{channel.Kind}|{channel.Unit}|{channel.Times.Count} rows|P {channel.Times.Period}|even {channel.Times.IsEven}|{channel.Times.Rate}|{channel.Counts?.Calibration}");
        for (int i = 0; i < channel.Times.Count; i++)
        {
            int held = channel.Counts?[i] ?? channel.Values[i];
            text.Append(channel.Times.TimeAt(i).Milliseconds).Append('=').Append(held == ValueColumn.Missing ? "-" : held.ToString(CultureInfo.InvariantCulture)).Append(' ');
        }

        return text.AppendLine().ToString();
    }
}
