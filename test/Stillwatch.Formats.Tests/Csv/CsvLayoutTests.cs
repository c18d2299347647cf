using System.Text;
using Stillwatch.Formats.Csv;
using Stillwatch.Signals;

namespace Stillwatch.Formats.Tests.Csv;

public class CsvLayoutTests
{
    [Theory]
    [InlineData("time_s,SpO2,Pulse\n0,97.5,70\n1,96.5,71\n")]
    [InlineData("time_s;SpO2;Pulse\n0;97,5;70\n1;96,5;71\n")]
    [InlineData("time_s;SpO2;Pulse\n0;97.5;70\n1;96.5;71\n")]
    [InlineData("time_s\tSpO2\tPulse\n0\t97.5\t70\n1\t96.5\t71\n")]
    [InlineData("time_s\tSpO2\tPulse\n0\t97,5\t70\n1\t96,5\t71\n")]
    [InlineData("time_s|SpO2|Pulse\n0|97.5|70\n1|96.5|71\n")]
    [InlineData("time_s,SpO2,Pulse\r\n0,97.5,70\r\n1,96.5,71\r\n")]
    [InlineData("time_s,SpO2,Pulse\r0,97.5,70\r1,96.5,71\r")]
    [InlineData("time_s,SpO2,Pulse\n0,97.5,70\n1,96.5,71")]
    [InlineData("\"time_s\",\"SpO2\",\"Pulse\"\n\"0\",\"97.5\",\"70\"\n\"1\",\"96.5\",\"71\"\n")]
    [InlineData("\uFEFFtime_s,SpO2,Pulse\n0,97.5,70\n1,96.5,71\n")]
    [InlineData("time_s , SpO2 , Pulse\n0 , 97.5 , 70\n1 , 96.5 , 71\n")]
    public void The_same_table_is_read_alike_however_it_is_written(string text)
    {
        var result = Table.Read(text);

        Assert.Equal("0 1", result.Recording!.Seconds());
        Assert.Equal("97.5 96.5", result.Recording!.Values(ChannelKind.SpO2));
        Assert.Equal("70 71", result.Recording!.Values(ChannelKind.PulseRate));
        Assert.Empty(result.Issues);
    }

    [Theory]
    [InlineData("utf-16")]
    [InlineData("utf-16BE")]
    public void UTF_16_with_a_byte_order_mark_is_read(string encodingName)
    {
        var encoding = Encoding.GetEncoding(encodingName);
        var result = Table.Read([.. encoding.GetPreamble(), .. encoding.GetBytes("time_s,SpO₂\n0,97\n1,96\n")]);

        Assert.Equal("97 96", result.Recording!.Values(ChannelKind.SpO2));
        Assert.Equal("SpO₂", result.Recording!.Channels[0].Label);
        Assert.Empty(result.Issues);
    }

    [Fact]
    public void Bytes_that_are_not_UTF_8_are_read_as_Latin_1_and_said_so()
    {
        var result = Table.Read(Encoding.Latin1.GetBytes("Zeit [s];Sättigung\n0;97\n1;96\n"));

        Assert.Equal("Sättigung", result.Recording!.Channels[0].Label);
        Assert.Equal("file.encoding", result.Codes());
    }

    [Fact]
    public void Both_decimal_marks_in_one_file_are_doubtful_and_the_rarer_is_no_number()
    {
        var result = Table.Read("time_s;SpO2\n0;97,5\n1;96,5\n2;95.5\n");

        Assert.Equal("97.5 96.5 -", result.Recording!.Values(ChannelKind.SpO2));
        Assert.True(result.Has("file.decimal-mark"));
        Assert.Equal("\"95.5\"", result.Issue("value.text").Found);
    }

    [Fact]
    public void Commas_that_might_part_thousands_are_doubtful()
    {
        Assert.True(Table.Read("time_s;SpO2;Pulse\n0;97;1,072\n1;96;1,071\n").Has("file.decimal-mark"));
    }

    [Fact]
    public void Separator_and_decimal_mark_can_be_told()
    {
        var options = new CsvReadOptions { Separator = ';', DecimalMark = ',' };

        Assert.Equal("97 96.5", Table.Recording("time_s;SpO2\n0;97\n1;96,5\n", options).Values(ChannelKind.SpO2));
    }

    [Fact]
    public void A_row_with_too_few_cells_is_used_as_far_as_it_goes()
    {
        var result = Table.Read("time_s,SpO2,Pulse\n0,97,70\n1,96\n2\n3,95,71\n");

        Assert.Equal("97 96 - 95", result.Recording!.Values(ChannelKind.SpO2));
        Assert.Equal("70 - - 71", result.Recording!.Values(ChannelKind.PulseRate));
        Assert.Equal((2, "line 3"), (result.Issue("cells.missing").Count, result.Issue("cells.missing").Place));
    }

    [Fact]
    public void A_row_with_too_many_cells_is_not_used_because_its_values_may_have_shifted()
    {
        var result = Table.Read("time_s,SpO2,Pulse\n0,97,70\n1,96,5,71\n2,95,72\n3,94,73,\n");

        Assert.Equal("97 95 94", result.Recording!.Values(ChannelKind.SpO2));
        Assert.Equal((1, "line 3"), (result.Issue("row.too-many-cells").Count, result.Issue("row.too-many-cells").Place));
        Assert.Equal(1, result.Count("cells.surplus-empty"));
    }

    [Fact]
    public void Blank_lines_and_closing_remarks_are_counted_and_not_used()
    {
        var result = Table.Read("time_s,SpO2\n0,97\n\n1,96\n,\nCollection Halted,\nEnd of file\n");

        Assert.Equal("97 96", result.Recording!.Values(ChannelKind.SpO2));
        Assert.Equal(2, result.Count("row.blank"));
        Assert.Equal(2, result.Count("row.text"));
        Assert.Contains("Collection Halted", result.Issue("row.text").Found, StringComparison.Ordinal);
    }

    [Fact]
    public void A_quoted_cell_may_hold_separators_and_doubled_quotes()
    {
        var result = Table.Read("time_s,note,SpO2\n0,\"said \"\"ouch\"\", moved\",97\n1,,96\n");

        Assert.Equal("97 96", result.Recording!.Values(ChannelKind.SpO2));
        Assert.Empty(result.Issues);
    }

    [Fact]
    public void A_quote_left_open_costs_its_own_line_and_no_other()
    {
        var result = Table.Read("time_s,note,SpO2\n0,,97\n1,\"moved,96\n2,,95\n");

        Assert.Equal("97 95", result.Recording!.Values(ChannelKind.SpO2));
        Assert.Equal((1, "line 3"), (result.Issue("row.open-quote").Count, result.Issue("row.open-quote").Place));
    }

    [Fact]
    public void A_file_without_a_time_that_can_be_read_gives_no_recording_and_says_why()
    {
        var result = Table.Read("time_s,SpO2\nnot told,97\n", Table.Map("time=time_s"));

        Assert.Null(result.Recording);
        Assert.Equal(IssueSeverity.Failure, result.Issues[0].Severity);
        Assert.Equal("file.no-rows", result.Issues[0].Code);
    }

    [Fact]
    public void A_look_at_the_first_lines_tells_the_layout()
    {
        using var stream = new MemoryStream("Export\nZeit;SpO2;\n22:00:00;97,5;x\n"u8.ToArray());
        var sniff = CsvReader.Sniff(stream, "test.csv");

        Assert.Equal(("UTF-8", ';', ',', 2, 3), (sniff.EncodingName, sniff.Separator, sniff.DecimalMark, sniff.HeaderLineNumber, sniff.FirstRowLineNumber));
        Assert.Equal(["Zeit", "SpO2", "#3"], sniff.Columns);
    }

    [Fact]
    public void Progress_is_told_in_bytes_and_ends_at_the_length_of_the_file()
    {
        var text = new StringBuilder("time_s,SpO2\n");
        for (int i = 0; i < 60_000; i++) text.Append($"{i},97\n");
        long last = 0;
        int calls = 0;
        Table.Read(text.ToString(), new CsvReadOptions
        {
            Progress = bytes =>
            {
                Assert.True(bytes >= last);
                last = bytes;
                calls++;
            },
        });

        Assert.Equal(text.Length, last);
        Assert.True(calls > 1);
    }
}
