using System.Globalization;
using System.IO.Compression;
using System.Text.RegularExpressions;
using Stillwatch.Formats.Wfdb;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Formats.Tests.Wfdb;

/// <summary>The open WFDB records beside the checkout, and what the original C tools print of them (commands in EXPECTED.txt there).</summary>
internal static partial class OpenWfdb
{
    public static ReadResult Read(string record, ReadOptions? options = null) => new WfdbRecordingReader().Read(Source(record + ".hea"), options ?? new ReadOptions());

    public static RecordingSource Source(string file)
    {
        string path = OpenRecordings.Path("wfdb/records/" + file);
        return new RecordingSource(Path.GetFileName(path), new DiskFolder(Path.GetDirectoryName(path)!));
    }

    /// <summary>The numbers of a file in expected/, row by row; null for "-".</summary>
    public static List<double?[]> Expected(string name)
    {
        string text = Text(name);
        return [.. text.Split('\n', StringSplitOptions.RemoveEmptyEntries).Select(line =>
            Blanks().Split(line.Trim()).Select(cell => cell == "-" ? (double?)null : double.Parse(cell, CultureInfo.InvariantCulture)).ToArray())];
    }

    public static string Text(string name)
    {
        string path = OpenRecordings.Path("wfdb/expected/" + name);
        using var stream = File.OpenRead(path);
        using var reader = new StreamReader(name.EndsWith(".gz", StringComparison.Ordinal) ? new GZipStream(stream, CompressionMode.Decompress) : stream);
        return reader.ReadToEnd();
    }

    /// <summary>Compares columns of what was read from a row on with all expected rows: counts exactly, values to the printed digits ("-": no number).</summary>
    public static void Same(List<double?[]> expected, int firstRow, bool inUnits, params Channel[] channels)
    {
        Assert.NotEmpty(expected);
        Assert.All(expected, row => Assert.Equal(channels.Length, row.Length));
        for (int c = 0; c < channels.Length; c++)
        {
            for (int r = 0; r < expected.Count; r++)
            {
                double? found = inUnits ? ValueAt(channels[c], firstRow + r) : CountAt(channels[c], firstRow + r);
                double? wanted = expected[r][c];
                if (wanted is null != found is null || (wanted is not null && Math.Abs(wanted.Value - found!.Value) > (inUnits ? 5.01e-9 : 0)))
                    Assert.Fail($"{channels[c].Label}, sample {firstRow + r}: found {found?.ToString("R", CultureInfo.InvariantCulture) ?? "-"}, expected {wanted?.ToString("R", CultureInfo.InvariantCulture) ?? "-"}");
            }
        }
    }

    public static double? CountAt(Channel channel, int index) => channel.Counts![index] is var count && count == CountColumn.Missing ? null : count;

    public static double? ValueAt(Channel channel, int index)
    {
        if (channel.Counts is { } counts) return counts[index] == CountColumn.Missing ? null : counts.Calibration.ValueOf(counts[index]);
        return channel.Values[index] == ValueColumn.Missing ? null : channel.Values[index] / 1e6;
    }

    public static Channel Channel(this ReadResult result, string label) => result.Recording!.Channels.Single(c => c.Label == label);

    public static ReadIssue Issue(this ReadResult result, string code) => Assert.Single(result.Issues, i => i.Code == code);

    /// <summary>The index of the row at a time.</summary>
    public static int RowAt(this Channel channel, long milliseconds)
    {
        int row = channel.Times.IndexAtOrAfter(new SampleTime(milliseconds));
        Assert.Equal(milliseconds, channel.Times.TimeAt(row).Milliseconds);
        return row;
    }

    [GeneratedRegex(@"\s+")]
    private static partial Regex Blanks();
}
