using Stillwatch.Signals;

namespace Stillwatch.Formats.Tests.Writing;

/// <summary>Recordings that others made and published go out into every format that holds everything, and come back whole.</summary>
public class OpenRecordingsExportTests
{
    [Theory]
    [InlineData("edf/EDF.jl/test.edf")]
    [InlineData("edf/EDF.jl/test_uneven_samp.edf")]
    [InlineData("edf/EDF.jl/bdf_test.bdf")]
    [InlineData("edf/pyedflib/test_subsecond.edf")]
    [InlineData("edf/pyedflib/test_generator_datarec_generator_0_5.bdf")]
    [InlineData("edf/pyedflib/test_utf8.edf")]
    [InlineData("edf/edfio/SC4001EC-Hypnogram.edf")]
    [InlineData("wfdb/records/a103l.hea")]
    [InlineData("wfdb/records/s00001/s00001-2896-10-10-00-31n.hea")]
    public void What_an_open_recording_holds_comes_back_from_every_format_that_holds_everything(string relative)
    {
        string path = OpenRecordings.Path(relative);
        var recording = RecordingReaders.Read(new RecordingSource(Path.GetFileName(path), new DiskFolder(Path.GetDirectoryName(path)!)), new ReadOptions()).Recording!;
        Assert.True(recording.Channels.Count + recording.Annotations.Count > 0);
        foreach (string extension in new[] { ".csv", ".parquet", ".json" })
            Assert.Equal(AnyRecording.Print(recording), AnyRecording.Print(RoundTrip.Of(RecordingWriters.For("night" + extension)!, recording).Recording!));
    }
}
