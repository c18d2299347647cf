using Stillwatch.Accuracy.Beats;
using Stillwatch.Accuracy.Page;
using Stillwatch.Accuracy.Recordings;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Accuracy.Rows;

/// <summary>A phone camera on both hands of two people who breathe less and less oxygen, beside the pulse rates of four pulse oximeters.</summary>
internal static class DesaturationCameraRow
{
    private const string Folder = "controlled-desaturation";
    private const int WindowSeconds = 10;
    private const string Kept =
        "Of 100001 right half of the windows were once refused, 78 % kept before beats began at the foot of their rise and 49.5 % after. On rehearsed light of six shapes of pulse, with and without a deep notch, at 30 "
        + "and 125 samples a second and up to ten times the usual noise, that rule takes at most five of a hundred seconds and gives back up to three: no defect was found in it, and it stands. What gave the windows back is "
        + "that light is trusted anew and that flicker must stay, both found and fixed without this recording.";

    public static IEnumerable<AccuracyRow> Of(OpenData data)
    {
        AccuracyRow row = new()
        {
            ChangedAfterwards = OpenRows.RulesChanged,
            Key = "desaturation-camera-pulse-rate",
            Origin = "doi 10.1038/s41746-022-00665-y",
            Data = "controlled-desaturation/camera, two people, both hands, pulse rate",
            Source = "Hoffman et al., npj Digit Med 5:146 (2022), doi 10.1038/s41746-022-00665-y; pulse rates of its pulse oximeters 1, 2, 4 and 5",
            Method = "30 pictures a second; red, green and blue are given without saying which to use. The first picture is taken to be the first second of the numerics: the lengths agree within "
                + "3 s in 18 min (1090.9 and 1090.4 s beside 1090 rows; 1121.0 and 1124.3 beside 1122). Reference: the median of the oximeters that show a pulse rate, two at least, "
                + "second by second, its mean over the window. Windows of 10 s side by side; pulse rate averaged over 10 s, the reading of the window's middle second.",
        };
        if (!data.Holds(Folder)) return OpenRows.NotHere(row);

        var all = new WindowErrors();
        var figures = new List<Figure>();
        foreach (string subject in new[] { "100001", "100002" })
        {
            double[] reference = Reference(data.Numerics($"{Folder}/numerics/{subject}.csv"));
            foreach (string hand in new[] { "left", "right" })
            {
                var derived = Derived.Of(data.EvenWaveforms($"{Folder}/camera/{subject}-{hand}.csv", SampleRate.Of(30, 1000L)), Derived.Averaged(WindowSeconds));
                var errors = new WindowErrors();
                for (int from = 0; from + WindowSeconds <= Math.Min(reference.Length, derived.Seconds.Count); from += WindowSeconds)
                    errors.Add(Derived.PulseRateAround(derived, from, WindowSeconds), Mean(reference.AsSpan(from, WindowSeconds)));
                all.Add(errors);
                figures.Add(new Figure($"{subject} {hand}: mean absolute error", errors.MeanAbsolute, "/min", 2));
                figures.Add(new Figure($"{subject} {hand}: share of windows kept", errors.ShareKeptPercent, "%", 1));
            }
        }

        return [row with { Figures = [.. OpenRows.RateFigures(all, Reach.AtMost(3, "/min")), .. figures], Remarks = [Kept] }];
    }

    /// <summary>Second by second the median of pulse rates above zero; NaN with fewer than two.</summary>
    private static double[] Reference(Recording numerics)
    {
        var rates = numerics.Channels.Where(c => c.Label.Trim() is "Pulse 1" or "Pulse 2" or "Pulse 4" or "Pulse 5").Select(OpenData.Values).ToList();
        return [.. Enumerable.Range(0, rates[0].Length).Select(second =>
        {
            var shown = rates.Select(r => r[second]).Where(v => v > 0).Order().ToList();
            return shown.Count < 2 ? double.NaN : (shown[(shown.Count - 1) / 2] + shown[shown.Count / 2]) / 2;
        })];
    }

    private static double Mean(ReadOnlySpan<double> values)
    {
        double sum = 0;
        foreach (double value in values) sum += value;
        return sum / values.Length;
    }
}
