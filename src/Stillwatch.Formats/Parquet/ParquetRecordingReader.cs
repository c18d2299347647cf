using System.Buffers.Binary;
using System.Text;
using Stillwatch.Formats.Json;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Formats.Parquet;

/// <summary>
/// Reads the Parquet files that <see cref="ParquetRecordingWriter"/> writes, and says of any other that it is another. Only what is wanted is
/// unfolded; nothing is allocated by a claim of the file beyond one row group.
/// </summary>
public sealed class ParquetRecordingReader : IRecordingReader
{
    public string Formats => "Apache Parquet (as stillwatch export writes it)";

    public IReadOnlyList<string> Extensions => [".parquet"];

    public bool Recognises(ReadOnlySpan<byte> head, string name) => head.StartsWith(ParquetLayout.Magic);

    public ReadResult Read(RecordingSource source, ReadOptions options)
    {
        using var stream = source.Open();
        var footer = ParquetFooter.Read(stream, source.Name);
        var header = Header(footer, source.Name);
        var issues = new IssueLog();
        var stated = new StatedChannels(source.Name, options, issues);
        var pages = new ParquetPages(stream, source.Name, footer.DataEnd);
        var channels = new List<Channel>();
        var axes = new List<TimeAxis>();
        int group = 0;
        for (int c = 0; c < header.Channels.Count; c++)
        {
            var channel = header.Channels[c];
            string place = $"{source.Name}, channel {c + 1} {IssueLog.Show(channel.Label)}";
            var fill = new ChannelFill((found, expected) => new UnreadableFileException(found, expected, place, "the file is damaged, or was changed")) { IsHeld = stated.IsHeld(channel.Kind) };
            for (; fill.Rows < channel.Axis.Count && group < footer.Groups.Count; group++)
            {
                Fill(fill, channel, c + 1, footer.Groups[group], pages, axes, place);
                options.Progress?.Invoke(stream.Position);
            }

            var axis = fill.Axis(channel, axes);
            axes.Add(axis);
            if (!fill.IsHeld) continue;
            channels.Add(fill.Build(channel, axis));
        }

        if (group != footer.Groups.Count)
            throw new UnreadableFileException($"{footer.Groups.Count} row groups", $"{group}, as the channels have rows", source.Name, "the file is damaged, or was changed");
        return new ReadResult(stated.Finish(header, channels), issues.ToList(), "Apache Parquet, stillwatch.recording/1");
    }

    private static RecordingHeader Header(ParquetFooter footer, string name)
    {
        string place = $"{name}, metadata {ParquetLayout.MetadataKey}";
        using var text = new MemoryStream(footer.Recording.ToArray(), writable: false);
        var json = new JsonPull(text, place);
        var reader = new RecordingHeaderReader(json);
        json.Read();
        json.Object("the metadata", field => field == "format" ? json.String(field) == RecordingFields.Format : reader.Field(field));
        if (json.TryRead()) throw json.Wrong("something after the end of the metadata", "nothing", "the file was changed");
        return reader.Build();
    }

    private static void Fill(ChannelFill fill, ChannelHeader channel, int number, ParquetRowGroup group, ParquetPages pages, List<TimeAxis> axes, string place)
    {
        int rows = (int)group.Rows;
        byte[] numberBytes = pages.Constant(group.Columns[ParquetLayout.ChannelNumber], rows);
        byte[] label = pages.Constant(group.Columns[ParquetLayout.Label], rows);
        if (numberBytes.Length != 4 || BinaryPrimitives.ReadInt32LittleEndian(numberBytes) != number || label.Length < 4 || Encoding.UTF8.GetString(label.AsSpan(4)) != channel.Label)
            throw new UnreadableFileException("rows of another channel", $"rows of channel {number}", place, "the file is damaged, or was changed");
        if (channel.Axis is AxisHeader.Uneven || fill.IsHeld) Times(fill, channel.Axis, pages.Times(group.Columns[ParquetLayout.Time], rows), axes, place);
        if (!fill.IsHeld)
        {
            fill.Pass(rows);
            return;
        }

        if (channel.Calibration is not null)
        {
            foreach (long? count in pages.Numbers(group.Columns[ParquetLayout.Count], rows, 4))
            {
                if (count == CountColumn.Missing) throw new UnreadableFileException($"the count {count}", "one that 32 bits hold", place, "the file is damaged, or was changed");
                fill.AddCount((int?)count ?? CountColumn.Missing);
            }

            return;
        }

        foreach (long? bits in pages.Numbers(group.Columns[ParquetLayout.Value], rows, 8)) fill.AddValue(bits is { } b ? MicroOf(BitConverter.Int64BitsToDouble(b), place) : ValueColumn.Missing);
    }

    // The times of an even axis follow from its header; rows that say otherwise are not passed over.
    private static void Times(ChannelFill fill, AxisHeader axis, long[] times, List<TimeAxis> axes, string place)
    {
        for (int i = 0; i < times.Length; i++)
        {
            int row = fill.Rows + i;
            long? told = axis switch
            {
                AxisHeader.Even even => even.First.Milliseconds + even.Rate.MillisecondsAt(row),
                AxisHeader.Same same when row < axes[same.Channel].Count => axes[same.Channel].TimeAt(row).Milliseconds,
                _ => null,
            };
            if (axis is AxisHeader.Uneven) fill.AddTime(times[i]);
            else if (told != times[i])
                throw new UnreadableFileException($"row {row + 1} at {times[i]} ms", told is null ? "no further row" : $"{told} ms, as its axis says", place, "the file is damaged, or was changed");
        }
    }

    // A double nearest to a decimal of six places gives that decimal back.
    private static int MicroOf(double value, string place)
    {
        double micro = Math.Round(value * 1e6);
        return Math.Abs(micro) <= int.MaxValue && micro / 1e6 == value
            ? (int)micro
            : throw new UnreadableFileException($"the value {value:R}", "at most six decimals, within ±2147.483647", place, "the file was changed");
    }
}
