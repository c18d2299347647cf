using Stillwatch.Formats.Edf.Writing;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Formats.Tests.Edf.Writing;

/// <summary>What the header says; EDF specification (Kemp et al. 1992) and EDF+ specification, 2.1.3 (2003).</summary>
public class EdfWriterHeaderTests
{
    [Theory]
    // start of the recording, startdate, starttime, recording field
    [InlineData("local 2026-03-01T22:15:30.250", "01.03.26", "22.15.30", "Startdate 01-MAR-2026 X X Stillwatch", 0.25)]
    [InlineData("local 1985-01-01T00:00:00", "01.01.85", "00.00.00", "Startdate 01-JAN-1985 X X Stillwatch", 0)]
    [InlineData("local 2084-12-31T23:59:59.999", "31.12.84", "23.59.59", "Startdate 31-DEC-2084 X X Stillwatch", 0.999)]
    [InlineData("local 2896-10-10T00:31:00", "10.10.yy", "00.31.00", "Startdate 10-OCT-2896 X X Stillwatch", 0)]
    [InlineData("local 1984-05-04T01:02:03", "04.05.yy", "01.02.03", "Startdate 04-MAY-1984 X X Stillwatch", 0)]
    [InlineData("zoned 2026-03-01T22:15:30+02:00", "01.03.26", "22.15.30", "Startdate 01-MAR-2026 X X Stillwatch utc_offset_+02:00", 0)]
    [InlineData("zoned 2026-03-01T22:15:30-03:30", "01.03.26", "22.15.30", "Startdate 01-MAR-2026 X X Stillwatch utc_offset_-03:30", 0)]
    [InlineData("clock 03:04:05.5", "01.01.85", "03.04.05", "Startdate X X X Stillwatch", 0.5)]
    [InlineData("unknown", "01.01.85", "00.00.00", "Startdate X X X Stillwatch start_unknown", 0)]
    public void The_start_stands_in_the_header_as_far_as_it_is_known(string start, string date, string time, string field, double secondsAfter)
    {
        string text = start[(start.IndexOf(' ', StringComparison.Ordinal) + 1)..];
        RecordingStart known = start.Split(' ')[0] switch
        {
            "local" => new RecordingStart.Local(DateTime.Parse(text)),
            "zoned" => new RecordingStart.Zoned(DateTimeOffset.Parse(text)),
            "clock" => new RecordingStart.TimeOfDay(TimeOnly.Parse(text)),
            _ => new RecordingStart.Unknown(),
        };
        var (file, issues) = Written.Edf(Written.Of(Written.SpO2(97, 96)) with { Start = known });
        Assert.Equal((date, time, field), (file.Date, file.Time, file.Recording));
        Assert.Equal((decimal)secondsAfter, file.Onsets[0]);
        Assert.Equal(date.EndsWith("yy", StringComparison.Ordinal), issues.Any(i => i.Code == WriteIssueCodes.Date));
    }

    [Fact]
    public void No_identity_is_ever_written()
    {
        var (file, _) = Written.Edf(Written.Of(Written.SpO2(97)) with { Name = "Jane Doe 1950" });
        Assert.Equal("X X X X", file.Patient);
        Assert.DoesNotContain("Doe", file.Recording);
    }

    [Fact]
    public void The_averaging_of_the_source_stands_in_the_recording_field_where_it_is_known_R4()
    {
        var (file, _) = Written.Edf(Written.Of(Written.SpO2(97)) with { SourceAveraging = new SourceAveraging(new Duration(8000)) });
        Assert.EndsWith(" averaging_8000_ms", file.Recording);
    }

    [Fact]
    public void BDF_bears_its_own_marks()
    {
        var (file, _) = Written.Bdf(Written.Of(Written.SpO2(97, null)));
        Assert.Equal("\u00FFBIOSEMI", file.Version);
        Assert.Equal("BDF+C", file.Reserved);
        Assert.Equal("BDF Annotations", file.Signals[^1].Label);
        Assert.Equal("-8388608 = no number", file.Signals[0].Transducer);
    }

    [Fact]
    public void What_stands_for_no_number_and_for_no_row_is_said_at_the_end_of_the_transducer_field_and_only_where_it_is_used()
    {
        var full = Written.SpO2(97, 96, 95, 94, 93, 92);
        var missing = new Channel("PR", ChannelKind.PulseRate, "/min", full.Times, ValueColumn.Of([60, null, 61, 62, 63, 64]));
        var later = Written.SpO2(TimeAxis.Even(new SampleTime(2000), new Duration(1000), 1), 90);
        var both = Written.SpO2(Written.Times(0, 2000, 5000), null, 90, 91);
        var (file, _) = Written.Edf(Written.Of(full, missing, later, both));
        Assert.Equal(["", "-32768 = no number", "-32767 = no row", "period 2000 ms; -32768 = no number; -32767 = no row", ""], file.Signals.Select(s => s.Transducer));
        Assert.Equal([-32767, -32767, 90, -32767, -32767, -32767], file.Signals[2].Counts);
        Assert.Equal([-32768, -32767, 90, -32767, -32767, 91], file.Signals[3].Counts);
    }

    [Theory]
    // label, kind, unit, label in the file, unit in the file, listed
    [InlineData("SpO2 4", ChannelKind.SpO2, "%", "SpO2 4", "%", "")]
    [InlineData("Pulse", ChannelKind.PulseRate, "/min", "Pulse", "bpm", "")]
    [InlineData("Resp", ChannelKind.Other, "/min", "Resp", "/min", "")]
    [InlineData("SpO₂", ChannelKind.SpO2, "%", "SpO2", "%", "write.label")]
    [InlineData("SpO2 fraction", ChannelKind.SpO2, "%", "SpO2", "%", "write.label")]
    [InlineData("Sauerstoffsättigung", ChannelKind.SpO2, "%", "SpO2", "%", "write.label")]
    [InlineData("kanal b", ChannelKind.HeartRate, "/min", "Heart rate", "bpm", "write.label")]
    [InlineData("EDF Annotations", ChannelKind.Other, "", "EDF Annotation 2", "", "write.label")]
    [InlineData("", ChannelKind.Other, "", "Signal 1", "", "write.label")]
    [InlineData("Chest, the upper strap", ChannelKind.Other, "µV", "Chest, the upper", "uV", "write.label write.unit")]
    public void Labels_and_units_are_kept_where_they_fit_and_mean_the_same_and_listed_where_not(string label, ChannelKind kind, string unit, string written, string writtenUnit, string codes)
    {
        var channel = new Channel(label, kind, unit, TimeAxis.Even(default, new Duration(1000), 1), ValueColumn.Of([90]));
        var (file, issues) = Written.Edf(Written.Of(channel));
        Assert.Equal((written, writtenUnit), (file.Signals[0].Label, file.Signals[0].Unit));
        Assert.Equal(codes, string.Join(' ', issues.Select(i => i.Code).Order()));
    }

    [Fact]
    public void Labels_that_are_there_twice_are_numbered()
    {
        var (file, issues) = Written.Edf(Written.Of(Written.SpO2(97), Written.SpO2(96), Written.SpO2(95)));
        Assert.Equal(["SpO2", "SpO2 2", "SpO2 3", "EDF Annotations"], file.Signals.Select(s => s.Label));
        Assert.Equal(2, issues.Where(i => i.Code == WriteIssueCodes.Label).Sum(i => i.Count));
    }

    [Theory]
    // rates in samples per so many milliseconds, samples of each channel, then the length of a data record in seconds
    [InlineData("1/1000", 1, 1)]
    [InlineData("1/1000", 7207, 1)] // a prime number of seconds
    [InlineData("1/1000", 7210, 35)] // 7 · 2 · 5 · 103: the longest that is full to the end
    [InlineData("1/1000", 28_800, 60)] // a night: at most a minute
    [InlineData("1/1000 125/1000", 1, 1)]
    [InlineData("125/1000", 125 * 3600, 60)]
    [InlineData("1000/1000", 1000 * 60, 15)] // half of the 61 440 bytes that EDF recommends at most
    [InlineData("1/60000", 3, 60)]
    [InlineData("1/1000 1/60000", 1, 60)]
    [InlineData("1/2000 1/3000", 1, 6)]
    [InlineData("1/7", 142, 0.994)]
    [InlineData("50000/1000", 3, 0.5)]
    public void A_data_record_gives_whole_samples_of_every_signal_and_is_as_long_as_keeps_the_last_one_full(string rates, int samples, double seconds)
    {
        int?[] counts = [.. Enumerable.Range(0, samples).Select(i => (int?)(i % 7))];
        var channels = rates.Split(' ').Select(r => r.Split('/')).Select(r => Written.Pleth(SampleRate.Of(long.Parse(r[0]), long.Parse(r[1])), Calibration.Counts, counts));
        var (file, issues) = Written.Edf(Written.Of([.. channels]));
        Assert.Equal((decimal)seconds, file.RecordSeconds);
        Assert.DoesNotContain(issues, i => i.Code == WriteIssueCodes.RecordSize);
    }

    [Theory]
    // rows at one a second, then the length of a data record in seconds; never longer than a minute, and no place without a row is added
    [InlineData(28_800, 60)]
    [InlineData(7_230, 30)]
    [InlineData(7_207, 1)]
    [InlineData(599, 1)]
    public void A_night_of_slow_signals_is_written_in_longer_records_so_that_notes_do_not_swell_the_file(int rows, double seconds)
    {
        var night = Written.Of(Written.SpO2([.. Enumerable.Range(0, rows).Select(i => i % 50 == 7 ? null : (decimal?)(90 + i % 9))])) with
        {
            Annotations = [.. Enumerable.Range(0, 60).Select(i => new Annotation(new SampleTime(i * (rows * 1000L / 60) + 500), new Duration(30_000), "desaturation event: " + new string('x', 150), AnnotationOrigin.Event))],
        };
        foreach (var writer in new IRecordingWriter[] { new EdfRecordingWriter(), new BdfRecordingWriter() })
        {
            var (file, issues) = Written.As(writer, night);
            Assert.Equal((decimal)seconds, file.RecordSeconds);
            Assert.Empty(issues);
            var back = Tests.Writing.RoundTrip.Of(writer, night).Recording!;
            Assert.Equal(night.Annotations, back.Annotations);
            var channel = Assert.Single(back.Channels);
            Assert.Equal((rows, new Duration(1000)), (channel.Times.Count, channel.Times.Period));
            for (int i = 0; i < rows; i++) Assert.Equal(night.Channels[0].Values[i], channel.Values[i]);
            if (rows == 28_800) Assert.InRange(Tests.Writing.RoundTrip.Bytes(writer, night).Length, 1, 600_000);
        }
    }

    [Fact]
    public void A_data_record_beyond_what_EDF_recommends_is_listed()
    {
        var (file, issues) = Written.Edf(Written.Of(Written.Pleth(SampleRate.Of(2000, 1000), Calibration.Counts, 1), Written.SpO2(TimeAxis.Even(default, new Duration(60_000), 1), 97)));
        Assert.Equal(60m, file.RecordSeconds);
        Assert.Contains(issues, i => i.Code == WriteIssueCodes.RecordSize && i.Found.Contains("240", StringComparison.Ordinal));
    }

    [Fact]
    public void Stretches_without_any_row_are_left_out_and_the_file_says_that_it_is_discontinuous()
    {
        var (file, issues) = Written.Edf(Written.Of(Written.SpO2(Written.Times(0, 1000, 3_600_000, 3_601_000), 97, 96, 95, 94)));
        Assert.Equal("EDF+D", file.Reserved);
        Assert.Equal([0, 1, 3600, 3601], file.Onsets);
        Assert.Empty(issues);
    }

    [Fact]
    public void Rows_that_begin_later_leave_the_time_origin_where_it_is()
    {
        var (file, _) = Written.Edf(Written.Of(Written.SpO2(TimeAxis.Even(new SampleTime(7000), new Duration(1000), 2), 97, 96)));
        Assert.Equal([0, 7, 8], file.Onsets);
        Assert.Equal([(7000L, 97m), (8000L, 96m)], file.Rows(0));
    }

    [Fact]
    public void Rows_before_the_time_origin_become_the_beginning_of_the_file_with_a_start_as_much_earlier()
    {
        var recording = Written.Of(Written.SpO2(TimeAxis.Even(new SampleTime(-2500), new Duration(500), 2), 97, 96)) with
        {
            Start = new RecordingStart.Local(new DateTime(2026, 3, 1, 22, 0, 0)),
            Annotations = [new Annotation(new SampleTime(0), Duration.Zero, "here")],
        };
        var (file, issues) = Written.Edf(recording);
        Assert.Equal(("21.59.57", 0.5m), (file.Time, file.Onsets[0]));
        Assert.Equal((3m, null, "here"), file.Notes.Single());
        Assert.Contains(issues, i => i.Code == WriteIssueCodes.Origin);
    }
}
