using System.Globalization;
using Stillwatch.Formats;
using Stillwatch.Formats.Csv;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Accuracy.Recordings;

/// <summary>Open recordings made by others, read in place: beside the checkout, or in the folder that STILLWATCH_DATA names.</summary>
internal sealed class OpenData(string folder)
{
    private static readonly HashSet<ChannelKind> Waveforms = [ChannelKind.Pleth, ChannelKind.Other];

    private readonly string folder = folder;

    /// <summary>Where the recordings should be, whether they are there or not.</summary>
    public static string Folder()
    {
        if (Environment.GetEnvironmentVariable("STILLWATCH_DATA") is { Length: > 0 } told) return told;
        for (var above = new DirectoryInfo(AppContext.BaseDirectory); above is not null; above = above.Parent)
        {
            if (File.Exists(Path.Combine(above.FullName, "Stillwatch.slnx"))) return Path.Combine(above.Parent?.FullName ?? "/", "shared", "data");
        }

        return Path.Combine("..", "shared", "data");
    }

    public bool Holds(string part) => Path.Exists(Path.Combine(folder, part));

    /// <summary>A table of waveforms at an exact rate, its time column (if there is one) passed over.</summary>
    public Recording EvenWaveforms(string file, SampleRate rate)
    {
        var read = Read(file, new CsvReadOptions { Map = ColumnMap.Parse("time=none"), DeclaredPeriod = rate.Period, Wanted = Waveforms });
        // A period in whole milliseconds is not 30 Hz: over a quarter of an hour it would lose ten seconds.
        var times = TimeAxis.Even(default, rate, read.Channels[0].Times.Count);
        return read with { Channels = [.. read.Channels.Select(c => new Channel(c.Label, c.Kind, c.Unit, times, c.Values))] };
    }

    /// <summary>A table of waveforms with its own, perhaps uneven, times in milliseconds (said by us: the file does not, and the reader would doubt).</summary>
    public Recording TimedWaveforms(string file) => Read(file, new CsvReadOptions { Map = ColumnMap.Parse("time-unit=ms"), Wanted = Waveforms });

    /// <summary>A table of numerics, every recognised channel.</summary>
    public Recording Numerics(string file) => Read(file, CsvReadOptions.Default);

    /// <summary>Columns of plain numbers, column by column, a header line skipped; empty and textual cells are left out.</summary>
    public IReadOnlyList<double[]> Columns(string file, int count)
    {
        var columns = Enumerable.Range(0, count).Select(_ => new List<double>()).ToArray();
        foreach (string line in File.ReadLines(Path.Combine(folder, file)))
        {
            string[] cells = line.Split(',', StringSplitOptions.TrimEntries);
            for (int c = 0; c < count && c < cells.Length; c++)
            {
                if (double.TryParse(cells[c], NumberStyles.Float, CultureInfo.InvariantCulture, out double value)) columns[c].Add(value);
            }
        }

        return [.. columns.Select(c => c.ToArray())];
    }

    /// <summary>Plain numbers with blanks or line ends between them.</summary>
    public double[] Numbers(string file) =>
        [.. File.ReadAllText(Path.Combine(folder, file)).Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries).Select(n => double.Parse(n, CultureInfo.InvariantCulture))];

    /// <summary>A channel's numbers, NaN where a row has none.</summary>
    public static double[] Values(Channel channel)
    {
        var values = new double[channel.Times.Count];
        Span<double> chunk = new double[TimeAxis.ChunkLength];
        for (int c = 0, at = 0; c < channel.Times.ChunkCount; c++)
        {
            int length = channel.CopyValues(c, chunk);
            chunk[..length].CopyTo(values.AsSpan(at));
            at += length;
        }

        return values;
    }

    private Recording Read(string file, CsvReadOptions options)
    {
        using var stream = File.OpenRead(Path.Combine(folder, file));
        return CsvReader.Read(stream, file, options).Recording ?? throw new InvalidDataException($"{file}: found no usable row.");
    }
}
