using System.Text.Json;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Formats.Json;

/// <summary>Reads a recording in JSON, <c>stillwatch.recording/1</c>: strictly, as a stream, every count checked against what is there.</summary>
public sealed class JsonRecordingReader : IRecordingReader
{
    public string Formats => "JSON (stillwatch.recording/1)";

    public IReadOnlyList<string> Extensions => [".json"];

    /// <summary>Takes any JSON object, to say what it is when it is no recording.</summary>
    public bool Recognises(ReadOnlySpan<byte> head, string name)
    {
        var text = WithoutMark(head).TrimStart(" \t\r\n"u8);
        if (text.Length == 0 || text[0] != (byte)'{') return false;
        text = text[1..].TrimStart(" \t\r\n"u8);
        return text.Length > 0 && text[0] is (byte)'"' or (byte)'}';
    }

    /// <summary>Whether a file that ends in .json is a recording, by its first bytes: settings, marks and manifests lie in the same folders.</summary>
    public static bool IsRecording(ReadOnlySpan<byte> head) => head.IndexOf("\"stillwatch.recording/1\""u8) >= 0;

    public ReadResult Read(RecordingSource source, ReadOptions options)
    {
        using var stream = source.Open();
        var json = new JsonPull(stream, source.Name, options.Progress);
        var issues = new IssueLog();
        var stated = new StatedChannels(source.Name, options, issues);
        var document = new Document(json, stated);
        json.Read();
        json.Object("a recording", document.Field);
        if (json.TryRead()) throw json.Wrong("something after the end of the document", "nothing", "two files were joined");
        var recording = stated.Finish(document.Header(), document.Channels);
        return new ReadResult(recording, issues.ToList(), "JSON, stillwatch.recording/1");
    }

    private static ReadOnlySpan<byte> WithoutMark(ReadOnlySpan<byte> head) => head.StartsWith("\uFEFF"u8) ? head[3..] : head;

    private sealed class Document
    {
        private readonly JsonPull json;
        private readonly StatedChannels stated;
        private readonly RecordingHeaderReader header;
        private readonly List<TimeAxis> axes = [];
        private ChannelFill fill;
        private bool hasFormat;
        private bool hasSamples;

        public Document(JsonPull json, StatedChannels stated)
        {
            this.json = json;
            this.stated = stated;
            fill = NewFill();
            header = new RecordingHeaderReader(json) { MoreOfChannel = Samples, ChannelDone = Finish };
        }

        public List<Channel> Channels { get; } = [];

        public RecordingHeader Header() => hasFormat ? header.Build() : throw json.Wrong("no field \"format\"", $"\"{RecordingFields.Format}\"", "the file is no recording");

        public bool Field(string name)
        {
            if (name == "format")
            {
                string format = json.String(name);
                if (format != RecordingFields.Format)
                    throw json.Wrong(IssueLog.Show(format), $"\"{RecordingFields.Format}\"", format.StartsWith("stillwatch.", StringComparison.Ordinal) ? "a side file was given in place of a recording" : "the file is no recording");
                return hasFormat = true;
            }

            return header.Field(name);
        }

        private ChannelFill NewFill() => new((found, expected) => json.Wrong(found, expected, "the file was cut off, or changed by hand"));

        private bool Samples(string name, ChannelKind? kind)
        {
            fill.IsHeld = stated.IsHeld(kind);
            switch (name)
            {
                case "times":
                    json.List(name, () => fill.AddTime(json.Whole("a time", -RecordingFields.MostMilliseconds, RecordingFields.MostMilliseconds)));
                    return true;
                case "values" when !hasSamples:
                    hasSamples = true;
                    json.List(name, () => fill.AddValue(json.Token == JsonTokenType.Null ? ValueColumn.Missing : fill.MicroOf(json.Decimal("a value"))));
                    return true;
                case "counts" when !hasSamples:
                    hasSamples = true;
                    json.List(name, () => fill.AddCount(json.Token == JsonTokenType.Null ? CountColumn.Missing : (int)json.Whole("a count", int.MinValue + 1, int.MaxValue)));
                    return true;
                default:
                    return false;
            }
        }

        private void Finish(ChannelHeader channel)
        {
            if (!hasSamples) throw json.Wrong($"channel {IssueLog.Show(channel.Label)} without values", "\"values\" or \"counts\"", "the file was changed by hand");
            var axis = fill.Axis(channel, axes);
            axes.Add(axis);
            if (stated.IsHeld(channel.Kind)) Channels.Add(fill.Build(channel, axis));
            fill = NewFill();
            hasSamples = false;
        }
    }
}
