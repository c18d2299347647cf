using System.Text.Encodings.Web;
using System.Text.Json;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Formats.Json;

/// <summary>Writes a recording as one JSON document, <c>stillwatch.recording/1</c>, which holds everything (docs/files.md).</summary>
public sealed class JsonRecordingWriter : IRecordingWriter
{
    public string Format => "JSON (stillwatch.recording/1)";

    public string Extension => ".json";

    public IReadOnlyList<ReadIssue> Write(Recording recording, Stream to)
    {
        using (var json = new Utf8JsonWriter(to, new JsonWriterOptions { Indented = false, Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping }))
        {
            json.WriteStartObject();
            json.WriteString("format", RecordingFields.Format);
            RecordingHeaderWriter.Write(json, recording, (c, axis) =>
            {
                if (axis is AxisHeader.Uneven) Times(json, recording.Channels[c].Times);
                Samples(json, recording.Channels[c]);
            });
            json.WriteEndObject();
        }

        to.WriteByte((byte)'\n');
        return [];
    }

    private static void Times(Utf8JsonWriter json, TimeAxis times)
    {
        var chunk = new long[TimeAxis.ChunkLength];
        json.WriteStartArray("times");
        for (int c = 0; c < times.ChunkCount; c++)
        {
            int length = times.CopyChunk(c, chunk);
            for (int i = 0; i < length; i++) json.WriteNumberValue(chunk[i]);
            json.Flush();
        }

        json.WriteEndArray();
    }

    private static void Samples(Utf8JsonWriter json, Channel channel)
    {
        var chunk = new int[TimeAxis.ChunkLength];
        bool isCounts = channel.Counts is not null;
        json.WriteStartArray(isCounts ? "counts" : "values");
        for (int c = 0; c < channel.Times.ChunkCount; c++)
        {
            int length = channel.Counts is { } counts ? counts.CopyChunk(c, chunk) : channel.Values.CopyChunk(c, chunk);
            foreach (int sample in chunk.AsSpan(0, length))
            {
                // Missing is the same number in both kinds of column.
                if (sample == ValueColumn.Missing) json.WriteNullValue();
                else if (isCounts) json.WriteNumberValue(sample);
                else if (sample % 1_000_000 == 0) json.WriteNumberValue(sample / 1_000_000);
                else json.WriteNumberValue(Shortest(sample));
            }

            json.Flush();
        }

        json.WriteEndArray();
    }

    // 97.5, not 97.500000.
    private static decimal Shortest(int micro)
    {
        byte scale = 6;
        for (; scale > 0 && micro % 10 == 0; scale--) micro /= 10;
        return new decimal(Math.Abs(micro), 0, 0, micro < 0, scale);
    }
}
