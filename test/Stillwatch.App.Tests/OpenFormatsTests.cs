using System.Globalization;
using System.Text.Json;
using Stillwatch.App.Commands;
using Stillwatch.App.Tests.Running;

namespace Stillwatch.App.Tests;

/// <summary>
/// What <c>inspect</c> says of every open EDF, BDF and WFDB file: the test folders of three open EDF readers, and PhysioNet excerpts (ODC-BY 1.0). Rates,
/// channels and values were compared with a decoding of the files' bytes in numpy, apart from this program: 176 channels, none different.
/// </summary>
public sealed class OpenFormatsTests
{
    // file | format, or "not read" | channels | samples a second of the first | start | notes | codes of what was met (times), or why it was not read
    private const string Table = """
        edf/EDF.jl/bdf_test.bdf                               | BDF+C, 73 data records of 1 s                                      | 8   | 250  | 2020-02-02 02:20:20, zone unknown | 0    | channel.no-spo2, header.reserved, notes.none
        edf/EDF.jl/bdf_test.edf                               | EDF+C, 73 data records of 1 s                                      | 8   | 250  | 2020-02-02 02:20:20, zone unknown | 0    | channel.no-spo2, notes.none
        edf/EDF.jl/test.edf                                   | EDF+C, 6 data records of 1 s                                       | 139 | 512  | 2014-04-29 22:19:44, zone unknown | 5    | channel.no-spo2, record.large, signal.beyond-range x138
        edf/EDF.jl/test_uneven_samp.edf                       | EDF, 11 data records of 10 s                                       | 2   | 100  | unknown                           | 0    | channel.no-spo2, header.identification x2, record.surplus, start.date, start.time
        edf/edfio/SC4001EC-Hypnogram.edf                      | EDF+C, 1 data record                                               | 0   | -    | 1989-04-24 16:13:00, zone unknown | 154  | channel.no-spo2, header.identification
        edf/pyedflib/test_generator_datarec_generator_0_5.bdf | BDF+C, 60 data records of 0.5 s                                    | 5   | 2000 | 2000-01-01 00:00:00, zone unknown | 0    | channel.no-spo2
        edf/pyedflib/test_subsecond.edf                       | EDF+C, 698 data records of 1 s                                     | 1   | 128  | 2020-01-24 04:05:56, zone unknown | 4    | channel.no-spo2, header.identification, signal.scale
        edf/pyedflib/test_utf8.edf                            | EDF+C, 698 data records of 1 s                                     | 1   | 128  | 2020-01-24 04:05:56, zone unknown | 5    | channel.no-spo2, header.identification, signal.scale
        wfdb/records/041s/041s.hea                            | WFDB, 2 segments in fixed layout, 7 signals                        | 7   | 125  | 1994-10-26 08:26:04, zone unknown | 0    | channel.no-spo2
        wfdb/records/041s/041s01.hea                          | WFDB, 7 signals, format 212                                        | 7   | 125  | 1994-10-26 08:26:04, zone unknown | 0    | channel.no-spo2, header.comments
        wfdb/records/041s/041s02.hea                          | WFDB, 7 signals, format 212                                        | 7   | 125  | 1994-10-26 08:26:12, zone unknown | 0    | channel.no-spo2, header.comments
        wfdb/records/100.hea                                  | WFDB, 2 signals, format 212                                        | 2   | 360  | unknown                           | 2274 | channel.no-spo2, header.comments
        wfdb/records/1003.hea                                 | WFDB, 6 signals, format 16                                         | 0   | -    | unknown                           | 957  | channel.no-spo2, signal.no-file
        wfdb/records/100_3chan.hea                            | WFDB, 3 signals, format 212                                        | 3   | 360  | unknown                           | 0    | channel.no-spo2, header.comments
        wfdb/records/a103l.hea                                | WFDB, 3 signals, format 16                                         | 3   | 250  | unknown                           | 0    | channel.no-spo2, header.comments
        wfdb/records/binformats.hea                           | WFDB, 10 signals, format 8, 16, 61, 80, 160, 212, 310, 311, 24, 32 | 10  | 200  | unknown                           | 0    | channel.no-spo2
        wfdb/records/s00001/3248903_layout.hea                | not read                                                           | 0   | -    | -                                 | 0    | signals without a file, and no annotations
        wfdb/records/s00001/3975656_0001.hea                  | WFDB, 2 signals, format 80                                         | 2   | 125  | 00:31:51, date unknown            | 0    | channel.no-spo2
        wfdb/records/s00001/3975656_0002.hea                  | WFDB, 2 signals, format 80                                         | 2   | 125  | 00:32:45, date unknown            | 0    | channel.no-spo2
        wfdb/records/s00001/3975656_0003.hea                  | WFDB, 2 signals, format 80                                         | 2   | 125  | 00:32:46, date unknown            | 0    | channel.no-spo2
        wfdb/records/s00001/3975656_0004.hea                  | WFDB, 2 signals, format 80                                         | 2   | 125  | 00:32:57, date unknown            | 0    | channel.no-spo2
        wfdb/records/s00001/3975656_0005.hea                  | WFDB, 2 signals, format 80                                         | 2   | 125  | 00:33:01, date unknown            | 0    | channel.no-spo2
        wfdb/records/s00001/3975656_0006.hea                  | WFDB, 2 signals, format 80                                         | 2   | 125  | 02:34:12, date unknown            | 0    | channel.no-spo2
        wfdb/records/s00001/3975656_0007.hea                  | WFDB, 2 signals, format 80                                         | 2   | 125  | 05:28:12, date unknown            | 0    | channel.no-spo2
        wfdb/records/s00001/3975656_0008.hea                  | WFDB, 2 signals, format 80                                         | 2   | 125  | 05:28:22, date unknown            | 0    | channel.no-spo2
        wfdb/records/s00001/3975656_0009.hea                  | not read                                                           | 0   | -    | -                                 | 0    | no file "3975656_0009.dat"
        wfdb/records/s00001/3975656_0010.hea                  | not read                                                           | 0   | -    | -                                 | 0    | no file "3975656_0010.dat"
        wfdb/records/s00001/3975656_0011.hea                  | not read                                                           | 0   | -    | -                                 | 0    | no file "3975656_0011.dat"
        wfdb/records/s00001/3975656_0012.hea                  | WFDB, 3 signals, format 80                                         | 3   | 125  | 08:35:12, date unknown            | 0    | channel.no-spo2
        wfdb/records/s00001/3975656_0013.hea                  | WFDB, 3 signals, format 80                                         | 3   | 125  | 08:35:48, date unknown            | 0    | channel.no-spo2
        wfdb/records/s00001/3975656_0014.hea                  | WFDB, 2 signals, format 80                                         | 2   | 125  | 08:38:12, date unknown            | 0    | channel.no-spo2
        wfdb/records/s00001/3975656_0015.hea                  | WFDB, 3 signals, format 80                                         | 3   | 125  | 08:39:12, date unknown            | 0    | channel.no-spo2
        wfdb/records/s00001/3975656_0016.hea                  | WFDB, 2 signals, format 80                                         | 2   | 125  | 08:44:12, date unknown            | 0    | channel.no-spo2
        wfdb/records/s00001/3975656_layout.hea                | not read                                                           | 0   | -    | -                                 | 0    | signals without a file, and no annotations
        wfdb/records/s00001/s00001-2896-10-09-01-56.hea       | not read                                                           | 0   | -    | -                                 | 0    | signals without a file, and no annotations
        wfdb/records/s00001/s00001-2896-10-09-01-56n.hea      | WFDB, 10 signals, format 16                                        | 10  | -    | 2896-10-09 01:56:25, zone unknown | 0    | header.comments, rate.snapped
        wfdb/records/s00001/s00001-2896-10-10-00-31.hea       | WFDB, 20 segments in variable layout, 4 signals                    | 4   | 125  | 2896-10-10 00:31:25, zone unknown | 0    | channel.no-spo2, header.comments, segment.gap x4, signal.calibration-changes x4, signal.no-file x3
        wfdb/records/s00001/s00001-2896-10-10-00-31n.hea      | WFDB, 10 signals, format 16                                        | 10  | 1/60 | 2896-10-10 00:31:25, zone unknown | 0    | header.comments, rate.snapped
        wfdb/records/test01_00s.hea                           | WFDB, 4 signals, format 16                                         | 4   | 500  | unknown                           | 0    | channel.no-spo2, header.comments
        """;

    public static TheoryData<string> Rows => [.. Table.Split('\n').Select(l => l.Trim())];

    [Theory]
    [MemberData(nameof(Rows))]
    public void Inspect_says_of_an_open_file_what_stands_in_the_table(string row)
    {
        string[] cells = [.. row.Split('|').Select(c => c.Trim())];
        string path = OpenRecordings.Path(cells[0]);
        var root = Ran.With("inspect", path, "--json").Json();
        Assert.Equal(cells, cells.Select((_, i) => Said(root, i, cells[0])));

        var page = Ran.With("inspect", path);
        Assert.Equal(cells[1] == "not read" ? ExitCode.Unreadable : ExitCode.Done, page.ExitCode);
        Assert.All(page.Out.Split('\n'), line => Assert.True(line.Length <= 100, line));
        Assert.True(page.Out.Split('\n').Length <= 75, "more than a page");
        Assert.DoesNotContain(page.Out, c => char.IsControl(c) && c != '\n');
        Assert.DoesNotContain("<age>", page.Out, StringComparison.Ordinal);
    }

    [Fact]
    public void Every_open_file_of_these_kinds_stands_in_the_table()
    {
        string[] listed = [.. Table.Split('\n').Select(r => r.Split('|')[0].Trim()).Order(StringComparer.Ordinal)];
        string folder = Path.GetFullPath(Path.Combine(Path.GetDirectoryName(OpenRecordings.Path("edf/expected_headers_and_values.json"))!, ".."));
        string[] there = [.. new[] { "edf", "wfdb/records" }.SelectMany(f => Directory.EnumerateFiles(Path.Combine(folder, f), "*", SearchOption.AllDirectories))
            .Where(f => Path.GetExtension(f) is ".edf" or ".bdf" or ".hea").Select(f => Path.GetRelativePath(folder, f).Replace('\\', '/')).Order(StringComparer.Ordinal)];
        Assert.Equal(there, listed);
    }

    private static string Said(JsonElement root, int column, string file)
    {
        if (column == 0) return file;
        if (root.GetProperty("unreadable").EnumerateArray().FirstOrDefault() is { ValueKind: JsonValueKind.Object } unread)
            return column switch { 1 => "not read", 2 or 5 => "0", 6 => unread.GetProperty("found").GetString()!, _ => "-" };
        var one = root.GetProperty("recordings")[0];
        var channels = one.GetProperty("channels");
        return column switch
        {
            1 => one.GetProperty("fileFormat").GetString()!,
            2 => channels.GetArrayLength().ToString(CultureInfo.InvariantCulture),
            3 => channels.GetArrayLength() == 0 ? "-" : RateOf(channels[0].GetProperty("rateHz")),
            4 => one.GetProperty("startWords").GetString()!,
            5 => one.GetProperty("annotations").GetInt32().ToString(CultureInfo.InvariantCulture),
            _ => string.Join(", ", one.GetProperty("issues").EnumerateArray().GroupBy(i => i.GetProperty("code").GetString()!)
                .OrderBy(g => g.Key, StringComparer.Ordinal).Select(g => g.Count() == 1 ? g.Key : $"{g.Key} x{g.Count()}")),
        };
    }

    private static string RateOf(JsonElement rate) => rate.ValueKind == JsonValueKind.Null ? "-"
        : Math.Abs(rate.GetDouble() * 60 - 1) < 1e-4 ? "1/60"
        : rate.GetDouble().ToString("0.######", CultureInfo.InvariantCulture);
}
