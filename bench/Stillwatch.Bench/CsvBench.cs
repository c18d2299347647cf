using System.Diagnostics;
using System.Globalization;
using System.Runtime.InteropServices;
using Stillwatch.Formats.Csv;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Bench;

/// <summary>
/// Reads one CSV of some million rows (ISO time, SpO2, pulse) with our reader and with pandas, in turns in one run, and prints both
/// medians and their ratio. Both parse every time and type every number; both answers are compared.
/// </summary>
/// <remarks>Options: <c>--tiny</c> (50 000 rows, one round), <c>--rows N</c>, <c>--rounds N</c>. Without pandas, ours alone.</remarks>
public static class CsvBench
{
    private const int Seed = 20261125;

    private static readonly string[] Whole = [.. Enumerable.Range(0, 101).Select(n => n.ToString(CultureInfo.InvariantCulture))];

    public static int Run(string[] args)
    {
        bool tiny = args.Contains("--tiny");
        int rows = Option(args, "--rows", tiny ? 50_000 : 10_000_000);
        int rounds = Option(args, "--rounds", tiny ? 1 : 5);
        string folder = Directory.CreateTempSubdirectory("stillwatch-bench-").FullName;
        try
        {
            string file = Path.Combine(folder, "night.csv");
            Write(file, rows);
            Console.WriteLine($"CSV of {rows:N0} rows, {new FileInfo(file).Length / 1e6:N0} MB, seed {Seed}; {rounds} round(s) in turns{(tiny ? "; tiny: shows that it runs, its times are mostly start-up" : "")}");
            Console.WriteLine($"{RuntimeInformation.FrameworkDescription}, {RuntimeInformation.OSDescription.Trim()}, {Environment.ProcessorCount} processors");
            return Compare(file, rows, rounds);
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    private static int Compare(string file, int rows, int rounds)
    {
        List<double> ours = [], oursProcessor = [], theirs = [], theirsProcessor = [];
        var script = PeerScript.Find("csv_pandas.py");
        for (int round = 0; round < rounds; round++)
        {
            var processorBefore = Process.GetCurrentProcess().TotalProcessorTime;
            var (seconds, numbers, sum) = ReadOurs(file);
            ours.Add(seconds);
            oursProcessor.Add((Process.GetCurrentProcess().TotalProcessorTime - processorBefore).TotalSeconds);
            Console.WriteLine($"  ours   {seconds:0.000} s (processor {oursProcessor[^1]:0.000} s), {rows / seconds / 1e6:0.0} million rows/s, {numbers:N0} SpO2 numbers");
            if (script?.Run(file) is not { } answer) continue;
            theirs.Add(answer.Number("seconds"));
            theirsProcessor.Add(answer.Number("cpu"));
            Console.WriteLine($"  pandas {answer.Number("seconds"):0.000} s: {answer.Line}");
            if ((long)answer.Number("rows") != rows || (long)answer.Number("numbers") != numbers || Math.Abs(answer.Number("sum") - sum) > 1e-4 * sum)
            {
                Console.WriteLine($"The answers differ: ours {rows} rows, {numbers} numbers, sum {sum}.");
                return 1;
            }
        }

        Console.WriteLine($"ours   median {Median(ours):0.000} s, processor {Median(oursProcessor):0.000} s; peak memory of the whole process {Process.GetCurrentProcess().PeakWorkingSet64 / 1e6:N0} MB");
        if (theirs.Count == 0)
        {
            Console.WriteLine("pandas not run: /usr/bin/python3 with pandas, or bench/peers/csv_pandas.py, was not found");
            return 0;
        }

        Console.WriteLine($"pandas median {Median(theirs):0.000} s, processor {Median(theirsProcessor):0.000} s");
        Console.WriteLine($"ratio {Median(theirs) / Median(ours):0.0} by the clock, {Median(theirsProcessor) / Median(oursProcessor):0.0} by processor time (which a busy machine disturbs less)");
        return 0;
    }

    private static (double Seconds, long Numbers, double Sum) ReadOurs(string file)
    {
        var options = new CsvReadOptions { Wanted = new HashSet<ChannelKind> { ChannelKind.SpO2, ChannelKind.PulseRate } };
        long started = Stopwatch.GetTimestamp();
        using var stream = new FileStream(file, FileMode.Open, FileAccess.Read, FileShare.Read, 1);
        var recording = CsvReader.Read(stream, "night.csv", options).Recording ?? throw new InvalidOperationException("The bench file gave no recording.");
        double seconds = Stopwatch.GetElapsedTime(started).TotalSeconds;

        long numbers = 0, micros = 0;
        var spo2 = recording.Find(ChannelKind.SpO2)!.Values;
        var chunk = new int[TimeAxis.ChunkLength];
        for (int c = 0; c < spo2.ChunkCount; c++)
        {
            foreach (int micro in chunk.AsSpan(0, spo2.CopyChunk(c, chunk)))
            {
                if (micro == ValueColumn.Missing) continue;
                numbers++;
                micros += micro;
            }
        }

        return (seconds, numbers, micros / 1e6);
    }

    private static void Write(string file, int rows)
    {
        var random = new Random(Seed);
        var time = new DateTime(2026, 1, 1, 22, 0, 0);
        int spo2 = 96, pulse = 72;
        using var writer = new StreamWriter(file);
        writer.Write("time,spo2,pulse\n");
        Span<char> line = stackalloc char[64];
        for (int i = 0; i < rows; i++)
        {
            spo2 = Math.Clamp(spo2 + random.Next(-1, 2), 70, 100);
            pulse = Math.Clamp(pulse + random.Next(-1, 2), 40, 160);
            string saturation = random.Next(200) == 0 ? "" : Whole[spo2];
            if (!line.TryWrite(CultureInfo.InvariantCulture, $"{time:yyyy-MM-ddTHH:mm:ss.fff},{saturation},{pulse}\n", out int length))
                throw new InvalidOperationException("A line of the bench file is longer than planned.");
            writer.Write(line[..length]);
            time = time.AddSeconds(1);
        }
    }

    private static int Option(string[] args, string name, int fallback)
    {
        int at = Array.IndexOf(args, name);
        return at >= 0 && at + 1 < args.Length ? int.Parse(args[at + 1], CultureInfo.InvariantCulture) : fallback;
    }

    private static double Median(List<double> values) => values.Order().ElementAt(values.Count / 2);
}
