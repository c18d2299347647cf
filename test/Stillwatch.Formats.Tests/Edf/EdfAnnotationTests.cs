using System.Text;
using Stillwatch.Formats.Edf;
using Stillwatch.Formats.Tests.Csv;
using Stillwatch.Signals;

namespace Stillwatch.Formats.Tests.Edf;

/// <summary>
/// Annotations as EDF+ writes them, in text: <c>;</c> stands for byte 21 before a duration, <c>|</c> for byte 20 before and behind a text,
/// <c>_</c> for byte 0 at the end of a list. EDF+ specification at edfplus.info/specs, 2.2.2 and 2.2.3.
/// </summary>
public class EdfAnnotationTests
{
    private const string Table = """
        # bytes of record 1              | notes: start, length in ms, text           | listed
        +0||_+1.5|turned|_               | 1500 0 turned                              |
        +0||_+1.5;2.25|turned|_          | 1500 2250 turned                           |
        +0||_+1|one|two|_                | 1000 0 one, 1000 0 two                     |
        +0||_+2|later|_+1|sooner|_       | 1000 0 sooner, 2000 0 later                |
        +0||_+1|||_                      |                                            |
        +0||began|_                      | 0 0 began                                  |
        +0||_-3|before|_                 | -3000 0 before                             |
        +0.5||_+1.75|a|_                 | 1250 0 a                                   |
        +0||_+9999|after the end|_       | 9999000 0 after the end                    |
        +0||_+1.0004|rounded|_           | 1000 0 rounded                             |
        +0||_+1.0005|rounded|_           | 1001 0 rounded                             |
        +0||_+1|Apnée ☃|_                | 1000 0 Apnée ☃                             |
        +0||_1|no sign|_                 | 1000 0 no sign                             | notes.malformed
        +0||_+1,5|comma|_                |                                            | notes.malformed
        +0||_+1e3|exponent|_             |                                            | notes.malformed
        +0||_+|nothing|_                 |                                            | notes.malformed
        +0||_ +1|blank|_                 |                                            | notes.malformed
        +0||_+99999999999|far|_          |                                            | notes.malformed
        +0||_+1;x|no length|_            | 1000 0 no length                           | notes.malformed
        +0||_+1;-2|less than none|_      | 1000 0 less than none                      | notes.malformed
        +0||_+1;2;3|twice|_              | 1000 0 twice                               | notes.malformed
        +0||_+1_                         |                                            | notes.malformed
        +0||_just text_                  |                                            | notes.malformed
        +0||_+1|not closed_              | 1000 0 not closed                          | notes.malformed
        +0||_+1|after zeros|___+2|b|_    | 1000 0 after zeros, 2000 0 b               |
        +0||_+1|[event] fall|_           | 1000 0 fall (Event)                        |
        +0||_+1|[signal] SpO2 low|_      | 1000 0 SpO2 low (ReplayedSignal)           |
        +0||_+1|[mark] artefact|_        | 1000 0 artefact (ReviewMark)               |
        +0||_+1|[source] [event] so said|_ | 1000 0 [event] so said                  |
        +0||_+1|[Event] fall|_           | 1000 0 [Event] fall                        |
        """;

    public static TheoryData<string> Lines => [.. Table.Split('\n').Select(l => l.Trim()).Where(l => l.Length > 0 && l[0] != '#')];

    [Theory]
    [MemberData(nameof(Lines))]
    public void Lists_as_they_stand(string line)
    {
        // The columns' own bars are those with a blank before them.
        string[] cells = [.. line.Split(" |").Select(c => c.Trim())];
        var result = Read(Bytes(cells[0]));
        string notes = string.Join(", ", result.Recording!.Annotations.Select(n => $"{n.Time.Milliseconds} {n.Length.Milliseconds} {n.Text.TrimEnd()}{(n.Origin == AnnotationOrigin.Source ? "" : $" ({n.Origin})")}"));
        Assert.Equal((cells[1], cells[2]), (notes, result.Codes()));
    }

    [Fact]
    public void Several_annotation_signals_are_read_and_the_first_keeps_the_time()
    {
        var file = new EdfFile
        {
            Reserved = "EDF+C",
            Signals = [EdfTestSignal.Notes(20, r => $"+{r}.25", r => [$"+{r}.25|first {r}"]), EdfTestSignal.SpO2, new EdfTestSignal("EDF Annotations", 20) { Tals = r => Bytes($"+{r}.75|second {r}|_") }],
        };
        var result = file.Read();
        Assert.Equal("", result.Codes());
        Assert.Equal(["first 0", "second 0", "first 1", "second 1", "first 2", "second 2", "first 3", "second 3"], result.Recording!.Annotations.Select(n => n.Text));
        Assert.Equal([0, 500, 1000, 1500, 2000, 2500, 3000, 3500], result.Recording.Annotations.Select(n => n.Time.Milliseconds));
    }

    [Fact]
    public void Text_that_is_no_UTF_8_is_read_as_Latin_1_and_listed()
    {
        var result = Read([.. Bytes("+0||_+1|"), .. Encoding.Latin1.GetBytes("Apn\u00e9e"), .. Bytes("|_")]);
        Assert.Equal(("Apn\u00e9e", "notes.text"), (Assert.Single(result.Recording!.Annotations).Text, result.Codes()));
    }

    [Fact]
    public void Control_characters_are_shown_as_a_dot_and_listed_but_tab_and_line_ends_stay()
    {
        var result = Read(Bytes("+0||_+1|a\u001b[31mb|_+2|c\td\r\n|_"));
        Assert.Equal(["a·[31mb", "c\td\r\n"], result.Recording!.Annotations.Select(n => n.Text));
        Assert.Equal("notes.text", result.Codes());
    }

    [Fact]
    public void A_malformed_list_is_listed_with_its_place_and_counted()
    {
        var file = new EdfFile { Reserved = "EDF+C", Signals = [EdfTestSignal.SpO2, EdfTestSignal.Notes(20, r => $"+{r}", r => r > 1 ? ["oops|text"] : [])] };
        var issue = file.Read().Issue(EdfIssueCodes.NotesMalformed);
        Assert.Equal(("data record 3, signal 2, byte 5", 2), (issue.Place, issue.Count));
    }

    [Fact]
    public void A_list_that_fills_its_signal_to_the_last_byte_lacks_its_end()
    {
        var file = new EdfFile { Reserved = "EDF+C", Records = 1, Signals = [EdfTestSignal.SpO2, new EdfTestSignal("EDF Annotations", 8) { Tals = _ => Bytes("+0||_+1|abcdefgh") }] };
        var result = file.Read();
        Assert.Equal(("notes.malformed", "abcdefgh"), (result.Codes(), result.Recording!.Annotations.Single().Text));
    }

    [Fact]
    public void An_annotation_signal_in_a_file_that_is_not_EDF_plus_is_read_and_listed()
    {
        var result = new EdfFile { Signals = [EdfTestSignal.SpO2, EdfTestSignal.Notes(20, r => $"+{r}.5", r => [$"+{r}.5|note"])] }.Read();
        Assert.Equal(("notes.unexpected", 4), (result.Codes(), result.Recording!.Annotations.Count));
        Assert.Equal("local 2026-11-24T22:00:00.5", result.Recording.Start.Show());
    }

    [Fact]
    public void Annotations_alone_make_a_recording_without_channels()
    {
        var result = new EdfFile { Reserved = "EDF+C", RecordSeconds = "0", Records = 2, Signals = [EdfTestSignal.Notes(20, _ => "+0", r => [$"+{r};30|stage {r}"])] }.Read();
        Assert.Equal("EDF+C, 2 data records", result.Format);
        Assert.Empty(result.Recording!.Channels);
        Assert.Equal(["stage 0", "stage 1"], result.Recording.Annotations.Select(n => n.Text));
    }

    private static byte[] Bytes(string text) => Encoding.UTF8.GetBytes(text.Replace(';', '\x15').Replace('|', '\x14').Replace('_', '\0'));

    private static ReadResult Read(byte[] tals) =>
        new EdfFile { Reserved = "EDF+C", Records = 1, Signals = [EdfTestSignal.SpO2, new EdfTestSignal("EDF Annotations", 30) { Tals = _ => tals }] }.Read();
}
