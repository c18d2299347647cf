using System.Diagnostics;
using System.Runtime.InteropServices;
using Stillwatch.Formats;

namespace Stillwatch.Bench;

/// <summary>
/// BDF (24 bits) and WFDB format 212 (12 bits): decoding every sample of every signal into a recording, against one scan of the same bytes
/// that only looks at each. In turns, in one process, the file in the page cache for both.
/// </summary>
/// <remarks>Options: <c>--tiny</c>, <c>--rounds N</c>.</remarks>
public static class PackedBench
{
    public static int Run(string[] args)
    {
        bool tiny = args.Contains("--tiny");
        int rounds = tiny ? 1 : EdfBench.Rounds(args);
        string folder = Directory.CreateTempSubdirectory("stillwatch-bench-").FullName;
        try
        {
            string bdf = Path.Combine(folder, "night.bdf");
            InventedSignals.Bdf(bdf, tiny ? 60 : 20_000);
            string header = InventedSignals.Wfdb212(folder, tiny ? 600 : 320_000);
            Console.WriteLine($"{Machine.Text}; {rounds} round(s) in turns{(tiny ? "; tiny: shows that it runs" : "")}");
            Compare("BDF, 8 signals", bdf, bdf, rounds);
            Compare("WFDB 212, 2 signals", header, Path.Combine(folder, "night.dat"), rounds);
            return 0;
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    private static void Compare(string what, string toOpen, string data, int rounds)
    {
        var source = new RecordingSource(Path.GetFileName(toOpen), new DiskFolder(Path.GetDirectoryName(toOpen)!));
        List<double> scans = [], reads = [];
        long samples = 0;
        for (int round = 0; round <= rounds; round++)
        {
            long started = Stopwatch.GetTimestamp();
            Scan(data);
            double scan = Stopwatch.GetElapsedTime(started).TotalSeconds;
            started = Stopwatch.GetTimestamp();
            var recording = RecordingReaders.Read(source, new ReadOptions()).Recording ?? throw new InvalidOperationException($"{toOpen} gave no recording.");
            double read = Stopwatch.GetElapsedTime(started).TotalSeconds;
            samples = recording.Channels.Sum(c => (long)c.Times.Count);
            if (round == 0) continue; // the first turn fills the page cache and compiles
            scans.Add(scan);
            reads.Add(read);
        }

        double megabytes = new FileInfo(data).Length / 1e6, s = Stopwatches.Median(scans), r = Stopwatches.Median(reads);
        Console.WriteLine($"{what}: {megabytes:0} MB, {samples / 1e6:0.0} million samples decoded and held in {Stopwatches.Text(r)} ({samples / r / 1e6:0} million a second, {megabytes / r:0} MB a second); one scan {Stopwatches.Text(s)} ({megabytes / s:0} MB a second): {r / s:0.0} times a scan");
    }

    private static ulong Scan(string file)
    {
        ulong sum = 0;
        var buffer = new byte[1 << 18];
        using var stream = new FileStream(file, FileMode.Open, FileAccess.Read, FileShare.Read, 1);
        while (stream.Read(buffer) is var length and > 0)
        {
            // Eight bytes at a time: as cheap as a look at every byte can be in plain code.
            foreach (ulong eight in MemoryMarshal.Cast<byte, ulong>(buffer.AsSpan(0, length))) sum ^= eight;
        }

        return sum;
    }
}
