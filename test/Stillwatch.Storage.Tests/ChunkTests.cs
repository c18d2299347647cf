using CsCheck;
using Stillwatch.Signals;
using Stillwatch.Storage.Samples;
using Stillwatch.Storage.Sql;
using Stillwatch.Storage.Tests.Inputs;
using Stillwatch.Time;

namespace Stillwatch.Storage.Tests;

/// <summary>What is inside a chunk: back as it was, small, and never more than it says.</summary>
public class ChunkTests
{
    private static readonly Gen<int[]> Samples = Gen.OneOf(
        Gen.Int[-300, 300].Array[0, 200], Gen.Int.Array[0, 50], Gen.Int[-32_767, 32_767].Select(h => h * 10_000).Array[0, 200],
        Gen.Int[0, 5].Select(i => new[] { ValueColumn.Missing, int.MinValue + 1, int.MaxValue, short.MinValue, short.MaxValue, 0 }[i]).Array[0, 200]);

    [Fact]
    public void Any_samples_come_back_as_they_were() => Samples.Sample(samples =>
    {
        byte[] bytes = new byte[SampleCodec.MostBytes];
        int length = SampleCodec.Write(samples, bytes);
        int[] back = new int[samples.Length];
        SampleCodec.Read(bytes.AsSpan(0, length), back);
        Assert.Equal(samples, back);
    });

    [Fact]
    public void Any_bytes_give_samples_or_are_refused_and_nothing_else_happens() => Gen.Select(Gen.Byte.Array[0, 100], Gen.Int[0, 60]).Sample((bytes, count) =>
    {
        Refused(() => SampleCodec.Read(bytes, new int[count]));
        Refused(() => TimeCodec.Read(bytes, 0, new long[count]));
        Refused(() => PyramidCodec.Read(bytes, count));
        Refused(() => Assert.Equal(count, AnnotationCodec.Read(bytes, count).Count()));
        using var packing = new Packing();
        Refused(() => packing.Unpack(bytes, 1000));
    });

    [Fact]
    public void A_chunk_that_says_it_holds_more_than_any_chunk_takes_no_memory()
    {
        using var packing = new Packing();
        byte[] packed = packing.Pack(new byte[2000]);
        Assert.Throws<InvalidDataException>(() => packing.Unpack(packed, 1999));
        packed[3] = 0x7F;
        Assert.Throws<InvalidDataException>(() => packing.Unpack(packed, 4000));
    }

    [Fact]
    public void An_annotation_of_no_known_origin_is_refused()
    {
        var bytes = new List<byte>();
        AnnotationCodec.Write(new Annotation(default, default, "x", (AnnotationOrigin)99), bytes);
        Assert.Throws<InvalidDataException>(() => AnnotationCodec.Read([.. bytes], 1).ToList());
    }

    [Fact]
    public void More_annotations_than_a_chunk_ever_holds_are_refused_before_they_are_made()
    {
        // Four bytes each: a chunk of the permitted length would become gigabytes of annotations.
        byte[] bytes = new byte[4 * (AnnotationCodec.MostAnnotations + 1)];
        var made = 0;
        Assert.Throws<InvalidDataException>(() =>
        {
            foreach (var _ in AnnotationCodec.Read(bytes, AnnotationCodec.MostAnnotations + 1)) made++;
        });
        Assert.Equal(0, made);
    }

    [Fact]
    public void A_night_of_SpO2_takes_less_than_a_byte_a_row()
    {
        var random = new Random(11);
        int level = 96;
        int[] samples = [.. Enumerable.Range(0, TimeAxis.ChunkLength).Select(_ => (level = Math.Clamp(level + (random.Next(6) == 0 ? random.Next(-1, 2) : 0), 85, 100)) * 1_000_000)];
        byte[] bytes = new byte[SampleCodec.MostBytes];
        int length = SampleCodec.Write(samples, bytes);
        Assert.Equal(1 + 2 * samples.Length, length);
        using var packing = new Packing();
        Assert.InRange(packing.Pack(bytes.AsSpan(0, length)).Length, 1, samples.Length / 2);
    }

    [Fact]
    public void Any_text_comes_back_as_it_was_and_plain_text_stands_as_it_is()
    {
        Gen.String.Sample(text =>
        {
            string stored = StoredText.Of(text);
            Assert.DoesNotContain('\0', stored);
            Assert.Equal(stored, System.Text.Encoding.UTF8.GetString(System.Text.Encoding.UTF8.GetBytes(stored)));
            Assert.Equal(text, StoredText.Back(stored));
        });
        Assert.Equal("SpO2 97 %, Ärztin", StoredText.Of("SpO2 97 %, Ärztin"));
        foreach (string wrong in new[] { @"a\", @"a\x", @"a\u12", @"\u12G4" }) Assert.Throws<FormatException>(() => StoredText.Back(wrong));
    }

    // A column takes at most 64 entries or steps, but for the coarsest level, which has at most 64 entries in all and those of one step more.
    [Fact]
    public void No_window_reads_more_than_64_entries_a_column() => Gen.Select(DrawnRecordings.Axis, Gen.Double[0, 1], Gen.Int[1, 2000]).Sample((axis, share, columns) =>
    {
        if (axis.Count == 0) return;
        var shape = PyramidShape.Of(axis);
        long window = 1 + (long)(axis.Span.Milliseconds * share * share * share);
        int level = shape.LevelFor(window, columns);
        if (level == 0)
        {
            Assert.True(shape.Levels == 0 ? axis.Count <= PyramidShape.Factor : window / columns < shape.EntryMilliseconds);
            return;
        }

        long entries = Math.Min(window, axis.Span.Milliseconds) / shape.WidthOf(level) + 2;
        Assert.True(entries <= Math.Max(columns * (long)PyramidShape.Factor + PyramidShape.Factor, PyramidShape.Factor + 2), $"{entries} entries for {columns} columns");
        Assert.True(shape.WidthOf(level) <= window / columns);
    });

    [Fact]
    public void The_pyramid_grows_with_the_samples_by_a_sixty_third_at_most()
    {
        const int Rows = 600_000;
        var shape = PyramidShape.Of(TimeAxis.Even(default, new Duration(8), Rows));
        var builder = new PyramidBuilder(shape, 0);
        builder.Add([.. Enumerable.Range(0, Rows).Select(i => i * 8L)], [.. Enumerable.Range(0, Rows).Select(i => i % 1000)]);
        var chunks = builder.TakeFinished().Concat(builder.Finish()).ToList();
        Assert.Equal([Rows / 64, 147, 3], chunks.GroupBy(c => c.Level).OrderBy(g => g.Key).Select(g => g.Sum(c => c.Entries.Count)));
        Assert.All(chunks.GroupBy(c => c.Level), level => Assert.Equal(Rows, level.Sum(c => c.Entries.Sum(e => e.Rows))));
        Assert.All(chunks, c => Assert.InRange(c.Entries.Count, 1, PyramidCodec.MostEntries));
    }

    private static void Refused(Action read)
    {
        var e = Record.Exception(read);
        Assert.True(e is null or InvalidDataException, e?.ToString());
    }
}
