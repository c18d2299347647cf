using System.Globalization;
using System.Text;
using Stillwatch.Formats.Csv.Layout;
using Stillwatch.Formats.Csv.Times;
using Stillwatch.Formats.Labels;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Formats.Csv;

/// <summary>Writes a recording as a table: a time column and a column for each channel.</summary>
/// <remarks>
/// <para>The time is ISO 8601 where date and time are known, the time of day where only that is, otherwise elapsed seconds. A time of
/// day cannot show that more than half a day went by between two rows: such a recording gets elapsed seconds too.</para>
/// <para>Where all channels share their times, a blank cell is a row without a number, and <see cref="CsvReader"/> reads the table back to
/// the same recording. Otherwise the rows are the union of all times: a blank cell is no row of that channel, and NaN a row without a number.
/// Annotations, units and exact rates have no place in a table; the manifest beside an export keeps them (<see cref="Exports.ExportManifest"/>).</para>
/// </remarks>
public static class CsvWriter
{
    public static void Write(Recording recording, TextWriter writer)
    {
        var plan = CsvTablePlan.Of(recording);
        var line = new StringBuilder(TimeHeader(plan.Start));
        foreach (var channel in recording.Channels) AppendCell(line.Append(','), HeaderOf(channel));
        writer.Write(line.Append('\n'));

        var next = new int[recording.Channels.Count];
        while (CsvTablePlan.NextTime(recording, next) is { } time)
        {
            line.Clear();
            AppendTime(line, plan.Start, time);
            for (int c = 0; c < next.Length; c++)
            {
                line.Append(',');
                var channel = recording.Channels[c];
                if (next[c] == channel.Times.Count || channel.Times.TimeAt(next[c]) != time) continue;
                AppendSample(line, channel, next[c]++, plan.HoldsCounts[c], plan.IsShared ? "" : CsvTablePlan.NoNumber);
            }

            writer.Write(line.Append('\n'));
        }
    }

    private static void AppendSample(StringBuilder line, Channel channel, int row, bool asCount, string noNumber)
    {
        var culture = CultureInfo.InvariantCulture;
        int sample = channel.Counts?[row] ?? channel.Values[row];
        if (sample == ValueColumn.Missing) line.Append(noNumber);
        else if (channel.Counts is not { } counts) line.Append(culture, $"{sample / 1_000_000m:0.######}");
        else if (asCount) line.Append(culture, $"{sample}");
        else line.Append(culture, $"{counts.Calibration.ValueOf(sample):R}");
    }

    private static string TimeHeader(RecordingStart start) => start switch
    {
        RecordingStart.Unknown => CsvTablePlan.ElapsedHeader,
        RecordingStart.TimeOfDay => CsvTablePlan.TimeOfDayHeader,
        _ => CsvTablePlan.TimeHeader,
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
        string oneLine = text.ReplaceLineEndings(" ").Replace('\v', ' ');
        if (oneLine.AsSpan().IndexOfAny(",;\t|\"") < 0) line.Append(oneLine);
        else line.Append('"').Append(oneLine.Replace("\"", "\"\"", StringComparison.Ordinal)).Append('"');
    }
}
