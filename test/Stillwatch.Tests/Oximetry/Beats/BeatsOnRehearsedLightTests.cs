using System.Globalization;
using Stillwatch.Oximetry;
using Stillwatch.Rehearsal.Sensor;

namespace Stillwatch.Tests.Oximetry.Beats;

/// <summary>
/// Beats found beside the beats that were put in. Sensitivity: of the true beats, those with one found within 0.1 s of the steepest rise; positive predictive
/// value: of the beats found, those that are true. Rehearsed light proves the arithmetic, not a patient.
/// </summary>
public class BeatsOnRehearsedLightTests
{
    /// <summary>What it shows | kind of pulse | beats a minute | perfusion % | noise % | least sensitivity | least predictive value | methods.</summary>
    private const string Table = """
        a slow heart                       | adult   | 40  | 2    | 0.01 | 0.99 | 0.99 | slope peaks threshold
        the slowest, a deep dicrotic notch | young   | 30  | 2    | 0.01 | 0.98 | 0.98 | slope threshold
        a usual finger                     | adult   | 72  | 1.5  | 0.01 | 0.99 | 0.99 | slope peaks threshold
        a round late wave                  | old     | 80  | 1.5  | 0.01 | 0.99 | 0.99 | slope peaks threshold
        exercise                           | young   | 170 | 2    | 0.01 | 0.99 | 0.99 | slope peaks threshold
        a newborn                          | newborn | 150 | 1    | 0.01 | 0.99 | 0.99 | slope peaks threshold
        the fastest newborn                | newborn | 240 | 1    | 0.01 | 0.99 | 0.99 | slope peaks threshold
        a cold hand                        | adult   | 72  | 0.2  | 0.01 | 0.99 | 0.99 | slope peaks threshold
        hardly any pulse                   | adult   | 72  | 0.1  | 0.02 | 0.98 | 0.98 | slope peaks threshold
        """;

    public static TheoryData<string, string, double, double, double, double, double, string> Rows
    {
        get
        {
            var rows = new TheoryData<string, string, double, double, double, double, double, string>();
            foreach (string line in Table.Split('\n'))
            {
                string[] c = [.. line.Split('|').Select(cell => cell.Trim())];
                double[] n = [.. c[2..7].Select(v => double.Parse(v, CultureInfo.InvariantCulture))];
                rows.Add(c[0], c[1], n[0], n[1], n[2], n[3], n[4], c[7]);
            }

            return rows;
        }
    }

    [Theory, MemberData(nameof(Rows))]
    public void The_beats_that_were_put_in_are_found(
        string shows, string kind, double perMinute, double perfusion, double noise, double leastSensitivity, double leastPredictive, string methods)
    {
        var settings = kind == "newborn" ? OpticalSensorSettings.Newborn : OpticalSensorSettings.Default with
        {
            Shape = kind switch { "young" => PulseShape.Young, "old" => PulseShape.Old, _ => PulseShape.Adult },
        };
        var light = new SensorTrial { Seconds = 60, PulseRatePerMinute = perMinute, PerfusionPercent = perfusion }.Light(settings with { NoisePercent = noise }, 17);
        foreach (string method in methods.Split(' '))
        {
            var beats = Derivation.Of(light.Recording, new OximetrySettings { Beats = Method(method) }).Beats.Select(b => b.UpstrokeSeconds).ToList();
            var (sensitivity, predictive) = Score([.. light.BeatSeconds.Where(t => t is > 1 and < 59)], beats);
            Assert.True(sensitivity >= leastSensitivity && predictive >= leastPredictive, $"{shows}, {method}: sensitivity {sensitivity:0.000}, predictive value {predictive:0.000}");
        }
    }

    private static BeatMethod Method(string word) => word switch
    {
        "slope" => BeatMethod.SlopeSum,
        "peaks" => BeatMethod.PeaksAndTroughs,
        _ => BeatMethod.Threshold,
    };

    private static (double Sensitivity, double Predictive) Score(List<double> truth, List<double> found)
    {
        int hits = truth.Count(t => found.Any(f => Math.Abs(f - t) <= 0.1));
        var within = found.Where(f => f > truth[0] - 0.1 && f < truth[^1] + 0.1).ToList();
        return ((double)hits / truth.Count, (double)within.Count(f => truth.Any(t => Math.Abs(f - t) <= 0.1)) / within.Count);
    }
}
