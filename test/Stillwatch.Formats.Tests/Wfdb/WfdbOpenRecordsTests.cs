using System.Globalization;
using Stillwatch.Formats.Labels;
using Stillwatch.Formats.Wfdb;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Formats.Tests.Wfdb;

/// <summary>Open records against what the original C tools print of them: rdsamp and rdann, with the commands beside the expected files.</summary>
public class WfdbOpenRecordsTests
{
    [Fact]
    public void Format_16_gives_the_counts_of_rdsamp()
    {
        // rdsamp -r test01_00s
        var result = OpenWfdb.Read("test01_00s");
        OpenWfdb.Same(OpenWfdb.Expected("record-1a"), 0, false, [.. result.Recording!.Channels]);
        Assert.Equal(4000, result.Recording.Channels[0].Times.Count);
        Assert.Equal(SampleRate.Of(500, 1000), result.Recording.Channels[0].Times.Rate);
    }

    [Fact]
    public void A_byte_offset_is_passed_over_and_values_in_units_match()
    {
        // rdsamp -r a103l -f 50 -t 160 -s 2 0 -P
        var result = OpenWfdb.Read("a103l");
        OpenWfdb.Same(OpenWfdb.Expected("record-1b"), 50 * 250, true, result.Channel("PLETH"), result.Channel("II"));
        // rdsamp -r a103l -f 80 -s 0 1
        OpenWfdb.Same(OpenWfdb.Expected("record-1c"), 80 * 250, false, result.Channel("II"), result.Channel("V"));
        Assert.Equal(ChannelKind.Pleth, result.Channel("PLETH").Kind);
        Assert.Equal("NU", result.Channel("PLETH").Unit);
        var comments = result.Issue(WfdbIssueCodes.HeaderComments);
        Assert.Equal("2 comment lines", comments.Found);
        Assert.DoesNotContain("Asystole", comments.ToString(), StringComparison.Ordinal); // a diagnosis, or a name, would be shown the same way
        Assert.Contains("may identify a patient", comments.Assumed, StringComparison.Ordinal);
    }

    [Fact]
    public void Every_signal_format_gives_the_counts_of_rdsamp()
    {
        // rdsamp -r binformats: formats 8, 16, 61, 80, 160, 212, 310, 311, 24, 32, a file each
        var result = OpenWfdb.Read("binformats");
        OpenWfdb.Same(OpenWfdb.Expected("record-1f.gz"), 0, false, [.. result.Recording!.Channels]);
        Assert.Equal("WFDB, 10 signals, format 8, 16, 61, 80, 160, 212, 310, 311, 24, 32", result.Format);
    }

    [Fact]
    public void Format_212_with_an_odd_number_of_samples_gives_the_values_of_rdsamp()
    {
        // rdsamp -r 100_3chan -P
        var result = OpenWfdb.Read("100_3chan");
        OpenWfdb.Same(OpenWfdb.Expected("record-2c"), 0, true, [.. result.Recording!.Channels]);
        Assert.Equal(999, result.Recording.Channels[2].Times.Count);
    }

    [Fact]
    public void Format_212_gives_the_counts_of_rdsamp()
    {
        // rdsamp -r 100 -f 0.002 -t 30 -s 1: 0.002 s is sample 0.72, rounded to sample 1
        var result = OpenWfdb.Read("100");
        OpenWfdb.Same(OpenWfdb.Expected("record-2b"), 1, false, result.Channel("V5"));
        Assert.Equal(650_000, result.Channel("MLII").Times.Count);
        Assert.Equal(SampleRate.Of(360, 1000), result.Channel("MLII").Times.Rate);
    }

    [Fact]
    public void A_fixed_layout_with_several_samples_per_frame_gives_the_counts_of_rdsamp()
    {
        // rdsamp -r 041s/ -s 3 2 1 -H: high resolution, slower signals stand still within a frame
        var result = OpenWfdb.Read("041s/041s");
        Channel pressure = result.Channel("ABP"), v = result.Channel("V"), i = result.Channel("I");
        Assert.Equal(2000, pressure.Times.Count);
        Assert.Equal(8000, v.Times.Count);
        Assert.Equal(SampleRate.Of(125, 1000), pressure.Times.Rate);
        Assert.Equal(SampleRate.Of(500, 1000), v.Times.Rate);
        var expected = OpenWfdb.Expected("record-multi-fixed-d.gz");
        // In counts the original prints the invalid code itself, -2048; here it is no number.
        Assert.Contains(expected, r => r[2] == -2048);
        OpenWfdb.Same([.. expected.Select(r => r[1..].Select(x => x == -2048 ? null : x).ToArray())], 0, false, v, i);
        Assert.All(Enumerable.Range(0, expected.Count), r => Assert.Equal(expected[r][0], OpenWfdb.CountAt(pressure, r / 4)));
        Assert.Equal(new RecordingStart.Local(new DateTime(1994, 10, 26, 8, 26, 4)), result.Recording!.Start);
        Assert.Equal(ChannelKind.Pleth, result.Channel("PLETH").Kind);
        Assert.DoesNotContain(result.Issues, x => x.Severity == IssueSeverity.Failure);
        Assert.DoesNotContain(result.Issues, x => x.Code == WfdbIssueCodes.SignalChecksum);
    }

    [Fact]
    public void A_variable_layout_gives_the_values_of_rdsamp_and_lists_the_segments_that_are_not_here()
    {
        var result = OpenWfdb.Read("s00001/s00001-2896-10-10-00-31");
        Assert.Equal("WFDB, 20 segments in variable layout, 4 signals", result.Format);
        Channel ii = result.Channel("II"), v = result.Channel("V"), pressure = result.Channel("ABP");
        // rdsamp ... -f s14428365 -t s14428375 -P; the third column, MCL1, is "-": no rows at these times
        const int from = 14_428_365;
        var a = OpenWfdb.Expected("record-multi-variable-a");
        foreach (var (channel, column) in new[] { (ii, 0), (v, 1), (pressure, 3) })
            OpenWfdb.Same([.. a.Select(r => new[] { r[column] })], channel.RowAt(from * 8L), true, channel);
        Assert.All(a, r => Assert.Null(r[2]));
        Assert.Equal(HasNumberAt(result.Channel("MCL1"), from * 8L), a[0][2] is not null);
        // rdsamp ... -f s14428364 -t s14428375 -P: its first row lies in a segment that is not here
        var b = OpenWfdb.Expected("record-multi-variable-b");
        foreach (var (channel, column) in new[] { (ii, 0), (v, 1), (pressure, 3) })
        {
            OpenWfdb.Same([.. b.Skip(1).Select(r => new[] { r[column] })], channel.RowAt(from * 8L), true, channel);
            Assert.False(HasNumberAt(channel, (from - 1) * 8L));
        }

        foreach (string missing in new[] { "3975656_0009.dat", "3975656_0010.dat", "3975656_0011.dat" })
            Assert.Single(result.Issues, i => i.Severity == IssueSeverity.Failure && i.Found.Contains(missing, StringComparison.Ordinal));
        Assert.Equal(3, result.Issues.Count(i => i.Severity == IssueSeverity.Failure));
        Assert.DoesNotContain(result.Issues, i => i.Code is WfdbIssueCodes.SignalChecksum or WfdbIssueCodes.SignalInitialValue);
        Assert.Equal(new RecordingStart.Local(new DateTime(2896, 10, 10, 0, 31, 25, 894)), result.Recording!.Start);
    }

    private static bool HasNumberAt(Channel channel, long milliseconds)
    {
        int row = channel.Times.IndexAtOrAfter(new SampleTime(milliseconds));
        return row < channel.Times.Count && channel.Times.TimeAt(row).Milliseconds == milliseconds && OpenWfdb.ValueAt(channel, row) is not null;
    }

    [Theory]
    [InlineData("3975656_0001", 6750)]
    [InlineData("3975656_0005", 906259)]
    [InlineData("3975656_0013", 18075)]
    public void A_segment_can_be_read_by_itself(string segment, int samples)
    {
        var result = OpenWfdb.Read("s00001/" + segment);
        Assert.All(result.Recording!.Channels, c => Assert.Equal(samples, c.Times.Count));
        Assert.DoesNotContain(result.Issues, i => i.Code is WfdbIssueCodes.SignalChecksum or WfdbIssueCodes.SignalInitialValue or WfdbIssueCodes.FileShort or WfdbIssueCodes.FileLong);
        Assert.IsType<RecordingStart.TimeOfDay>(result.Recording.Start);
    }

    [Fact]
    public void Intensive_care_numerics_at_one_a_minute_are_whole()
    {
        // facts of the data's README: 1 936 samples, 1 573 with SpO2 above 0, 363 zeros, none below 90
        var result = OpenWfdb.Read("s00001/s00001-2896-10-10-00-31n");
        var spo2 = result.Recording!.Find(ChannelKind.SpO2)!;
        Assert.Equal("SpO2", spo2.Label);
        Assert.Equal("%", spo2.Unit);
        Assert.Equal(SampleRate.Of(1, 60_000), spo2.Times.Rate);
        Assert.Equal(1935 * 60_000L, spo2.Times.Last.Milliseconds);
        var values = Enumerable.Range(0, spo2.Values.Count).Select(i => spo2.Values[i] / 1e6).ToList();
        Assert.Equal(1936, values.Count);
        Assert.Equal(1573, values.Count(v => v > 0));
        Assert.Equal(363, values.Count(v => v == 0));
        Assert.DoesNotContain(values, v => v is > 0 and < 90);
        Assert.Equal("PULSE", result.Recording.Find(ChannelKind.PulseRate)!.Label);
        Assert.Equal("HR", result.Recording.Find(ChannelKind.HeartRate)!.Label);
        Assert.Equal(new RecordingStart.Local(new DateTime(2896, 10, 10, 0, 31, 25, 894)), result.Recording.Start);
        Assert.Contains("0.0166666666667", result.Issue(WfdbIssueCodes.RateSnapped).Found, StringComparison.Ordinal);
        // -32768 is no reading of the cuff.
        var cuff = result.Channel("NBPSys");
        Assert.Equal(CountColumn.Missing, cuff.Counts![0]);
        Assert.DoesNotContain(result.Issues, i => i.Code is WfdbIssueCodes.SignalChecksum or WfdbIssueCodes.SignalInitialValue);
    }

    [Fact]
    public void Annotations_are_those_of_rdann_line_by_line()
    {
        // rdann -r 100 -a atr
        var read = WfdbAnnotationReader.Read(OpenWfdb.Source("100.atr"));
        var lines = read.Items.Select(a => $"{Clock(a.Tick),12}{a.Tick,9}{a.Symbol,6}{a.SubType,5}{a.Channel,5}{a.Number,5}{(a.Text is null ? "" : "\t" + a.Text)}");
        Assert.Equal(OpenWfdb.Text("ann-1").Split('\n', StringSplitOptions.RemoveEmptyEntries), lines);
        Assert.Empty(read.Issues);

        var recording = OpenWfdb.Read("100").Recording!;
        Assert.Equal(read.Items.Count, recording.Annotations.Count);
        Assert.Equal(new Annotation(new SampleTime(50), Duration.Zero, "(N"), recording.Annotations[0]);
        Assert.Equal(new Annotation(new SampleTime(214), Duration.Zero, "N"), recording.Annotations[1]);

        // rdann prints minutes, seconds and milliseconds.
        static string Clock(long tick)
        {
            long milliseconds = SampleRate.Of(360, 1000).MillisecondsAt(tick);
            return string.Create(CultureInfo.InvariantCulture, $"{milliseconds / 60_000}:{milliseconds / 1000 % 60:00}.{milliseconds % 1000:000}");
        }
    }

    [Fact]
    public void A_record_without_its_signal_file_gives_its_annotations_and_says_so()
    {
        var result = OpenWfdb.Read("1003");
        Assert.Empty(result.Recording!.Channels);
        Assert.NotEmpty(result.Recording.Annotations);
        var failure = result.Issue(WfdbIssueCodes.SignalNoFile);
        Assert.Equal(IssueSeverity.Failure, failure.Severity);
        Assert.Contains("1003.dat", failure.Found, StringComparison.Ordinal);
        Assert.Equal(6, failure.Count);
        // The file begins with definitions of its own symbols ("20 x signal source change"), which are no annotations, and each beat has a blank for a text.
        Assert.Equal(957, result.Recording.Annotations.Count);
        Assert.Equal(new Annotation(new SampleTime(203), Duration.Zero, "N"), result.Recording.Annotations[0]);
        Assert.DoesNotContain(result.Issues, i => i.Code == WfdbIssueCodes.AnnotationUnreadable);
    }

    [Theory]
    [InlineData("100.dat", "100")]
    [InlineData("a103l.mat", "a103l")]
    [InlineData("100.atr", "100")]
    public void A_data_file_opens_its_header(string file, string record)
    {
        var source = OpenWfdb.Source(file);
        byte[] head = File.ReadAllBytes(OpenRecordings.Path("wfdb/records/" + file)).AsSpan(0, 4096).ToArray();
        Assert.True(new WfdbRecordingReader().Recognises(head, file));
        Assert.Equal(record, RecordingReaders.Read(source, new ReadOptions()).Recording!.Name);
    }

    [Fact]
    public void A_data_file_without_a_header_of_its_name_is_refused_in_plain_words()
    {
        var error = Assert.Throws<UnreadableFileException>(() => new WfdbRecordingReader().Read(OpenWfdb.Source("s00001/3975656n.dat"), new ReadOptions()));
        Assert.Contains("3975656n.hea", error.Found, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("100")]
    [InlineData("100_3chan")]
    [InlineData("a103l")]
    [InlineData("binformats")]
    [InlineData("test01_00s")]
    public void Checksums_and_first_samples_agree(string record)
    {
        var result = OpenWfdb.Read(record);
        Assert.DoesNotContain(result.Issues, i => i.Severity == IssueSeverity.Failure || (i.Severity == IssueSeverity.Doubt && i.Code != ChannelIssueCodes.ChannelNoSpO2));
    }
}
