using MathNet.Numerics.IntegralTransforms;
using Stillwatch.Accuracy.Beats;
using Stillwatch.Accuracy.Page;
using Stillwatch.Accuracy.Recordings;

namespace Stillwatch.Accuracy.Rows;

/// <summary>Eleven people's fingers over a phone camera, uneven in time, beside the intervals of a chest strap.</summary>
internal static class CameraRow
{
    private const string Folder = "camera-ppg-with-rr";
    private const int Recordings = 11;
    private const int WindowSeconds = 10;
    private const double NaiveRateHz = 30;

    public static IEnumerable<AccuracyRow> Of(OpenData data)
    {
        AccuracyRow row = new()
        {
            ChangedAfterwards = OpenRows.RulesChanged,
            Key = "camera-pulse-rate",
            Origin = "doi 10.3390/s21206798",
            Data = "camera-ppg-with-rr, 11 recordings, pulse rate",
            Source = "Neshitov et al., Sensors 21:6798 (2021), doi 10.3390/s21206798; intervals of a chest strap",
            Method = "Red, green and blue are given without saying which to use; times as the file has them (uneven, about 30 a second). Windows of 10 s side by side; pulse rate averaged "
                + "over the 10 s, the reading of the window's middle second, against the mean of the strap's intervals that end in the window. The intervals are taken to begin with the first picture: the files do "
                + "not say more. The naive transform, for comparison: red brought to 30 a second by straight lines, mean taken off, Hann window, the highest line of one transform of the whole recording between "
                + "42 and 210 a minute, against the mean of all its intervals.",
        };
        if (!data.Holds(Folder)) return OpenRows.NotHere(row);

        WindowErrors all = new(), naive = new();
        double worst = double.NaN;
        for (int number = 1; number <= Recordings; number++)
        {
            var recording = data.TimedWaveforms($"{Folder}/subject_{number:00}/PPG.csv");
            double[] intervals = [.. data.Numbers($"{Folder}/subject_{number:00}/RR.txt").Select(ms => ms / 1000)];
            var derived = Derived.Of(recording, Derived.Averaged(WindowSeconds));
            double end = Math.Min(intervals.Sum(), recording.Channels[0].Times.Span.Seconds);
            var errors = new WindowErrors();
            for (double from = 0; from + WindowSeconds <= end; from += WindowSeconds)
                errors.Add(Derived.PulseRateAround(derived, from, WindowSeconds), RateWindows.PerMinuteOfIntervals(intervals, from, from + WindowSeconds));
            all.Add(errors);
            if (errors.Kept > 0) worst = double.IsNaN(worst) ? errors.MeanAbsolute : Math.Max(worst, errors.MeanAbsolute);
            var red = recording.Channels.Single(c => c.Label.Trim() == "R");
            naive.Add(NaiveRate([.. Enumerable.Range(0, red.Times.Count).Select(i => red.Times.TimeAt(i).Seconds)], OpenData.Values(red)), 60 / intervals.Average());
        }

        return
        [
            row with
            {
                Figures =
                [
                    .. OpenRows.RateFigures(all, Reach.AtMost(1.5, "/min")),
                    new Figure("worst recording's mean absolute error", worst, "/min", 2),
                    new Figure("a naive transform of each whole recording", naive.MeanAbsolute, "/min", 2),
                ],
            },
        ];
    }

    /// <summary>Beats a minute of the highest line of one transform.</summary>
    private static double NaiveRate(double[] times, double[] values)
    {
        int count = (int)(times[^1] * NaiveRateHz), size = 8192;
        var even = new double[count];
        for (int i = 0, at = 0; i < count; i++)
        {
            double t = i / NaiveRateHz;
            while (at + 2 < times.Length && times[at + 1] <= t) at++;
            even[i] = values[at] + (values[at + 1] - values[at]) * (t - times[at]) / (times[at + 1] - times[at]);
        }

        double mean = even.Average();
        var lines = new System.Numerics.Complex[size];
        for (int i = 0; i < count; i++) lines[i] = (even[i] - mean) * 0.5 * (1 - Math.Cos(2 * Math.PI * i / (count - 1)));
        Fourier.Forward(lines, FourierOptions.NoScaling);
        int best = (int)Math.Ceiling(0.7 * size / NaiveRateHz);
        for (int k = best; k * NaiveRateHz / size <= 3.5; k++)
        {
            if (lines[k].Magnitude > lines[best].Magnitude) best = k;
        }

        return 60.0 * best * NaiveRateHz / size;
    }
}
