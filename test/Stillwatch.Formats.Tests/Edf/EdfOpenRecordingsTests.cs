using System.Text;
using System.Text.Json;
using Stillwatch.Formats.Edf;
using Stillwatch.Formats.Edf.Header;
using Stillwatch.Formats.Tests.Csv;
using Stillwatch.Signals;
using Stillwatch.Testing;
using Stillwatch.Time;

namespace Stillwatch.Formats.Tests.Edf;

/// <summary>
/// Files of the test folders of three open readers, and what an independent decoder and MNE 1.3.0 read in them:
/// <c>edf/expected_headers_and_values.json</c> of the open recordings.
/// </summary>
public class EdfOpenRecordingsTests
{
    public static TheoryData<string> Files =>
    [
        "EDF.jl/bdf_test.bdf", "EDF.jl/bdf_test.edf", "EDF.jl/test.edf", "EDF.jl/test_uneven_samp.edf", "edfio/SC4001EC-Hypnogram.edf",
        "pyedflib/test_generator_datarec_generator_0_5.bdf", "pyedflib/test_subsecond.edf", "pyedflib/test_utf8.edf",
    ];

    [Theory]
    [MemberData(nameof(Files))]
    public void Every_header_field_is_as_the_independent_decoder_has_it(string file)
    {
        var expected = Expected(file);
        byte[] bytes = File.ReadAllBytes(OpenRecordings.Path("edf/" + file));
        var fields = new HeaderFields(bytes, expected.GetProperty("n_signals").GetInt32(), new IssueLog());
        var texts = new (EdfField Field, string Key)[]
        {
            (EdfFields.Version, "version"), (EdfFields.Patient, "patient"), (EdfFields.Recording, "recording"), (EdfFields.StartDate, "startdate"),
            (EdfFields.StartTime, "starttime"), (EdfFields.Reserved, "reserved"),
        };
        Assert.All(texts, t => Assert.Equal(expected.GetProperty(t.Key).GetString(), fields.Text(t.Field)));
        Assert.Equal(expected.GetProperty("header_bytes").GetInt64(), fields.Whole(EdfFields.HeaderBytes));
        Assert.Equal(expected.GetProperty("n_records").GetInt64(), fields.Whole(EdfFields.RecordCount));
        Assert.Equal(expected.GetProperty("record_duration_s").GetDecimal(), fields.Number(EdfFields.RecordDuration));
        Assert.Equal(expected.GetProperty("n_signals").GetInt64(), fields.Whole(EdfFields.SignalCount));

        var ofSignal = new (EdfField Field, string Key)[]
        {
            (EdfFields.Label, "label"), (EdfFields.Transducer, "transducer"), (EdfFields.Dimension, "dim"), (EdfFields.PhysicalMinimum, "pmin"), (EdfFields.PhysicalMaximum, "pmax"),
            (EdfFields.DigitalMinimum, "dmin"), (EdfFields.DigitalMaximum, "dmax"), (EdfFields.Prefiltering, "prefilter"), (EdfFields.SamplesPerRecord, "nsamp"),
        };
        int index = 0;
        foreach (var signal in expected.GetProperty("signals").EnumerateArray())
        {
            Assert.All(ofSignal, t => Assert.Equal(signal.GetProperty(t.Key).GetString(), fields.Text(t.Field, index)));
            index++;
        }

        Assert.Equal(fields.Whole(EdfFields.SignalCount), index);
    }

    [Theory]
    [MemberData(nameof(Files))]
    public void Every_sample_is_as_the_independent_decoder_has_it(string file)
    {
        var result = Read(file);
        var recording = result.Recording!;
        int at = 0;
        foreach (var signal in Expected(file).GetProperty("signals").EnumerateArray().Where(s => !s.TryGetProperty("is_annotation", out _)))
        {
            var channel = recording.Channels[at++];
            Assert.Equal(signal.GetProperty("label").GetString(), channel.Label);
            Assert.Equal(signal.GetProperty("dim").GetString(), channel.Unit);
            if (!signal.TryGetProperty("n", out var n)) continue;
            Assert.Equal(n.GetInt32(), channel.Times.Count);
            Assert.Equal(signal.GetProperty("fs").GetDouble(), channel.Times.Rate!.Value.Hertz, 9);
            var counts = Enumerable.Range(0, channel.Counts!.Count).Select(i => channel.Counts[i]).ToList();
            Assert.Equal(signal.GetProperty("digital_first5").EnumerateArray().Select(e => e.GetInt32()), counts.Take(5));
            Assert.Equal(signal.GetProperty("digital_sum").GetInt64(), counts.Sum(c => (long)c));
            var values = Values(channel);
            double tolerance = 1e-9 * Math.Max(1, values.Max(Math.Abs));
            Assert.Equal(signal.GetProperty("phys_mean").GetDouble(), values.Average(), tolerance);
            Assert.Equal(signal.GetProperty("phys_min").GetDouble(), values.Min(), tolerance);
            Assert.Equal(signal.GetProperty("phys_max").GetDouble(), values.Max(), tolerance);
        }

        Assert.Equal(at, recording.Channels.Count);
        new EdfTwin(File.ReadAllBytes(OpenRecordings.Path("edf/" + file))).Account(result);
    }

    // MNE shows annotations within the samples alone, and read UTF-8 as Latin-1 in 1.3.0.
    [Theory]
    [MemberData(nameof(Files))]
    public void Annotations_and_lengths_are_as_MNE_1_3_0_reads_them(string file)
    {
        var mne = Expected(file).GetProperty("mne");
        Assert.Equal("1.3.0", mne.GetProperty("version").GetString());
        var recording = Read(file).Recording!;
        Assert.Equal(mne.GetProperty("ch").EnumerateArray().Select(e => e.GetString()), recording.Channels.Select(c => c.Label));
        if (recording.Channels.Count == 0) return;
        var fastest = recording.Channels.MaxBy(c => c.Times.Rate!.Value.Hertz)!;
        double rate = mne.GetProperty("sfreq").GetDouble();
        Assert.Equal(mne.GetProperty("n_times").GetInt32(), fastest.Times.Count / fastest.Times.Rate!.Value.Hertz * rate, 6);
        if (file != "EDF.jl/test_uneven_samp.edf") Assert.Equal(rate, fastest.Times.Rate!.Value.Hertz, 9);
        Assert.Equal(mne.GetProperty("n_annotations").GetInt32(), recording.Annotations.Count);
        foreach (var (expected, note) in mne.GetProperty("annotations_first5").EnumerateArray().Zip(recording.Annotations))
        {
            Assert.Equal(expected[0].GetDouble(), note.Time.Seconds, 0.000_501);
            Assert.Equal(expected[1].GetDouble(), note.Length.Seconds, 0.000_501);
            Assert.Equal(expected[2].GetString(), Encoding.Latin1.GetString(Encoding.UTF8.GetBytes(note.Text)));
        }
    }

    [Theory]
    [InlineData("EDF.jl/bdf_test.bdf", "local 2020-02-02T02:20:20", "BDF+C, 73 data records of 1 s", "channel.no-spo2 header.reserved notes.none")]
    [InlineData("EDF.jl/bdf_test.edf", "local 2020-02-02T02:20:20", "EDF+C, 73 data records of 1 s", "channel.no-spo2 notes.none")]
    [InlineData("EDF.jl/test.edf", "local 2014-04-29T22:19:44", "EDF+C, 6 data records of 1 s", "channel.no-spo2 record.large signal.beyond-range")]
    [InlineData("EDF.jl/test_uneven_samp.edf", "unknown", "EDF, 11 data records of 10 s", "channel.no-spo2 header.identification record.surplus start.date start.time")]
    [InlineData("edfio/SC4001EC-Hypnogram.edf", "local 1989-04-24T16:13:00", "EDF+C, 1 data record", "channel.no-spo2 header.identification")]
    [InlineData("pyedflib/test_generator_datarec_generator_0_5.bdf", "local 2000-01-01T00:00:00", "BDF+C, 60 data records of 0.5 s", "channel.no-spo2")]
    [InlineData("pyedflib/test_subsecond.edf", "local 2020-01-24T04:05:56.394", "EDF+C, 698 data records of 1 s", "channel.no-spo2 header.identification signal.scale")]
    [InlineData("pyedflib/test_utf8.edf", "local 2020-01-24T04:05:56.394", "EDF+C, 698 data records of 1 s", "channel.no-spo2 header.identification signal.scale")]
    public void Each_file_starts_when_it_says_and_its_oddities_are_listed(string file, string start, string format, string codes)
    {
        var result = Read(file);
        Assert.Equal((start, format, codes), (result.Recording!.Start.Show(), result.Format, result.Codes()));
    }

    [Fact]
    public void A_hypnogram_without_samples_keeps_all_its_annotations()
    {
        var notes = Read("edfio/SC4001EC-Hypnogram.edf").Recording!.Annotations;
        Assert.Equal(new Annotation(default, new Duration(30_630_000), "Sleep stage W"), notes[0]);
        Assert.Equal(new Annotation(new SampleTime(30_630_000), new Duration(120_000), "Sleep stage 1"), notes[1]);
        Assert.All(notes.Zip(notes.Skip(1)), pair => Assert.Equal(pair.First.Time + pair.First.Length, pair.Second.Time));
    }

    [Fact]
    public void An_annotation_in_Chinese_is_read_as_UTF_8() =>
        Assert.Contains(Read("pyedflib/test_utf8.edf").Recording!.Annotations, n => n.Text == "\u4e2d\u6587\u6d4b\u8bd5\u516b\u4e2a\u5b57");

    private static ReadResult Read(string file) =>
        new EdfRecordingReader().Read(new RecordingSource(Path.GetFileName(file), new DiskFolder(Path.GetDirectoryName(OpenRecordings.Path("edf/" + file))!)), new ReadOptions());

    private static JsonElement Expected(string file) =>
        JsonDocument.Parse(File.ReadAllBytes(OpenRecordings.Path("edf/expected_headers_and_values.json"))).RootElement.GetProperty(file);

    private static List<double> Values(Channel channel)
    {
        var values = new List<double>();
        double[] chunk = new double[TimeAxis.ChunkLength];
        for (int c = 0; c < channel.Times.ChunkCount; c++) values.AddRange(chunk.Take(channel.CopyValues(c, chunk)));
        return values;
    }
}
