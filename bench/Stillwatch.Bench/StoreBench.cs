using System.Buffers.Binary;
using System.Diagnostics;
using System.Globalization;
using System.Text;
using Stillwatch.Formats;
using Stillwatch.Signals;
using Stillwatch.Storage;
using Stillwatch.Storage.Recordings;
using Stillwatch.Time;

namespace Stillwatch.Bench;

/// <summary>
/// The store in a SQLite file: importing (reading a file and storing it, on the disk when it returns) against a plain copy of the same file,
/// in turns; and drawing windows out of 72 hours of a pleth of 125 samples a second.
/// </summary>
/// <remarks>Options: <c>--tiny</c> (minutes for hours, one round), <c>--rounds N</c>.</remarks>
public static class StoreBench
{
    private const int Columns = 1280;

    private const int Rate = 125;

    public static int Run(string[] args)
    {
        bool tiny = args.Contains("--tiny");
        int at = Array.IndexOf(args, "--rounds");
        int rounds = tiny ? 1 : at >= 0 && at + 1 < args.Length ? int.Parse(args[at + 1], CultureInfo.InvariantCulture) : 5;
        int seconds = tiny ? 1800 : 72 * 3600;
        string folder = Directory.CreateTempSubdirectory("stillwatch-bench-").FullName;
        try
        {
            Console.WriteLine($"{Machine.Text}; {rounds} round(s) in turns{(tiny ? "; tiny: shows that it runs" : "")}");
            string table = Path.Combine(folder, "numbers.csv"), pleth = Path.Combine(folder, "pleth.edf");
            WriteTable(table, 8 * seconds);
            WritePleth(pleth, seconds);
            return RunAsync(folder, table, pleth, rounds).GetAwaiter().GetResult();
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    private static async Task<int> RunAsync(string folder, string table, string pleth, int rounds)
    {
        await ImportAsync(folder, table, $"CSV, {8 * Hours(pleth):0.#} h of three columns at 1 Hz", rounds).ConfigureAwait(false);
        string store = await ImportAsync(folder, pleth, $"EDF, {Hours(pleth):0.#} h of one pleth at {Rate} Hz", rounds).ConfigureAwait(false);
        return await WindowsAsync(store, pleth, rounds).ConfigureAwait(false);
    }

    private static async Task<string> ImportAsync(string folder, string file, string what, int rounds)
    {
        List<double> copies = [], readings = [], imports = [];
        double megabytes = new FileInfo(file).Length / 1e6;
        string store = "";
        for (int round = 0; round < rounds + 1; round++) // the first warms up and does not count, unless it is the only one
        {
            double copied = Copy(file, Path.Combine(folder, "copy"));
            store = Path.Combine(folder, $"{Path.GetFileName(file)}.{round}.db");
            var opened = await WorkbenchStore.OpenAsync(new StorePlace.SqliteFile(store), TimeProvider.System).ConfigureAwait(false);
            await using (opened.ConfigureAwait(false))
            {
                long started = Stopwatch.GetTimestamp();
                var recording = Read(file);
                double read = Stopwatch.GetElapsedTime(started).TotalSeconds;
                await opened.Recordings.StoreAsync(ToStore(recording, file), Actor.Local).ConfigureAwait(false);
                double imported = Stopwatch.GetElapsedTime(started).TotalSeconds;
                if (round == 0) continue;
                copies.Add(copied);
                readings.Add(read);
                imports.Add(imported);
            }
        }

        double copy = Stopwatches.Median(copies), reading = Stopwatches.Median(readings), import = Stopwatches.Median(imports);
        Console.WriteLine($"{what}, {megabytes:0.0} MB");
        Console.WriteLine($"  plain copy, on the disk   {Stopwatches.Text(copy)}, {megabytes / copy:0} MB/s");
        Console.WriteLine($"  import, on the disk       {Stopwatches.Text(import)}, {megabytes / import:0} MB/s ({Stopwatches.Text(reading)} of it reading the file); {import / copy:0.0} copies");
        Console.WriteLine($"  store                     {new FileInfo(store).Length / 1e6:0.0} MB");
        return store;
    }

    private static async Task<int> WindowsAsync(string store, string pleth, int rounds)
    {
        var opened = await WorkbenchStore.OpenAsync(new StorePlace.SqliteFile(store), TimeProvider.System).ConfigureAwait(false);
        await using (opened.ConfigureAwait(false))
        {
            var stored = (await opened.Recordings.FindAsync(new RecordingFilter()).ConfigureAwait(false)).Single();
            long span = stored.Span.Length.Milliseconds;
            Console.WriteLine($"Windows of {Columns} columns out of {span / 3.6e6:0.#} h at {Rate} Hz");
            var random = new Random(20261130);
            foreach (long length in new[] { span, span / 9, 3_600_000, 600_000, 60_000, 10_000 }.Where(l => l <= span).Distinct())
            {
                var times = new List<double>();
                for (int i = 0; i < 10 * rounds; i++)
                {
                    var from = new SampleTime(random.NextInt64(0, span - length + 1));
                    long started = Stopwatch.GetTimestamp();
                    var window = await opened.Recordings.WindowAsync(stored.Id, 0, from, from + new Duration(length), Columns).ConfigureAwait(false);
                    times.Add(Stopwatch.GetElapsedTime(started).TotalSeconds);
                    if (window.Rows.All(r => r == 0)) return Fail($"a window of {length} ms from {from} is empty");
                }

                Console.WriteLine($"  {length / 1000.0,9:#,0} s wide          median {Stopwatches.Text(Stopwatches.Median(times))}, worst {Stopwatches.Text(times.Max())}");
            }

            long began = Stopwatch.GetTimestamp();
            var whole = await opened.Recordings.OpenAsync(stored.Id).ConfigureAwait(false);
            Console.WriteLine($"  the whole recording, opened with its samples: {Stopwatches.Text(Stopwatch.GetElapsedTime(began).TotalSeconds)}; peak memory of the process {Machine.PeakBytes() / 1e6:0} MB");
            return OneChannelRun.Sum(whole.Channels[0]).Equals(OneChannelRun.Sum(Read(pleth).Channels[0])) ? 0 : Fail("the samples that come back are not those of the file");
        }
    }

    private static int Fail(string why)
    {
        Console.WriteLine($"Found {why}.");
        return 1;
    }

    private static double Copy(string from, string to)
    {
        long started = Stopwatch.GetTimestamp();
        using (var source = new FileStream(from, FileMode.Open, FileAccess.Read, FileShare.Read, 1))
        using (var target = new FileStream(to, FileMode.Create, FileAccess.Write, FileShare.None, 1))
        {
            source.CopyTo(target, 1 << 20);
            target.Flush(flushToDisk: true);
        }

        return Stopwatch.GetElapsedTime(started).TotalSeconds;
    }

    private static Recording Read(string file)
    {
        var source = new RecordingSource(Path.GetFileName(file), new DiskFolder(Path.GetDirectoryName(file)!));
        return RecordingReaders.Read(source, new ReadOptions()).Recording ?? throw new InvalidOperationException($"{file} gave no recording.");
    }

    private static NewRecording ToStore(Recording recording, string file) => new()
    {
        Id = RecordingId.OfIdentity(file),
        Recording = recording,
        Files = [new SourceFile(Path.GetFileName(file), new string('0', 64), new FileInfo(file).Length)],
        Format = "bench",
        Issues = [],
        IsInvented = true,
    };

    private static double Hours(string pleth) => (new FileInfo(pleth).Length - 512) / (2.0 * Rate * 3600);

    private static void WriteTable(string file, int rows)
    {
        var random = new Random(20261130);
        var time = new DateTime(2026, 1, 1, 22, 0, 0);
        int spo2 = 96, pulse = 72;
        using var writer = new StreamWriter(file);
        writer.Write("time,spo2,pulse,perfusion\n");
        for (int i = 0; i < rows; i++)
        {
            spo2 = Math.Clamp(spo2 + random.Next(-1, 2), 70, 100);
            pulse = Math.Clamp(pulse + random.Next(-1, 2), 40, 160);
            string saturation = random.Next(200) == 0 ? "" : spo2.ToString(CultureInfo.InvariantCulture);
            writer.Write(string.Create(CultureInfo.InvariantCulture, $"{time:yyyy-MM-ddTHH:mm:ss},{saturation},{pulse},{1.5 + random.Next(-5, 6) / 100.0:0.00}\n"));
            time = time.AddSeconds(1);
        }
    }

    // A pulse of two harmonics with a breath and noise: no more and no less regular than light is.
    private static void WritePleth(string file, int seconds)
    {
        string Fixed(string text, int width) => text.PadRight(width)[..width];
        var header = new StringBuilder("0       ").Append(Fixed("X X X X", 80)).Append(Fixed("Startdate 01-JAN-2026 X X X", 80)).Append("01.01.2622.00.00").Append(Fixed("512", 8)).Append(Fixed("", 44))
            .Append(Fixed(seconds.ToString(CultureInfo.InvariantCulture), 8)).Append(Fixed("1", 8)).Append(Fixed("1", 4))
            .Append(Fixed("Pleth", 16)).Append(Fixed("", 80)).Append(Fixed("mV", 8)).Append(Fixed("-10", 8)).Append(Fixed("10", 8)).Append(Fixed("-32768", 8)).Append(Fixed("32767", 8))
            .Append(Fixed("", 80)).Append(Fixed(Rate.ToString(CultureInfo.InvariantCulture), 8)).Append(Fixed("", 32));
        using var stream = new FileStream(file, FileMode.Create, FileAccess.Write, FileShare.None, 1 << 20);
        stream.Write(Encoding.Latin1.GetBytes(header.ToString()));
        var random = new Random(20261130);
        byte[] record = new byte[2 * Rate];
        double phase = 0;
        for (int s = 0; s < seconds; s++)
        {
            for (int i = 0; i < Rate; i++)
            {
                phase += 2 * Math.PI * (1.2 + 0.1 * Math.Sin(s / 90.0)) / Rate;
                double value = 4000 * Math.Sin(phase) + 1500 * Math.Sin(2 * phase + 1) + 800 * Math.Sin((s + i / (double)Rate) * 1.6) + random.Next(-25, 26);
                BinaryPrimitives.WriteInt16LittleEndian(record.AsSpan(2 * i), (short)value);
            }

            stream.Write(record);
        }
    }
}
