using System.Diagnostics;
using Stillwatch.Quantities;
using Stillwatch.Time;
using Stillwatch.Tuning.Map;
using Stillwatch.Tuning.MustCatch;

namespace Stillwatch.Bench;

/// <summary>A year at one row a second, in a process of its own so that its peak memory is its own.</summary>
internal static class YearRun
{
    public const string Verb = "year";

    public static string InItsOwnProcess(bool tiny)
    {
        var start = new ProcessStartInfo(Environment.ProcessPath!) { RedirectStandardOutput = true };
        if (Path.GetFileNameWithoutExtension(Environment.ProcessPath) == "dotnet") start.ArgumentList.Add(typeof(YearRun).Assembly.Location);
        start.ArgumentList.Add(Verb);
        if (tiny) start.ArgumentList.Add("--tiny");
        using var process = Process.Start(start)!;
        string text = process.StandardOutput.ReadToEnd();
        process.WaitForExit();
        return process.ExitCode == 0 ? text.Trim() : throw new InvalidOperationException($"The year's run ended with {process.ExitCode}: {text}");
    }

    public static int Measure(string[] args)
    {
        bool tiny = args.Contains("--tiny");
        int days = tiny ? 3 : 365;
        var source = PatientDay.Source(Enumerable.Range(0, days).SelectMany(day => PatientDay.Hundredths((ulong)day)));
        long before = Machine.PeakBytes();
        var times = new List<double>();
        for (int i = 0; i < 3; i++)
        {
            long start = Stopwatch.GetTimestamp();
            MapJob.Map(source);
            times.Add(Stopwatch.GetElapsedTime(start).TotalSeconds);
        }

        var events = Enumerable.Range(0, days * 6).Select(Event).ToList();
        long both = Stopwatch.GetTimestamp();
        SettingsMap.Of(source, MapJob.Request with { Grid = MapGrid.SpO2Default }, events);
        double withEvents = Stopwatch.GetElapsedTime(both).TotalSeconds;
        Console.WriteLine(
            $"A year at one row a second ({days} days, {source.Channel.Values.Count:N0} rows): {Stopwatches.Text(Stopwatches.Median(times))}; " +
            $"with area thresholds and {events.Count:N0} must-catch events besides {Stopwatches.Text(withEvents)}. " +
            $"Peak memory of the whole process {Machine.PeakBytes() / 1e6:0} MB, of which {before / 1e6:0} MB stood before the map (the column, and making it).");
        return 0;
    }

    private static MustCatchEvent Event(int index)
    {
        var onset = new SampleTime(index * 14_400_000L + 3_000_000);
        var end = onset + new Duration(90_000);
        return new MustCatchEvent(onset, end, Percent.Of(80), [new MustCatchPart(onset, end, new Duration(60_000), "invented")]);
    }
}
