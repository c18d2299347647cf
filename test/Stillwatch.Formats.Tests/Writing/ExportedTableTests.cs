using System.Text;
using Stillwatch.Formats.Csv;
using Stillwatch.Formats.Exports;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Formats.Tests.Writing;

/// <summary>An exported table with its manifest, and what happens when the two no longer belong together.</summary>
public class ExportedTableTests
{
    private static readonly (string Name, Dictionary<string, byte[]> Files) Export = RoundTrip.Files(new CsvRecordingWriter(), ContractRecordings.Night);

    private const string Manifest = "night.csv" + ExportManifest.Suffix;

    [Fact]
    public void Without_its_manifest_it_is_read_as_any_table()
    {
        var result = Read(Export.Files["night.csv"], null);
        Assert.Equal(["SpO2", "Pulse", "Pleth"], result.Recording!.Channels.Select(c => c.Label));
        Assert.DoesNotContain(result.Issues, i => i.Code == "table.manifest");
    }

    [Fact]
    public void A_table_that_was_changed_after_its_export_is_read_as_any_table_and_this_is_listed()
    {
        string changed = Encoding.UTF8.GetString(Export.Files["night.csv"]).Replace(",97,", ",96,", StringComparison.Ordinal);
        var result = Read(Encoding.UTF8.GetBytes(changed), Export.Files[Manifest]);
        Assert.Equal(IssueSeverity.Doubt, result.Issues.First(i => i.Code == "table.manifest").Severity);
        Assert.Empty(result.Recording!.Annotations);
    }

    [Theory]
    [InlineData("")]
    [InlineData("{")]
    [InlineData("[1]")]
    [InlineData("""{"format":"stillwatch.ward/1","recordings":[]}""")]
    [InlineData("""{"format":"stillwatch.export/1","output":{"sha256":"00"},"table":{"channels":[{}]}}""")]
    [InlineData("""{"format":"stillwatch.export/1","output":{"sha256":"00"}}""")]
    public void A_manifest_that_is_none_is_listed_and_the_table_still_read(string manifest)
    {
        var result = Read(Export.Files["night.csv"], Encoding.UTF8.GetBytes(manifest));
        Assert.NotNull(result.Recording);
        Assert.Contains(result.Issues, i => i.Code == "table.manifest" && i.Severity == IssueSeverity.Doubt);
    }

    // The hash holds the table, not the manifest: whatever is done to the manifest, the table is read by it whole, or as any table and that is listed, or refused.
    [Fact]
    public void A_damaged_manifest_neither_crashes_nor_changes_a_value()
    {
        byte[] good = Export.Files[Manifest];
        var known = ContractRecordings.Night.Channels.Select(Samples).ToHashSet();
        for (int i = 0; i < 1000; i++)
        {
            var random = new Random(i);
            byte[] bytes = [.. good];
            for (int n = random.Next(1, 4); n > 0; n--) bytes[random.Next(bytes.Length)] = (byte)random.Next(32, 127);
            try
            {
                var result = Read(Export.Files["night.csv"], bytes);
                if (result.Issues.Any(issue => issue.Code == "table.manifest")) continue;
                Assert.All(result.Recording!.Channels.Where(c => c.Counts is null), c => Assert.Contains(Samples(c), known));
            }
            catch (UnreadableFileException e)
            {
                Assert.NotEqual("", e.LikelyCause);
            }
        }
    }

    [Fact]
    public void Empty_is_no_row_and_NaN_is_a_row_without_a_number_where_channels_differ_in_their_times()
    {
        var recording = new Recording(
            "n", new RecordingStart.Unknown(),
            [
                new Channel("SpO2", ChannelKind.SpO2, "%", TimeAxis.Even(default, Duration.FromSeconds(2), 2), ValueColumn.Of([97, null])),
                new Channel("Pulse", ChannelKind.PulseRate, "/min", TimeAxis.Even(default, Duration.FromSeconds(1), 3), ValueColumn.Of([60, null, 61.5m])),
            ],
            SourceAveraging.Unknown, []);
        Assert.Equal("time_s,SpO2,Pulse\n0,97,60\n1,,NaN\n2,NaN,61.5\n", Encoding.UTF8.GetString(RoundTrip.Bytes(new CsvRecordingWriter(), recording)));
    }

    [Fact]
    public void Where_all_channels_share_their_times_a_row_without_a_number_is_blank()
    {
        var axis = TimeAxis.Even(default, Duration.FromSeconds(1), 2);
        var recording = new Recording("n", new RecordingStart.Unknown(), [new Channel("SpO2", ChannelKind.SpO2, "%", axis, ValueColumn.Of([97, null]))], SourceAveraging.Unknown, []);
        Assert.Equal("time_s,SpO2\n0,97\n1,\n", Encoding.UTF8.GetString(RoundTrip.Bytes(new CsvRecordingWriter(), recording)));
    }

    [Fact]
    public void What_a_table_cannot_hold_is_listed_by_its_writer()
    {
        var axis = TimeAxis.Even(default, Duration.FromSeconds(1), 2);
        var recording = new Recording(
            "n", new RecordingStart.TimeOfDay(new TimeOnly(23, 0)),
            [
                new Channel("Raw", ChannelKind.Other, "", axis, CountColumn.Of(new Calibration(0, 1_000_000_000_000m, 0.0000001m, 3m), [1, 2])),
                new Channel("SpO2", ChannelKind.SpO2, "%", TimeAxis.Even(default, Duration.FromHours(13), 2), ValueColumn.Of([97, 96])),
            ],
            SourceAveraging.Unknown, [new Annotation(default, default, "note")]);
        using var to = new MemoryStream();
        Assert.Equal(["table.annotations", "table.counts", "table.elapsed"], new CsvRecordingWriter().Write(recording, to).Select(i => i.Code));
    }

    [Theory]
    [InlineData("2148", "2148", 0)]
    [InlineData("1000000", "1000000", 0)]
    [InlineData("2147483647", "2147483647", 0)]
    [InlineData("-70000.25", "-7000025", 2)]
    [InlineData("2147482.6475", "2147482648", -1)] // needs four decimals, which 32 bits do not hold: three are kept
    public void Numbers_beyond_the_range_of_decimals_are_held_as_counts_of_a_power_of_ten(string cell, string count, int decimals)
    {
        var table = Encoding.UTF8.GetBytes($"time_s,Pleth\n0,1\n1,{cell}\n2,\n");
        var result = Read(table, null);
        var counts = result.Recording!.Channels.Single().Counts!;
        if (decimals < 0)
        {
            Assert.Contains(result.Issues, i => i.Code == CsvIssueCodes.ValueRounded && i.Severity == IssueSeverity.Note);
            Assert.Equal(1000, counts.Calibration.Denominator);
            Assert.Equal(count, counts[1].ToString());
            return;
        }

        Assert.Equal(count, counts[1].ToString());
        Assert.Equal((decimal)Math.Pow(10, decimals), counts.Calibration.Denominator);
        Assert.Equal(1, counts.Calibration.ValueOf(counts[0]));
        Assert.Equal(CountColumn.Missing, counts[2]);
        Assert.DoesNotContain(result.Issues, i => i.Code == CsvIssueCodes.ValueTooLarge);
    }

    [Theory]
    [InlineData("SpO2", "3000")]
    [InlineData("Pulse", "3000")]
    [InlineData("Pleth", "2147483648")]
    [InlineData("Pleth", "1e20")]
    public void A_number_that_nothing_can_hold_is_a_row_without_one_and_listed(string column, string cell)
    {
        var result = Read(Encoding.UTF8.GetBytes($"time_s,{column}\n0,1\n1,{cell}\n2,3\n"), null);
        Assert.Equal(ValueColumn.Missing, result.Recording!.Channels.Single().Values[1]);
        Assert.Equal(IssueSeverity.Doubt, result.Issues.First(i => i.Code == CsvIssueCodes.ValueTooLarge).Severity);
    }

    [Fact]
    public void Wide_numbers_among_rows_out_of_order_find_their_places()
    {
        var counts = Read("time_s,Pleth\n0,10\n2,5000000\n1,4000000\n3,-5000000\n"u8.ToArray(), null).Recording!.Channels.Single().Counts!;
        Assert.Equal([10, 4_000_000, 5_000_000, -5_000_000], Enumerable.Range(0, 4).Select(i => counts[i]));
    }

    [Fact]
    public void Columns_that_mean_nothing_to_us_come_along_when_asked_for_and_those_without_numbers_are_listed()
    {
        var wanted = Enum.GetValues<ChannelKind>().ToHashSet();
        var result = RecordingReaders.Read(RecordingSource.Of("a.csv", "time_s,SpO2,Posture,Remark\n0,97,3,on\n1,96,4,off\n"u8.ToArray()), new ReadOptions { Wanted = wanted });
        Assert.Equal(["SpO2", "Posture"], result.Recording!.Channels.Select(c => c.Label));
        Assert.Contains("\"Remark\"", result.Issues.First(i => i.Code == CsvIssueCodes.ChannelNotTaken).Found, StringComparison.Ordinal);
    }

    private static string Samples(Channel channel) => string.Join(' ', Enumerable.Range(0, channel.Times.Count).Select(i => channel.Counts?[i] ?? channel.Values[i]));

    private static ReadResult Read(byte[] table, byte[]? manifest)
    {
        var files = new Dictionary<string, byte[]> { ["night.csv"] = table };
        if (manifest is not null) files[Manifest] = manifest;
        return RecordingReaders.Read(new RecordingSource("night.csv", new RecordingFolder(files)), new ReadOptions());
    }
}
