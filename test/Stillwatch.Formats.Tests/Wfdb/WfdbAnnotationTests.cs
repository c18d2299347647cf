using CsCheck;
using Stillwatch.Formats.Wfdb;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Formats.Tests.Wfdb;

/// <summary>Annotation files in MIT format (annot(5)).</summary>
public class WfdbAnnotationTests
{
    [Fact]
    public void Every_field_of_an_annotation_is_read()
    {
        byte[] bytes =
        [
            .. Word(1, 10), .. Word(61, 0xFF), .. Word(62, 2), .. Word(60, 7), .. Word(63, 3), .. "(AF"u8, 0, // N at 10: sub type -1, channel 2, number 7, text
            .. Word(5, 20), // V at 30: channel and number stay, the sub type does not
            .. Word(59, 0), 1, 0, 2, 0, .. Word(22, 5), .. Word(60, 0x80), // 65 538 + 5 later: a comment with number -128
            .. Word(59, 0), 0xFF, 0xFF, 0xFF, 0xFF, .. Word(43, 0), // one back: a type of the user's
            0, 0,
        ];
        var read = Read(bytes);
        Assert.Equal(
        [
            new WfdbAnnotation(10, 1, "N", -1, 2, 7, "(AF"),
            new WfdbAnnotation(30, 5, "V", 0, 2, 7, null),
            new WfdbAnnotation(65_573, 22, "\"", 0, 2, -128, null),
            new WfdbAnnotation(65_572, 43, "[43]", 0, 2, -128, null),
        ], read.Items);
        Assert.Empty(read.Issues);
    }

    [Fact]
    public void A_file_may_define_symbols_and_the_resolution_of_its_times()
    {
        var read = Read(MadeRecord.Annotations(
            (0, 22, "## time resolution: 1000"), (0, 22, "## annotation type definitions"), (0, 22, "42 c calibration pulse\n"), (0, 22, "## end of definitions"), (1500, 42, null), (1, 1, null)));
        Assert.Equal(1000m, read.TicksPerSecond);
        Assert.Equal([new WfdbAnnotation(1500, 42, "c", 0, 0, 0, null), new WfdbAnnotation(1501, 1, "N", 0, 0, 0, null)], read.Items);
    }

    [Fact]
    public void Any_annotations_come_back_as_they_were_written()
    {
        Gen.Select(Gen.Int[-100_000, 100_000], Gen.Int[1, 49], Gen.String[Gen.Char.AlphaNumeric, 0, 20]).Array[0, 30].Sample(items =>
        {
            var read = Read(MadeRecord.Annotations([.. items.Select(i => (i.Item1, i.Item2, i.Item3.Length == 0 ? null : i.Item3))]));
            Assert.Empty(read.Issues);
            long tick = 0;
            Assert.Equal(items.Select(i => (tick += i.Item1, i.Item2, i.Item3.Length == 0 ? null : i.Item3)), read.Items.Select(a => (a.Tick, a.Code, a.Text)));
        });
    }

    [Fact]
    public void A_file_cut_off_anywhere_keeps_what_came_before_and_says_so()
    {
        byte[] whole = MadeRecord.Annotations((5, 1, "one"), (2000, 22, "two words"), (3, 5, null));
        for (int length = 0; length < whole.Length; length++)
        {
            var read = Read(whole[..length]);
            Assert.InRange(read.Items.Count, 0, 3);
            Assert.Single(read.Issues, i => i.Severity == IssueSeverity.Doubt && i.Code == WfdbIssueCodes.AnnotationUnreadable);
        }

        Assert.Empty(Read(whole).Issues);
    }

    // what | words: type, value | what is listed
    [Theory]
    [InlineData("bytes after the end mark", new[] { 1, 5, 0, 0, 1, 5 }, "bytes after the end mark")]
    [InlineData("a text before the first annotation", new[] { 63, 0, 1, 5, 0, 0 }, "a text before the first annotation")]
    [InlineData("a sub type before the first annotation", new[] { 61, 1, 1, 5, 0, 0 }, "a sub type before the first annotation")]
    [InlineData("a time without a type", new[] { 0, 9, 1, 5, 0, 0 }, "type 0 with a time")]
    public void What_has_no_meaning_is_listed(string what, int[] words, string listed)
    {
        var read = Read([.. words.Chunk(2).SelectMany(w => Word(w[0], w[1]))]);
        Assert.True(read.Issues.Any(i => i.Found == listed), what);
        Assert.Equal(1, read.Items[0].Code);
    }

    [Fact]
    public void A_file_in_AHA_format_is_refused_in_plain_words_and_listed_beside_a_record()
    {
        byte[] aha = [.. Enumerable.Range(1, 3).SelectMany(i => new byte[] { 0, (byte)'N', 0, 0, (byte)(100 * i % 256), 0, (byte)i, 0, 0, 0, 0, 0, 0, 0, 0, 0 })];
        Assert.Contains("AHA", Assert.Throws<UnreadableFileException>(() => Read(aha)).Found, StringComparison.Ordinal);
        var result = Night(aha);
        Assert.Empty(result.Recording!.Annotations);
        Assert.Equal(IssueSeverity.Failure, result.Issue(WfdbIssueCodes.AnnotationUnreadable).Severity);
    }

    [Fact]
    public void A_recording_takes_the_text_where_there_is_one_and_else_the_symbol_in_time_order()
    {
        var result = Night(MadeRecord.Annotations((1, 1, null), (3, 28, "(N"), (-2, 14, null)));
        Assert.Equal([new(new SampleTime(500), Duration.Zero, "N"), new(new SampleTime(1000), Duration.Zero, "~"), new Annotation(new SampleTime(2000), Duration.Zero, "(N")], result.Recording!.Annotations);
        Assert.Equal(IssueSeverity.Note, result.Issue(WfdbIssueCodes.AnnotationOrder).Severity);
    }

    [Fact]
    public void Times_in_the_files_own_resolution_come_out_in_seconds()
    {
        var result = Night(MadeRecord.Annotations((0, 22, "## time resolution: 1000"), (1234, 1, null)));
        Assert.Equal(1234, Assert.Single(result.Recording!.Annotations).Time.Milliseconds);
    }

    [Fact]
    public void A_time_before_the_record_or_beyond_a_century_is_left_out_and_listed()
    {
        byte[] far = [.. Enumerable.Repeat<byte[]>([.. Word(59, 0), 0xFF, 0x7F, 0xFF, 0xFF], 9).SelectMany(b => b), .. Word(1, 0), 0, 0];
        Assert.Single(Night(far).Issues, i => i.Code == WfdbIssueCodes.AnnotationTime);
        Assert.Single(Night(MadeRecord.Annotations((-5, 1, null), (6, 5, null))).Recording!.Annotations);
    }

    private static WfdbAnnotations Read(byte[] bytes) => WfdbAnnotationReader.Read(RecordingSource.Of("night.atr", bytes));

    private static ReadResult Night(byte[] annotations) => new MadeRecord().With("night.hea", "night 1 2 3\nnight.dat 16 10/% 12 0 970 2880 0 SpO2\n").With("night.dat", 16, 970, 960, 950).With("night.atr", annotations).Read("night.hea");

    private static byte[] Word(int code, int value) => MadeRecord.Word(code << 10 | value);
}
