using Stillwatch.Formats.Csv;
using Stillwatch.Signals;

namespace Stillwatch.Formats.Tests.Csv;

/// <summary>The traps of real files. Expected values: the files' own text, counted with other tools.</summary>
public class CsvOpenRecordingsTests
{
    // Hoffman et al., npj Digit Med 5:146 (2022), doi 10.1038/s41746-022-00665-y: rows, time of the first row, first and
    // last inhaled oxygen (the last column).
    [Theory]
    [InlineData("100001", 1090, "of day 09:25:02", "20.8", "37.6")]
    [InlineData("100002", 1122, "of day 10:28:37", "20.9", "41.5")]
    [InlineData("100003", 1066, "of day 11:23:45", "20.9", "20.8")]
    [InlineData("100004", 1015, "of day 13:11:55", "20.9", "29.3")]
    public void Controlled_desaturations_are_read_around_their_traps(string subject, int rows, string start, string firstOxygen, string lastOxygen)
    {
        string path = OpenRecordings.Path($"controlled-desaturation/numerics/{subject}.csv");
        var result = Read(path);
        var recording = result.Recording!;

        Assert.Equal(start, recording.Start.Show());
        Assert.Equal(rows, recording.Find(ChannelKind.SpO2)!.Times.Count);
        Assert.Equal("SpO2 1", recording.Find(ChannelKind.SpO2)!.Label);
        Assert.Equal("Pulse 1", recording.Find(ChannelKind.PulseRate)!.Label);
        Assert.Equal("PI 1", recording.Find(ChannelKind.PerfusionIndex)!.Label);
        Assert.Equal(5, recording.Channels.Count(c => c.Kind == ChannelKind.SpO2));

        // "Rig FiO2" stands five columns left of its values: nothing is taken for inhaled oxygen until a person says so.
        Assert.Null(recording.Find(ChannelKind.InhaledOxygen));
        Assert.Contains("\"Rig FiO2\" (#45)", result.Issue("header.misaligned").Assumed, StringComparison.Ordinal);
        Assert.Contains("Collection Halted", result.Issue("row.text").Found, StringComparison.Ordinal);
        Assert.Equal(subject == "100004", result.Has("time.by-content"));
        foreach (string column in new[] { "#50", "#-1" })
        {
            string oxygen = Table.Values(Read(path, Table.Map($"fio2={column}")).Recording!.Find(ChannelKind.InhaledOxygen)!);
            Assert.StartsWith($"{firstOxygen} ", oxygen, StringComparison.Ordinal);
            Assert.EndsWith($" {lastOxygen}", oxygen, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void The_oximeter_that_was_not_filled_is_never_the_one_to_use()
    {
        // Same study: oximeter 3 holds zeros only.
        var result = Read(OpenRecordings.Path("controlled-desaturation/numerics/100001.csv"));

        Assert.Contains("\"SpO2 3\" (no usable number)", result.Issues.First(i => i.Code == "channel.chosen").Found, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("spo2=\"SpO2 4\",time=Time", "SpO2 4", "Pulse 4")]
    [InlineData("spo2=\"SpO2 5\"", "SpO2 5", "Pulse 5")]
    public void Another_oximeter_can_be_picked(string map, string spo2, string pulse)
    {
        // Same study.
        var recording = Read(OpenRecordings.Path("controlled-desaturation/numerics/100001.csv"), Table.Map(map)).Recording!;

        Assert.Equal(spo2, recording.Find(ChannelKind.SpO2)!.Label);
        Assert.Equal(pulse, recording.Find(ChannelKind.PulseRate)!.Label);
    }

    [Fact]
    public void A_camera_file_without_times_needs_a_declared_period()
    {
        // Same study: 30 Hz.
        string path = OpenRecordings.Path("controlled-desaturation/camera/100001-left.csv");

        Assert.Throws<UnreadableFileException>(() => Read(path));
        var recording = Read(path, new CsvReadOptions { DeclaredPeriod = new Time.Duration(33) }).Recording!;
        Assert.Equal(["R", "G", "B"], recording.Channels.Select(c => c.Label));
        Assert.Equal(32_727, recording.Channels[0].Times.Count);
    }

    [Fact]
    public void A_nominal_scale_is_taken_with_a_doubt()
    {
        // Santa Fe contest, data set B (PhysioNet santa-fe 1.0.0; Rigney et al. 1993; Goldberger et al. 2000).
        var result = Read(OpenRecordings.Path("sleep-apnoea-nominal/night.csv"));
        var recording = result.Recording!;

        Assert.Equal("spo2_nominal_pct_ASSUMED_SCALE", recording.Find(ChannelKind.SpO2)!.Label);
        Assert.Equal("heart_rate_bpm_from_ecg", recording.Find(ChannelKind.HeartRate)!.Label);
        Assert.Equal("signal_valid", recording.Find(ChannelKind.SourceValid)!.Label);
        Assert.Equal(3, recording.Channels.Count);
        Assert.Equal((34_000, 500), (recording.Channels[0].Times.Count, recording.Channels[0].Times.Period.Milliseconds));
        Assert.Equal(IssueSeverity.Doubt, result.Issue("value.scale-unclear").Severity);
    }

    [Theory]
    [InlineData("s01", 2300)]
    [InlineData("s02", 2299)]
    [InlineData("s10", 2287)]
    public void Quiet_series_are_read_without_a_remark(string subject, int rows)
    {
        // PhysioNet noneeg 1.0.0; Birjandtalab et al., IEEE SiPS 2016.
        var result = Read(OpenRecordings.Path($"rest-and-stress/{subject}.csv"));

        Assert.Empty(result.Issues);
        Assert.InRange(result.Recording!.Find(ChannelKind.SpO2)!.Times.Count, rows - 1, rows);
        Assert.Equal("unknown", result.Recording!.Start.Show());
        Assert.NotNull(result.Recording!.Find(ChannelKind.HeartRate));
    }

    [Fact]
    public void Times_written_too_coarsely_repeat_and_are_counted()
    {
        // BIDMC, PhysioNet, doi 10.13026/C2208R: 125 Hz, but five digits only, so that from 100 s on times repeat.
        string path = OpenRecordings.Path("icu-plethysmogram/bidmc_01_Signals.csv");
        var result = Read(path);

        Assert.Equal("PLETH", result.Recording!.Find(ChannelKind.Pleth)!.Label);
        Assert.Equal(60_001, result.Recording!.Channels[0].Times.Count + result.Count("time.repeated"));
        Assert.True(result.Count("time.repeated") > 9_000);

        var counted = Read(path, Table.Map("time=none") with { DeclaredPeriod = new Time.Duration(8) });
        Assert.Equal(60_001, counted.Recording!.Channels[0].Times.Count);
        Assert.False(counted.Has("time.repeated"));
    }

    [Fact]
    public void Milliseconds_without_a_unit_are_not_read_as_seconds()
    {
        // Neshitov et al., Sensors 21:6798 (2021), doi 10.3390/s21206798: uneven, about 30 a second, 111.609 s long.
        var result = Read(OpenRecordings.Path("camera-ppg-with-rr/subject_01/PPG.csv"));
        var times = result.Recording!.Channels[0].Times;

        Assert.Equal(111.609, times.Last.Seconds);
        Assert.InRange(times.Period.Milliseconds, 25, 45);
        Assert.Contains("milliseconds", result.Issue("time.unit").Assumed, StringComparison.Ordinal);
        Assert.True(result.Has("time.uneven"));
    }

    [Theory]
    [InlineData("icu-plethysmogram/bidmc_01_Breaths.csv")]
    [InlineData("camera-ppg-with-rr/subject_01/RR.txt")]
    public void Lists_that_are_no_series_are_refused(string file)
    {
        // BIDMC and Neshitov et al., as above.
        Assert.Throws<UnreadableFileException>(() => Read(OpenRecordings.Path(file)));
    }

    private static ReadResult Read(string path, CsvReadOptions? options = null)
    {
        using var stream = File.OpenRead(path);
        return CsvReader.Read(stream, Path.GetFileName(path), options);
    }
}
