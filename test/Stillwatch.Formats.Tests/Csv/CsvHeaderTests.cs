using Stillwatch.Formats.Csv;
using Stillwatch.Signals;

namespace Stillwatch.Formats.Tests.Csv;

public class CsvHeaderTests
{
    // Common spellings of the trade; common practice, no source.
    [Theory]
    [InlineData("SpO2", ChannelKind.SpO2)]
    [InlineData("SpO₂", ChannelKind.SpO2)]
    [InlineData("SPO2 (%)", ChannelKind.SpO2)]
    [InlineData("spo2_pct", ChannelKind.SpO2)]
    [InlineData("%SpO2", ChannelKind.SpO2)]
    [InlineData("SpO2 4", ChannelKind.SpO2)]
    [InlineData("SaO2", ChannelKind.SpO2)]
    [InlineData("O2 sat", ChannelKind.SpO2)]
    [InlineData("Sat (%)", ChannelKind.SpO2)]
    [InlineData("Oxygen saturation", ChannelKind.SpO2)]
    [InlineData("Sauerstoffsättigung [%]", ChannelKind.SpO2)]
    [InlineData("Saturation en oxygène", ChannelKind.SpO2)]
    [InlineData("Saturación", ChannelKind.SpO2)]
    [InlineData("Pulse", ChannelKind.PulseRate)]
    [InlineData("PR (bpm)", ChannelKind.PulseRate)]
    [InlineData("bpm", ChannelKind.PulseRate)]
    [InlineData("SpO2 PR", ChannelKind.PulseRate)]
    [InlineData("Pulse rate [1/min]", ChannelKind.PulseRate)]
    [InlineData("Pulsfrequenz", ChannelKind.PulseRate)]
    [InlineData("Pouls", ChannelKind.PulseRate)]
    [InlineData("HR", ChannelKind.HeartRate)]
    [InlineData("heart_rate_bpm", ChannelKind.HeartRate)]
    [InlineData("Fréquence cardiaque", ChannelKind.HeartRate)]
    [InlineData("PI", ChannelKind.PerfusionIndex)]
    [InlineData("Perf", ChannelKind.PerfusionIndex)]
    [InlineData("Perfusion index (%)", ChannelKind.PerfusionIndex)]
    [InlineData("SQI", ChannelKind.SignalQuality)]
    [InlineData("Signal quality", ChannelKind.SignalQuality)]
    [InlineData("signal_valid", ChannelKind.SourceValid)]
    [InlineData("SpO2 valid", ChannelKind.SourceValid)]
    [InlineData("FiO2", ChannelKind.InhaledOxygen)]
    [InlineData("Rig FiO2", ChannelKind.InhaledOxygen)]
    [InlineData("Inspired O2 (%)", ChannelKind.InhaledOxygen)]
    [InlineData("PLETH", ChannelKind.Pleth)]
    [InlineData("PPG", ChannelKind.Pleth)]
    [InlineData("RED", ChannelKind.RedLight)]
    [InlineData("Red light", ChannelKind.RedLight)]
    [InlineData("ppg_red", ChannelKind.RedLight)]
    [InlineData("red_raw", ChannelKind.RedLight)]
    [InlineData("Rotlicht (rot)", ChannelKind.RedLight)]
    [InlineData("IR", ChannelKind.InfraredLight)]
    [InlineData("IR_ADC", ChannelKind.InfraredLight)]
    [InlineData("Infrared light", ChannelKind.InfraredLight)]
    [InlineData("infrarouge", ChannelKind.InfraredLight)]
    public void Common_spellings_are_recognised(string header, ChannelKind kind)
    {
        var recording = Table.Recording($"time_s,\"{header}\"\n0,50\n1,51\n");

        Assert.Equal(kind, recording.Channels.Single().Kind);
        Assert.Equal(header, recording.Channels.Single().Label);
    }

    [Theory]
    [InlineData("SpO2 low limit")]
    [InlineData("SpO2 alarm")]
    [InlineData("SpO2 min")]
    [InlineData("ox_adc_units_raw")]
    [InlineData("Pulse amplitude")]
    [InlineData("Pulse transit time")]
    [InlineData("Invalid")]
    [InlineData("RESP")]
    [InlineData("StO2")]
    [InlineData("R")]
    [InlineData("Red Drv 1")]
    [InlineData("IR gain")]
    [InlineData("red/IR")]
    public void A_name_that_makes_it_something_else_is_not_recognised(string header)
    {
        var recording = Table.Recording($"time_s,SpO2,{header}\n0,97,50\n1,97,51\n");

        Assert.Equal(["SpO2"], recording.Channels.Select(c => c.Label));
    }

    [Fact]
    public void Lines_before_the_header_are_left_out_and_counted()
    {
        var result = Table.Read("Export of bed 7\nStart time;2026-03-01\n\nTime;SpO2;Pulse\n22:00:00;97;70\n22:00:01;96;71\n");

        Assert.Equal("97 96", result.Recording!.Values(ChannelKind.SpO2));
        Assert.Equal(3, result.Count("file.preamble"));
    }

    [Fact]
    public void A_row_of_units_below_the_header_counts_as_such()
    {
        var result = Table.Read("Time,SpO2,FiO2,Pulse\nms,%,fraction,1/min\n0,97,0.21,70\n500,96,0.3,71\n");

        Assert.Equal("0 0.5", result.Recording!.Seconds());
        Assert.Equal("21 30", result.Recording!.Values(ChannelKind.InhaledOxygen));
        Assert.Equal("header.units value.scaled", result.Codes());
    }

    [Fact]
    public void Without_a_header_columns_are_known_by_number()
    {
        const string table = "2026-03-01T22:00:00,97,70\n2026-03-01T22:00:01,96,71\n";
        var result = Table.Read(table);

        Assert.Equal(["#2", "#3"], result.Recording!.Channels.Select(c => c.Label));
        Assert.All(result.Recording!.Channels, c => Assert.Equal(ChannelKind.Other, c.Kind));
        Assert.True(result.Has("header.absent"));
        Assert.Equal("97 96", Table.Recording(table, Table.Map("spo2=#2,pulse=#-1")).Values(ChannelKind.SpO2));
    }

    [Fact]
    public void Columns_of_one_name_stay_apart_and_are_chosen_by_number()
    {
        const string table = "time_s,SpO2,SpO2\n0,97,91\n1,96,92\n";
        var result = Table.Read(table);

        Assert.Equal(2, result.Recording!.Channels.Count);
        Assert.True(result.Has("header.duplicate"));
        Assert.Equal("91 92", Table.Recording(table, new CsvReadOptions { Channel = "#3" }).Values(ChannelKind.SpO2));
        var error = Assert.Throws<UnreadableFileException>(() => Table.Read(table, new CsvReadOptions { Channel = "SpO2" }));
        Assert.Contains("#2, #3", error.LikelyCause, StringComparison.Ordinal);
    }

    [Fact]
    public void Where_values_stand_below_nameless_columns_the_doubtful_ones_are_not_taken()
    {
        // The values from "ECG" on stand two columns further right; 20.9 is the inhaled oxygen, 16 a breath count.
        const string table = "time_s,SpO2,ECG,FiO2,,\n0,97,,AS,16,20.9\n1,96,,AS,17,15.1\n";
        var result = Table.Read(table);

        Assert.Equal(["SpO2"], result.Recording!.Channels.Select(c => c.Label));
        Assert.Contains("\"FiO2\" (#4)", result.Issue("header.misaligned").Assumed, StringComparison.Ordinal);
        Assert.Equal("20.9 15.1", Table.Recording(table, Table.Map("fio2=#-1")).Values(ChannelKind.InhaledOxygen));
    }

    [Fact]
    public void Where_nothing_shows_how_far_names_and_values_agree_no_column_is_taken()
    {
        var result = Table.Read("time_s,SpO2,Pulse\n0,1,97,70\n1,2,96,71\n");

        Assert.Empty(result.Recording!.Channels);
        Assert.True(result.Has("header.misaligned"));
    }
}
