using System.Globalization;
using System.Runtime.InteropServices;

namespace Stillwatch.Measure;

/// <summary>The machine that was measured on, and how busy it was.</summary>
internal static class Machine
{
    public static string Words => $"{Processor()}, {Environment.ProcessorCount} logical processors, {RuntimeInformation.OSDescription}, {RuntimeInformation.FrameworkDescription}, load average {Load()}";

    private static string Processor()
    {
        const string Path = "/proc/cpuinfo";
        string? line = File.Exists(Path) ? File.ReadLines(Path).FirstOrDefault(l => l.StartsWith("model name", StringComparison.Ordinal)) : null;
        return line?[(line.IndexOf(':', StringComparison.Ordinal) + 1)..].Trim() ?? RuntimeInformation.ProcessArchitecture.ToString();
    }

    private static string Load()
    {
        const string Path = "/proc/loadavg";
        return File.Exists(Path) && double.TryParse(File.ReadAllText(Path).Split(' ')[0], CultureInfo.InvariantCulture, out double load) ? load.ToString("0.0", CultureInfo.InvariantCulture) : "not known";
    }
}
