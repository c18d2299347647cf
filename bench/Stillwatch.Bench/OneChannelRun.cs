using System.Diagnostics;
using System.Globalization;
using Stillwatch.Formats;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Bench;

/// <summary>Reads the pleth of one file and nothing else, in a process of its own so that its peak memory is its own.</summary>
internal static class OneChannelRun
{
    public const string Verb = "one-channel";

    // The runtime recompiles what is hot only after a while, in the background.
    private const double WarmUpSeconds = 1;

    /// <summary>Seconds, samples, sum of values, peak megabytes.</summary>
    /// <param name="file">What is timed.</param>
    /// <param name="warmUp">A short file of the same form, read first: the start of a runtime is not what is compared.</param>
    public static PeerScript.Answered InItsOwnProcess(string file, string warmUp)
    {
        var start = new ProcessStartInfo(Environment.ProcessPath!) { RedirectStandardOutput = true };
        if (Path.GetFileNameWithoutExtension(Environment.ProcessPath) == "dotnet") start.ArgumentList.Add(typeof(OneChannelRun).Assembly.Location);
        start.ArgumentList.Add(Verb);
        foreach (string argument in (string[])["--file", file, "--warm-up", warmUp]) start.ArgumentList.Add(argument);
        using var process = Process.Start(start)!;
        string text = process.StandardOutput.ReadToEnd().Trim();
        process.WaitForExit();
        return process.ExitCode == 0 ? new PeerScript.Answered(text) : throw new InvalidOperationException($"Reading {file} ended with {process.ExitCode}: {text}");
    }

    public static int Measure(string[] args)
    {
        string file = args[Array.IndexOf(args, "--file") + 1];
        string warmUp = args[Array.IndexOf(args, "--warm-up") + 1];
        long started = Stopwatch.GetTimestamp();
        while (Stopwatch.GetElapsedTime(started).TotalSeconds < WarmUpSeconds) Read(warmUp);
        started = Stopwatch.GetTimestamp();
        var channel = Read(file);
        double seconds = Stopwatch.GetElapsedTime(started).TotalSeconds;
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"seconds={seconds:0.0000} samples={channel.Times.Count} sum={Sum(channel):R} peakMB={Machine.PeakBytes() / 1e6:0}"));
        return 0;
    }

    public static Channel Read(string file)
    {
        var options = new ReadOptions { Wanted = new HashSet<ChannelKind> { ChannelKind.Pleth } };
        var source = new RecordingSource(Path.GetFileName(file), new DiskFolder(Path.GetDirectoryName(file)!));
        return RecordingReaders.Read(source, options).Recording?.Find(ChannelKind.Pleth) ?? throw new InvalidOperationException($"{file} gave no pleth.");
    }

    public static double Sum(Channel channel)
    {
        double sum = 0;
        var values = new double[TimeAxis.ChunkLength];
        for (int c = 0; c < channel.Times.ChunkCount; c++)
        {
            foreach (double value in values.AsSpan(0, channel.CopyValues(c, values))) sum += value;
        }

        return sum;
    }
}
