using System.Runtime.InteropServices;

namespace Stillwatch.Bench;

/// <summary>The machine and the versions that a result stands for.</summary>
internal static class Machine
{
    public static string Text =>
        $"{Processor()}, {Environment.ProcessorCount} logical processors, {RuntimeInformation.OSDescription}, {RuntimeInformation.FrameworkDescription}";

    private static string Processor()
    {
        const string path = "/proc/cpuinfo";
        string? line = File.Exists(path) ? File.ReadLines(path).FirstOrDefault(l => l.StartsWith("model name", StringComparison.Ordinal)) : null;
        return line is null ? RuntimeInformation.ProcessArchitecture.ToString() : line[(line.IndexOf(':') + 1)..].Trim();
    }

    /// <summary>The most memory this process has held, in bytes.</summary>
    public static long PeakBytes()
    {
        const string path = "/proc/self/status";
        if (File.Exists(path))
        {
            string line = File.ReadLines(path).First(l => l.StartsWith("VmHWM:", StringComparison.Ordinal));
            return 1024 * long.Parse(line["VmHWM:".Length..].Replace("kB", "", StringComparison.Ordinal).Trim());
        }

        return System.Diagnostics.Process.GetCurrentProcess().PeakWorkingSet64;
    }
}
