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

    private const int PandasIsMissing = 3;

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
        string? script = FindPeer();
        for (int round = 0; round < rounds; round++)
        {
            var processorBefore = Process.GetCurrentProcess().TotalProcessorTime;
            var (seconds, numbers, sum) = ReadOurs(file);
            ours.Add(seconds);
            oursProcessor.Add((Process.GetCurrentProcess().TotalProcessorTime - processorBefore).TotalSeconds);
            Console.WriteLine($"  ours   {seconds:0.000} s (processor {oursProcessor[^1]:0.000} s), {rows / seconds / 1e6:0.0} million rows/s, {numbers:N0} SpO2 numbers");
            if (script is null || RunPeer(script, file) is not { } answer) continue;
            theirs.Add(Number(answer, "seconds"));
            theirsProcessor.Add(Number(answer, "cpu"));
            Console.WriteLine($"  pandas {Number(answer, "seconds"):0.000} s: {answer}");
            if ((long)Number(answer, "rows") != rows || (long)Number(answer, "numbers") != numbers || Math.Abs(Number(answer, "sum") - sum) > 1e-4 * sum)
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

    private static string? FindPeer()
    {
        for (var folder = new DirectoryInfo(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
        {
            string script = Path.Combine(folder.FullName, "bench", "peers", "csv_pandas.py");
            if (File.Exists(script)) return script;
        }

        return null;
    }

    private static string? RunPeer(string script, string file)
    {
        const string python = "/usr/bin/python3";
        if (!File.Exists(python)) return null;
        var start = new ProcessStartInfo(python) { RedirectStandardOutput = true };
        start.ArgumentList.Add(script);
        start.ArgumentList.Add(file);
        using var process = Process.Start(start)!;
        string answer = process.StandardOutput.ReadToEnd().Trim();
        process.WaitForExit();
        return process.ExitCode switch
        {
            0 => answer,
            PandasIsMissing => null,
            _ => throw new InvalidOperationException($"{script} ended with exit status {process.ExitCode}: {answer}"),
        };
    }

    private static double Number(string answer, string key)
    {
        string field = answer.Split(' ').First(f => f.StartsWith(key + "=", StringComparison.Ordinal));
        return double.Parse(field[(key.Length + 1)..], CultureInfo.InvariantCulture);
    }

    private static int Option(string[] args, string name, int fallback)
    {
        int at = Array.IndexOf(args, name);
        return at >= 0 && at + 1 < args.Length ? int.Parse(args[at + 1], CultureInfo.InvariantCulture) : fallback;
    }

    private static double Median(List<double> values) => values.Order().ElementAt(values.Count / 2);
}
