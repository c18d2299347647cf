using Stillwatch.Formats.Labels;
using System.Globalization;
using System.Text;
using Stillwatch.Formats.Csv.Layout;
using Stillwatch.Formats.Csv.Times;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Formats.Csv;

/// <summary>
/// Writes a recording as a table: a time column and a column for each channel, blank where a row has no number or a channel no row.
/// <see cref="CsvReader"/> reads it back to the same recording where all channels share their times.
/// </summary>
/// <remarks>
/// The time is ISO 8601 where date and time are known, the time of day where only that is, otherwise elapsed seconds. A time of
/// day cannot show that more than half a day went by between two rows: such a recording gets elapsed seconds too.
/// Notes (annotations) have no place in the table and are left out.
/// </remarks>
public static class CsvWriter
{
    private const long HalfDayMilliseconds = ClockText.DayMilliseconds / 2;

    public static void Write(Recording recording, TextWriter writer)
    {
        var start = recording.Start is RecordingStart.TimeOfDay && LongestStep(recording) >= HalfDayMilliseconds ? new RecordingStart.Unknown() : recording.Start;
        var line = new StringBuilder(TimeHeader(start));
        foreach (var channel in recording.Channels) AppendCell(line.Append(','), HeaderOf(channel));
        writer.Write(line.Append('\n'));

        var next = new int[recording.Channels.Count];
        while (NextTime(recording, next) is { } time)
        {
            line.Clear();
            AppendTime(line, start, time);
            for (int c = 0; c < next.Length; c++)
            {
                line.Append(',');
                var channel = recording.Channels[c];
                if (next[c] == channel.Times.Count || channel.Times.TimeAt(next[c]) != time) continue;
                int micro = channel.Values[next[c]++];
                if (micro != ValueColumn.Missing) line.Append(CultureInfo.InvariantCulture, $"{micro / 1_000_000m:0.######}");
            }

            writer.Write(line.Append('\n'));
        }
    }

    private static SampleTime? NextTime(Recording recording, int[] next)
    {
        SampleTime? first = null;
        for (int c = 0; c < next.Length; c++)
        {
            var times = recording.Channels[c].Times;
            if (next[c] < times.Count && (first is null || times.TimeAt(next[c]) < first)) first = times.TimeAt(next[c]);
        }

        return first;
    }

    private static long LongestStep(Recording recording)
    {
        long longest = 0;
        foreach (var times in recording.Channels.Select(c => c.Times).Distinct())
        {
            for (int i = 1; i < times.Count; i++) longest = Math.Max(longest, (times.TimeAt(i) - times.TimeAt(i - 1)).Milliseconds);
        }

        return longest;
    }

    private static string TimeHeader(RecordingStart start) => start switch
    {
        RecordingStart.Unknown => "time_s",
        RecordingStart.TimeOfDay => "time of day",
        _ => "time",
    };

    private static void AppendTime(StringBuilder line, RecordingStart start, SampleTime time)
    {
        var offset = TimeSpan.FromMilliseconds(time.Milliseconds);
        var culture = CultureInfo.InvariantCulture;
        switch (start)
        {
            case RecordingStart.Zoned zoned:
                line.Append(culture, $"{zoned.DateTime + offset:yyyy-MM-ddTHH:mm:ss.fffzzz}");
                break;
            case RecordingStart.Local local:
                line.Append(culture, $"{local.DateTime + offset:yyyy-MM-ddTHH:mm:ss.fff}");
                break;
            case RecordingStart.TimeOfDay ofDay:
                line.Append(culture, $"{ofDay.Time.Add(offset):HH:mm:ss.fff}");
                break;
            default:
                line.Append(culture, $"{time.Milliseconds / 1000m:0.###}");
                break;
        }
    }

    // The source's label where the reader takes it for what the channel is; a plain name of the kind otherwise.
    private static string HeaderOf(Channel channel)
    {
        var name = new LabelName(channel.Label);
        bool speaksTrue = channel.Kind == ChannelKind.Other
            || (LabelVocabulary.KindOf(name) == channel.Kind && !LabelVocabulary.SaysFraction(name) && !LabelVocabulary.MeansDate(name));
        if (speaksTrue) return channel.Label;
        return channel.Kind switch
        {
            ChannelKind.SpO2 => "SpO2 (%)",
            ChannelKind.PulseRate => "Pulse rate (1/min)",
            ChannelKind.PerfusionIndex => "Perfusion index (%)",
            ChannelKind.SignalQuality => "Signal quality",
            ChannelKind.SourceValid => "Valid",
            ChannelKind.InhaledOxygen => "FiO2 (%)",
            ChannelKind.HeartRate => "Heart rate (1/min)",
            _ => "Pleth",
        };
    }

    private static void AppendCell(StringBuilder line, string text)
    {
        string oneLine = text.ReplaceLineEndings(" ");
        if (oneLine.AsSpan().IndexOfAny(",;\t|\"") < 0) line.Append(oneLine);
        else line.Append('"').Append(oneLine.Replace("\"", "\"\"", StringComparison.Ordinal)).Append('"');
    }
}
