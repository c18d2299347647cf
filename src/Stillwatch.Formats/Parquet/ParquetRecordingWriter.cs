using System.Buffers.Binary;
using System.IO.Compression;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using Stillwatch.Formats.Json;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Formats.Parquet;

/// <summary>
/// Writes a recording as Apache Parquet: a row for each row of each channel (channel_number, channel, time_ms, value, count), and all else
/// as <c>stillwatch.recording/1</c> in the file's metadata.
/// </summary>
/// <remarks>Apache Parquet format 2 (parquet.thrift, Encodings.md): data pages of version 1, plain values, levels in runs, gzip.</remarks>
public sealed class ParquetRecordingWriter : IRecordingWriter
{
    public string Format => "Apache Parquet";

    public string Extension => ".parquet";

    public IReadOnlyList<ReadIssue> Write(Recording recording, Stream to)
    {
        var file = new FileWriter(to);
        for (int c = 0; c < recording.Channels.Count; c++) file.Channel(c + 1, recording.Channels[c]);
        file.Finish(recording);
        return [];
    }

    private sealed record ColumnChunk(long Dictionary, long Data, long Uncompressed, long Compressed);

    private sealed record RowGroup(int Rows, IReadOnlyList<ColumnChunk> Columns);

    private sealed class FileWriter
    {
        private readonly Stream to;
        private readonly List<RowGroup> groups = [];
        private long position;

        public FileWriter(Stream to)
        {
            this.to = to;
            Write(ParquetLayout.Magic);
        }

        public void Channel(int number, Channel channel)
        {
            var times = new long[ParquetLayout.RowsPerGroup];
            var samples = new int[ParquetLayout.RowsPerGroup];
            int rows = 0;
            for (int c = 0; c < channel.Times.ChunkCount; c++)
            {
                int length = channel.Times.CopyChunk(c, times.AsSpan(rows));
                if (channel.Counts is { } counts) counts.CopyChunk(c, samples.AsSpan(rows));
                else channel.Values.CopyChunk(c, samples.AsSpan(rows));
                rows += length;
                if (rows + TimeAxis.ChunkLength <= ParquetLayout.RowsPerGroup && c + 1 < channel.Times.ChunkCount) continue;
                Group(number, channel, times.AsSpan(0, rows), samples.AsSpan(0, rows));
                rows = 0;
            }
        }

        public void Finish(Recording recording)
        {
            var footer = new CompactThriftWriter();
            footer.Element(() =>
            {
                footer.I32(1, 2);
                Schema(footer);
                footer.I64(3, groups.Sum(g => (long)g.Rows));
                footer.List(4, ThriftType.Struct, groups.Count);
                foreach (var group in groups) footer.Element(() => Describe(footer, group));
                footer.List(5, ThriftType.Struct, 1);
                footer.Element(() =>
                {
                    footer.Text(1, ParquetLayout.MetadataKey);
                    footer.Text(2, Header(recording));
                });
                footer.Text(6, "Stillwatch");
            });
            Write(footer.Written);
            Span<byte> length = stackalloc byte[4];
            BinaryPrimitives.WriteInt32LittleEndian(length, footer.Written.Length);
            Write(length);
            Write(ParquetLayout.Magic);
        }

        private static string Header(Recording recording)
        {
            using var text = new MemoryStream();
            using (var json = new Utf8JsonWriter(text, new JsonWriterOptions { Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping }))
            {
                json.WriteStartObject();
                json.WriteString("format", RecordingFields.Format);
                RecordingHeaderWriter.Write(json, recording);
                json.WriteEndObject();
            }

            return Encoding.UTF8.GetString(text.GetBuffer(), 0, (int)text.Length);
        }

        private static void Schema(CompactThriftWriter footer)
        {
            footer.List(2, ThriftType.Struct, ParquetLayout.Columns.Count + 1);
            footer.Element(() =>
            {
                footer.Text(4, "schema");
                footer.I32(5, ParquetLayout.Columns.Count);
            });
            foreach (var column in ParquetLayout.Columns)
            {
                footer.Element(() =>
                {
                    footer.I32(1, column.Type);
                    footer.I32(3, column.IsOptional ? 1 : 0);
                    footer.Text(4, column.Name);
                    if (column.Type == ParquetLayout.ByteArray) footer.I32(6, 0); // UTF8
                });
            }
        }

        private static void Describe(CompactThriftWriter footer, RowGroup group)
        {
            footer.List(1, ThriftType.Struct, group.Columns.Count);
            for (int c = 0; c < group.Columns.Count; c++)
            {
                var (chunk, column) = (group.Columns[c], ParquetLayout.Columns[c]);
                footer.Element(() =>
                {
                    footer.I64(2, column.IsConstant ? chunk.Dictionary : chunk.Data);
                    footer.Struct(3, () =>
                    {
                        footer.I32(1, column.Type);
                        int[] encodings = column.IsConstant ? [ParquetLayout.Plain, ParquetLayout.RleDictionary] : [ParquetLayout.Plain, ParquetLayout.Rle];
                        footer.List(2, ThriftType.I32, encodings.Length);
                        foreach (int encoding in encodings) footer.ZigZag(encoding);
                        footer.List(3, ThriftType.Binary, 1);
                        footer.Binary(Encoding.UTF8.GetBytes(column.Name));
                        footer.I32(4, ParquetLayout.Gzip);
                        footer.I64(5, group.Rows);
                        footer.I64(6, chunk.Uncompressed);
                        footer.I64(7, chunk.Compressed);
                        footer.I64(9, chunk.Data);
                        if (column.IsConstant) footer.I64(11, chunk.Dictionary);
                    });
                });
            }

            footer.I64(2, group.Columns.Sum(c => c.Uncompressed));
            footer.I64(3, group.Rows);
        }

        private void Group(int number, Channel channel, ReadOnlySpan<long> times, ReadOnlySpan<int> samples)
        {
            byte[] numberBytes = new byte[4];
            BinaryPrimitives.WriteInt32LittleEndian(numberBytes, number);
            byte[] label = Encoding.UTF8.GetBytes(channel.Label);
            byte[] labelBytes = [0, 0, 0, 0, .. label];
            BinaryPrimitives.WriteInt32LittleEndian(labelBytes, label.Length);
            var columns = new List<ColumnChunk> { Constant(numberBytes, times.Length), Constant(labelBytes, times.Length) };

            byte[] timeBytes = new byte[times.Length * 8];
            for (int i = 0; i < times.Length; i++) BinaryPrimitives.WriteInt64LittleEndian(timeBytes.AsSpan(i * 8), times[i]);
            columns.Add(Plain(timeBytes, times.Length));

            columns.Add(Plain(Optional(samples, hasAny: true, 8, (sample, to) => BinaryPrimitives.WriteDoubleLittleEndian(to, channel.Counts is { } counts ? counts.Calibration.ValueOf(sample) : sample / 1e6)), times.Length));
            columns.Add(Plain(Optional(samples, hasAny: channel.Counts is not null, 4, (sample, to) => BinaryPrimitives.WriteInt32LittleEndian(to, sample)), times.Length));
            groups.Add(new RowGroup(times.Length, columns));
        }

        private delegate void PutSample(int sample, Span<byte> to);

        // Levels (1: a value) in runs, their length before them, then the values that are there.
        private static byte[] Optional(ReadOnlySpan<int> samples, bool hasAny, int width, PutSample put)
        {
            var page = new MemoryStream();
            page.Write([0, 0, 0, 0]);
            for (int from = 0; from < samples.Length;)
            {
                bool present = hasAny && samples[from] != ValueColumn.Missing;
                int to = from + 1;
                while (to < samples.Length && (hasAny && samples[to] != ValueColumn.Missing) == present) to++;
                PutRun(page, to - from, present ? 1 : 0);
                from = to;
            }

            int levels = (int)page.Length - 4;
            Span<byte> bytes = stackalloc byte[8];
            foreach (int sample in samples)
            {
                if (!hasAny || sample == ValueColumn.Missing) continue;
                put(sample, bytes);
                page.Write(bytes[..width]);
            }

            byte[] whole = page.ToArray();
            BinaryPrimitives.WriteInt32LittleEndian(whole, levels);
            return whole;
        }

        private static void PutRun(MemoryStream page, int length, int value)
        {
            uint head = (uint)length << 1;
            for (; head >= 0x80; head >>= 7) page.WriteByte((byte)(head & 0x7F | 0x80));
            page.WriteByte((byte)head);
            page.WriteByte((byte)value);
        }

        private ColumnChunk Constant(byte[] value, int rows)
        {
            long dictionary = position;
            long uncompressed = Page(value, header =>
            {
                header.I32(1, ParquetLayout.DictionaryPage);
                return () => header.Struct(7, () =>
                {
                    header.I32(1, 1);
                    header.I32(2, ParquetLayout.Plain);
                });
            });
            long data = position;
            var indices = new MemoryStream();
            indices.WriteByte(1); // bits of an index
            PutRun(indices, rows, 0);
            uncompressed += Page(indices.ToArray(), header => DataHeader(header, rows, ParquetLayout.RleDictionary));
            return new ColumnChunk(dictionary, data, uncompressed, position - dictionary);
        }

        private ColumnChunk Plain(byte[] content, int rows)
        {
            long data = position;
            long uncompressed = Page(content, header => DataHeader(header, rows, ParquetLayout.Plain));
            return new ColumnChunk(0, data, uncompressed, position - data);
        }

        private static Action DataHeader(CompactThriftWriter header, int rows, int encoding)
        {
            header.I32(1, ParquetLayout.DataPage);
            return () => header.Struct(5, () =>
            {
                header.I32(1, rows);
                header.I32(2, encoding);
                header.I32(3, ParquetLayout.Rle);
                header.I32(4, ParquetLayout.Rle);
            });
        }

        /// <summary>Writes a page, its header first, and returns its length before compression, header included.</summary>
        private long Page(byte[] content, Func<CompactThriftWriter, Action> kind)
        {
            using var packed = new MemoryStream();
            using (var gzip = new GZipStream(packed, CompressionLevel.Optimal, leaveOpen: true)) gzip.Write(content);
            var header = new CompactThriftWriter();
            header.Element(() =>
            {
                var rest = kind(header);
                header.I32(2, content.Length);
                header.I32(3, (int)packed.Length);
                rest();
            });
            Write(header.Written);
            Write(packed.GetBuffer().AsSpan(0, (int)packed.Length));
            return header.Written.Length + content.Length;
        }

        private void Write(ReadOnlySpan<byte> bytes)
        {
            to.Write(bytes);
            position += bytes.Length;
        }
    }
}
