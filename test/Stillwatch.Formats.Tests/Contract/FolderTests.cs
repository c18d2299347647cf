using System.Text;

namespace Stillwatch.Formats.Tests.Contract;

/// <summary>Which files of a folder are recordings of their own.</summary>
public sealed class FolderTests
{
    [Fact]
    public void Segments_side_files_and_data_files_are_no_recordings_of_their_own()
    {
        var files = new Dictionary<string, string>
        {
            ["night.hea"] = "night/4 1 1 30 22:00:00\nnight_layout 0\nnight_0001 10\n~ 10\nnight_0002 10\n",
            ["night_layout.hea"] = "night_layout 1 1 0\n~ 0 1/% 8 0 0 0 0 SpO2\n",
            ["night_0001.hea"] = "night_0001 1 1 10\nnight_0001.dat 80 1/% 8 0 97 0 0 SpO2\n",
            ["night_0001.dat"] = new string('a', 10),
            ["night_0002.hea"] = "night_0002 1 1 10\nnight_0002.dat 80 1/% 8 0 97 0 0 SpO2\n",
            ["lone_0001.hea"] = "lone_0001 1 1 10\nlone_0001.dat 80 1/% 8 0 97 0 0 SpO2\n", // its master is not here: it is all there is
            ["table.csv"] = "time_s,SpO2\n0,97\n",
            ["table.CSV"] = "time_s,SpO2\n0,97\n",
            ["ward.json"] = "{ \"format\": \"stillwatch.ward/1\", \"recordings\": [] }",
            ["table.csv.manifest.json"] = "{ \"format\": \"stillwatch.export/1\" }",
            ["notes.pdf"] = "%PDF",
        };
        var folder = new RecordingFolder(files.ToDictionary(f => f.Key, f => Encoding.ASCII.GetBytes(f.Value)));
        Assert.Equal(["lone_0001.hea", "night.hea", "table.CSV", "table.csv"], RecordingReaders.RecordingsAmong(folder, files.Keys.Order(StringComparer.Ordinal)));
    }

    [Fact]
    public void A_damaged_header_hides_no_other_recording()
    {
        var folder = new RecordingFolder(new Dictionary<string, byte[]> { ["a.hea"] = [0xFF, 0, 0x14], ["b.hea"] = "b 0 1\n"u8.ToArray() });
        Assert.Equal(["a.hea", "b.hea"], RecordingReaders.RecordingsAmong(folder, ["a.hea", "b.hea"]));
    }
}
