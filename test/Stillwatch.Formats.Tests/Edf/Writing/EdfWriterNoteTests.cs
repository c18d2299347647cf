using Stillwatch.Formats.Edf.Writing;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Formats.Tests.Edf.Writing;

/// <summary>Notes as time-stamped annotation lists; EDF+ specification, 2.2.2.</summary>
public class EdfWriterNoteTests
{
    [Theory]
    // origin, text, text in the file
    [InlineData(AnnotationOrigin.Source, "artefact?", "artefact?")]
    [InlineData(AnnotationOrigin.Event, "SpO2 88 % for 70 s", "[event] SpO2 88 % for 70 s")]
    [InlineData(AnnotationOrigin.ReplayedSignal, "SpO2 low", "[signal] SpO2 low")]
    [InlineData(AnnotationOrigin.ReviewMark, "significant", "[mark] significant")]
    [InlineData(AnnotationOrigin.Derived, "no numbers: motion", "[derived] no numbers: motion")]
    [InlineData(AnnotationOrigin.Source, "[event] of the monitor's own", "[source] [event] of the monitor's own")]
    [InlineData(AnnotationOrigin.Source, "[source] x", "[source] [source] x")]
    [InlineData(AnnotationOrigin.Source, "[else] x", "[else] x")]
    [InlineData(AnnotationOrigin.Source, "", "[source] ")]
    [InlineData(AnnotationOrigin.Source, "a\ttab, a\nline and SpO₂ 🌙", "a\ttab, a\nline and SpO₂ 🌙")]
    public void A_note_says_whose_it_is_so_that_ours_is_never_taken_for_the_sources(AnnotationOrigin origin, string text, string written)
    {
        var (file, issues) = Write(new Annotation(new SampleTime(500), Duration.Zero, text, origin));
        Assert.Equal((0.5m, null, written), file.Notes.Single());
        Assert.Empty(issues);
    }

    [Theory]
    [InlineData("a\u0014b", "a␔b")]
    [InlineData("a\u0015b\0c", "a␕b␀c")]
    public void Characters_that_the_format_keeps_for_itself_are_replaced_and_listed(string text, string written)
    {
        var (file, issues) = Write(new Annotation(default, Duration.Zero, text));
        Assert.Equal(written, file.Notes.Single().Text);
        Assert.Equal(WriteIssueCodes.Text, Assert.Single(issues).Code);
    }

    [Fact]
    public void Half_a_character_is_replaced_and_listed()
    {
        var (file, issues) = Write(new Annotation(default, Duration.Zero, "half \uD83C moon"));
        Assert.Equal("half \uFFFD moon", file.Notes.Single().Text);
        Assert.Equal(WriteIssueCodes.Text, Assert.Single(issues).Code);
    }

    [Fact]
    public void A_length_of_zero_is_left_out_and_one_below_zero_is_listed()
    {
        var (file, issues) = Write(new Annotation(default, new Duration(1500), "a"), new Annotation(default, Duration.Zero, "b"), new Annotation(default, new Duration(-1), "c"));
        Assert.Equal([1.5m, null, null], file.Notes.Select(n => n.Duration));
        Assert.Equal(WriteIssueCodes.Length, Assert.Single(issues).Code);
    }

    [Fact]
    public void Many_notes_at_one_moment_are_spread_over_the_records_before_it()
    {
        // A thousand notes in the last second of an hour: a signal long enough for all of them would have some 7000 samples in each of the 60 records.
        var notes = Enumerable.Range(0, 1000).Select(i => new Annotation(new SampleTime(3_599_000), Duration.Zero, $"note {i}")).ToArray();
        var spo2 = Written.SpO2([.. Enumerable.Repeat<decimal?>(97, 3600)]);
        var (file, issues) = Written.Edf(Written.Of(spo2) with { Annotations = notes });
        Assert.Equal(notes.Select(n => n.Text), file.Notes.Select(n => n.Text));
        Assert.True(file.Signals[^1].PerRecord < 300, $"{file.Signals[^1].PerRecord} samples of notes in every record");
        Assert.Empty(issues);
    }

    [Fact]
    public void Notes_before_and_after_the_samples_are_kept()
    {
        var (file, issues) = Write(new Annotation(new SampleTime(-90_000), Duration.Zero, "before"), new Annotation(new SampleTime(9_000_000), Duration.Zero, "after"));
        Assert.Equal([(-90m, null, "before"), (9000m, null, "after")], file.Notes);
        Assert.Empty(issues);
    }

    [Fact]
    public void A_recording_of_notes_alone_is_a_file()
    {
        var (file, _) = Written.Edf(Written.Of() with { Annotations = [new Annotation(new SampleTime(60_000), Duration.Zero, "alone")] });
        Assert.Equal("alone", file.Notes.Single().Text);
        Assert.Equal(1, file.RecordCount);
    }

    private static (PlainEdf File, IReadOnlyList<ReadIssue> Issues) Write(params Annotation[] notes) => Written.Edf(Written.Of(Written.SpO2(97, 96, 95)) with { Annotations = notes });
}
