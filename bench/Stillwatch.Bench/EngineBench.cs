using Stillwatch.Conditioning;

namespace Stillwatch.Bench;

/// <summary>The alarm engine over one patient-day, one setting.</summary>
internal static class EngineBench
{
    public static int Run(string[] args)
    {
        bool tiny = args.Contains("--tiny");
        var source = PatientDay.Source(PatientDay.Hundredths(1));
        int cell = 20 * 301 + 10; // limit 90, delay 10 s
        var times = new List<double>();
        for (int i = 0; i < (tiny ? 2 : 15); i++) times.Add(Stopwatches.Seconds(() => MapJob.Engine(source, cell)));
        double median = Stopwatches.Median(times);
        Console.WriteLine($"{Machine.Text}. Alarm engine, one setting over {PatientDay.Seconds:N0} rows: {Stopwatches.Text(median)}, {median / PatientDay.Seconds * 1e9:0} ns a row.");
        return 0;
    }
}
