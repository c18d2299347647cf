using Stillwatch.Formats.Csv;
using Stillwatch.Signals;

namespace Stillwatch.Formats.Tests.Csv;

public class CsvChannelTests
{
    private const string TwoSensors =
        "time_s,SpO2 1,SpO2 2,SpO2 4,Pulse 1,Pulse 2,Pulse 4\n" +
        "0,0,97,91,0,70,61\n" +
        "1,0,96,92,0,71,62\n";

    [Fact]
    public void Of_several_SpO2_columns_the_first_with_usable_numbers_is_used_and_the_others_are_named()
    {
        var result = Table.Read(TwoSensors);

        Assert.Equal("SpO2 2", result.Recording!.Find(ChannelKind.SpO2)!.Label);
        Assert.Equal(3, result.Recording!.Channels.Count(c => c.Kind == ChannelKind.SpO2));
        var issue = result.Issues.First(i => i.Code == "channel.chosen");
        Assert.Contains("\"SpO2 1\" (no usable number), \"SpO2 4\"", issue.Found, StringComparison.Ordinal);
        Assert.Contains("--channel NAME picks another", issue.Assumed, StringComparison.Ordinal);
    }

    [Fact]
    public void The_pulse_of_the_same_sensor_goes_with_its_SpO2()
    {
        Assert.Equal("Pulse 2", Table.Recording(TwoSensors).Find(ChannelKind.PulseRate)!.Label);
        Assert.Equal("Pulse 4", Table.Recording(TwoSensors, new CsvReadOptions { Channel = "SpO2 4" }).Find(ChannelKind.PulseRate)!.Label);
    }

    [Theory]
    [InlineData("spo2=\"SpO2 4\"")]
    [InlineData("spo2=SpO2 4,time=time_s")]
    [InlineData("spo2=spo2 4")]
    [InlineData("spo2=#4")]
    [InlineData("spo2=#-4")]
    public void The_map_picks_a_column_by_name_or_number(string map)
    {
        Assert.Equal("91 92", Table.Recording(TwoSensors, Table.Map(map)).Values(ChannelKind.SpO2));
    }

    [Fact]
    public void The_channel_option_wins_over_the_map()
    {
        var options = Table.Map("spo2=SpO2 2") with { Channel = "SpO2 4" };

        Assert.Equal("SpO2 4", Table.Recording(TwoSensors, options).Find(ChannelKind.SpO2)!.Label);
    }

    [Fact]
    public void A_column_can_be_taken_as_SpO2_though_its_name_does_not_say_so()
    {
        var result = Table.Read("time_s,ox\n0,97\n1,96\n", new CsvReadOptions { Channel = "ox" });

        Assert.Equal("97 96", result.Recording!.Values(ChannelKind.SpO2));
        Assert.Equal("channel.by-name", result.Codes());
    }

    [Theory]
    [InlineData("spo2=SpO2 9")]
    [InlineData("spo2=#9")]
    [InlineData("spo2=#0")]
    [InlineData("spo2=#-9")]
    [InlineData("time=Clock")]
    public void A_column_that_is_not_there_is_an_error_that_names_those_that_are(string map)
    {
        var error = Assert.Throws<UnreadableFileException>(() => Table.Read(TwoSensors, Table.Map(map)));

        Assert.Contains("\"time_s\"", error.Found, StringComparison.Ordinal);
        Assert.Contains("\"SpO2 1\"", error.Found, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("spo2", "KEY=COLUMN")]
    [InlineData("spo2=", "KEY=COLUMN")]
    [InlineData("", "KEY=COLUMN")]
    [InlineData("sp=SpO2", "expected one of spo2, pulse")]
    [InlineData("spo2=a,spo2=b", "a second time")]
    [InlineData("spo2=\"a", "opening quote")]
    [InlineData("time-unit=years", "expected one of ms, s")]
    public void A_map_that_cannot_be_understood_is_an_error_that_says_what_is_expected(string map, string says)
    {
        Assert.Contains(says, Assert.Throws<FormatException>(() => ColumnMap.Parse(map)).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Quotes_in_the_map_keep_commas_together_and_a_leading_hash_literal()
    {
        var map = ColumnMap.Parse("spo2=\"SpO2, left\",pulse=\"#1\",fio2=#-1");

        Assert.Equal("SpO2, left", map.Channels[ChannelKind.SpO2]);
        Assert.Equal("70 71", Table.Recording("time_s,x,#1\n0,1,70\n1,2,71\n", Table.Map("pulse=\"#1\"")).Values(ChannelKind.PulseRate));
    }

    [Fact]
    public void Only_wanted_kinds_are_held()
    {
        var options = new CsvReadOptions { Wanted = new HashSet<ChannelKind> { ChannelKind.SpO2 } };

        Assert.All(Table.Recording(TwoSensors, options).Channels, c => Assert.Equal(ChannelKind.SpO2, c.Kind));
    }

    [Fact]
    public void Cells_that_are_no_numbers_are_rows_without_one_and_counted_by_their_text()
    {
        var result = Table.Read("time_s,SpO2\n0,97\n1,---\n2,AS AO\n3,---\n4,NaN\n5,?\n6,\n7,0\n8,127\n9,-\n");

        Assert.Equal("97 - - - - - - 0 127 -", result.Recording!.Values(ChannelKind.SpO2));
        var texts = result.Issues.Where(i => i.Code == "value.text").Select(i => $"{i.Found} x{i.Count} {i.Place}");
        Assert.Equal(
            ["\"---\" x2 line 3, column SpO2", "\"AS AO\" x1 line 4, column SpO2", "\"NaN\" x1 line 6, column SpO2", "\"?\" x1 line 7, column SpO2", "\"-\" x1 line 11, column SpO2"],
            texts);
    }

    [Fact]
    public void A_number_no_channel_can_hold_is_counted_and_not_cut()
    {
        var result = Table.Read("time_s,Pulse\n0,70\n1,600000\n2,1e400\n");

        Assert.Equal("70 - -", result.Recording!.Values(ChannelKind.PulseRate));
        Assert.Equal(2, result.Count("value.too-large"));
    }

    [Fact]
    public void More_than_six_decimals_are_rounded_and_counted()
    {
        var result = Table.Read("time_s,SpO2\n0,97.1234565\n1,97.123456\n");

        Assert.Equal("97.123457 97.123456", result.Recording!.Values(ChannelKind.SpO2));
        Assert.Equal(1, result.Count("value.rounded"));
    }

    [Fact]
    public void A_percent_sign_behind_a_number_is_taken_and_counted()
    {
        var result = Table.Read("time_s,SpO2\n0,97%\n1,96 %\n");

        Assert.Equal("97 96", result.Recording!.Values(ChannelKind.SpO2));
        Assert.Equal(2, result.Count("value.unit"));
    }

    [Fact]
    public void Words_in_a_validity_column_are_taken_and_counted()
    {
        var result = Table.Read("time_s,SpO2,valid\n0,97,TRUE\n1,96,no\n2,95,1\n3,94,maybe\n");

        Assert.Equal("1 0 1 -", result.Recording!.Values(ChannelKind.SourceValid));
        Assert.Equal(2, result.Count("value.word"));
        Assert.Equal(1, result.Count("value.text"));
    }

    // name | values | as read | code
    [Theory]
    [InlineData("SpO2", "0.97 0.965 0", "97 96.5 0", "value.scaled")]
    [InlineData("SpO2 (fraction)", "0.97 1 0", "97 100 0", "value.scaled")]
    [InlineData("SpO2 (fraction)", "97 96 0", "97 96 0", "value.scale-unclear")]
    [InlineData("SpO2", "0.97 97 0", "0.97 97 0", "")]
    [InlineData("SpO2", "1 0 1", "1 0 1", "")]
    [InlineData("SpO2", "97 96 0", "97 96 0", "")]
    [InlineData("FiO2", "0.21 0.4 1", "21 40 100", "value.scaled")]
    [InlineData("FiO2", "21 40 100", "21 40 100", "value.scale-unclear")]
    [InlineData("FiO2 (%)", "21 40 100", "21 40 100", "")]
    [InlineData("FiO2", "0.4 40 100", "0.4 40 100", "value.scale-unclear")]
    public void Fractions_become_percent_only_where_that_is_sure_and_it_is_said(string name, string values, string read, string code)
    {
        var cells = values.Split(' ');
        var result = Table.Read($"time_s,{name}\n{string.Concat(cells.Select((v, i) => $"{i},{v}\n"))}");

        Assert.Equal(read, Table.Values(result.Recording!.Channels[0]));
        Assert.Equal(code, string.Join(' ', result.Issues.Select(i => i.Code).Where(c => c.StartsWith("value", StringComparison.Ordinal))));
    }

    [Fact]
    public void A_file_without_SpO2_is_read_and_says_so()
    {
        var result = Table.Read("time_s,R,G\n0,1,2\n1,3,4\n");

        Assert.Equal(["R", "G"], result.Recording!.Channels.Select(c => c.Label));
        Assert.True(result.Has("channel.no-spo2"));
    }

    [Fact]
    public void The_averaging_of_the_source_is_carried_as_told()
    {
        var averaging = new SourceAveraging(new Time.Duration(8000));

        Assert.Equal(averaging, Table.Recording(TwoSensors, new CsvReadOptions { SourceAveraging = averaging }).SourceAveraging);
        Assert.False(Table.Recording(TwoSensors).SourceAveraging.IsKnown);
    }
}
