namespace Stillwatch.Bench;

/// <summary>
/// One signal out of twenty of an EDF file of 500 MB: ours, python3-mne told to include that signal alone, and numpy's memory map by a
/// skilled hand. In turns, in one run, each in a process of its own whose start is not counted, a short file read first; sample count and sum are compared.
/// </summary>
/// <remarks>Options: <c>--tiny</c> (3 MB, one round), <c>--rounds N</c>.</remarks>
public static class EdfBench
{
    public static int Run(string[] args)
    {
        bool tiny = args.Contains("--tiny");
        int seconds = tiny ? 300 : 50_000;
        int rounds = tiny ? 1 : Rounds(args);
        string folder = Directory.CreateTempSubdirectory("stillwatch-bench-").FullName;
        try
        {
            string file = Path.Combine(folder, "night.edf"), quarter = Path.Combine(folder, "quarter.edf"), warmUp = Path.Combine(folder, "short.edf");
            InventedSignals.Edf(file, seconds);
            InventedSignals.Edf(quarter, seconds / 4);
            InventedSignals.Edf(warmUp, 300);
            Console.WriteLine($"EDF of {new FileInfo(file).Length / 1e6:0} MB, 20 signals of 250 a second, one read; {rounds} round(s) in turns{(tiny ? "; tiny: shows that it runs" : "")}");
            Console.WriteLine(Machine.Text);
            return Compare(file, quarter, warmUp, rounds);
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    private static int Compare(string file, string quarter, string warmUp, int rounds)
    {
        var ours = new List<PeerScript.Answered>();
        var peers = new[] { "edf_mne.py", "edf_numpy.py" }.Select(n => (Name: n, Script: PeerScript.Find(n), Answers: new List<PeerScript.Answered>())).ToList();
        for (int round = 0; round < rounds; round++)
        {
            ours.Add(OneChannelRun.InItsOwnProcess(file, warmUp));
            Console.WriteLine($"  ours {ours[^1].Line}");
            foreach (var peer in peers)
            {
                if (peer.Script?.Run(file, "Pleth", warmUp) is not { } answer) continue;
                peer.Answers.Add(answer);
                Console.WriteLine($"  {peer.Name} {answer.Line}");
                double tolerance = 1e-6 * Math.Max(1, Math.Abs(ours[^1].Number("sum")));
                if (answer.Number("samples") == ours[^1].Number("samples") && Math.Abs(answer.Number("sum") - ours[^1].Number("sum")) <= tolerance) continue;
                Console.WriteLine("The answers differ.");
                return 1;
            }
        }

        double median = Stopwatches.Median(ours.Select(o => o.Number("seconds")));
        Console.WriteLine($"ours {Stopwatches.Text(median)}, {new FileInfo(file).Length / median / 1e6:0} MB of file a second, peak {Stopwatches.Median(ours.Select(o => o.Number("peakMB"))):0} MB; a quarter of the file peaks at {OneChannelRun.InItsOwnProcess(quarter, warmUp).Number("peakMB"):0} MB");
        foreach (var peer in peers)
        {
            if (peer.Answers.Count == 0) Console.WriteLine($"{peer.Name} not run: /usr/bin/python3, the script or its library was not found");
            else Console.WriteLine($"{peer.Name} {Stopwatches.Text(Stopwatches.Median(peer.Answers.Select(a => a.Number("seconds"))))}, peak {Stopwatches.Median(peer.Answers.Select(a => a.Number("peakMB"))):0} MB: ratio {Stopwatches.Median(peer.Answers.Select(a => a.Number("seconds"))) / median:0.0}");
        }

        return 0;
    }

    internal static int Rounds(string[] args)
    {
        int at = Array.IndexOf(args, "--rounds");
        return at >= 0 && at + 1 < args.Length ? int.Parse(args[at + 1]) : 5;
    }
}
