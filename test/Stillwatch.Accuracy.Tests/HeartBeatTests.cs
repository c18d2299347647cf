using Stillwatch.Accuracy.Beats;
using Stillwatch.Accuracy.Recordings;
using Stillwatch.Time;

namespace Stillwatch.Accuracy.Tests;

/// <summary>What pulses are held against must be right by itself.</summary>
public class HeartBeatTests
{
    [Fact]
    public void Drawn_beats_are_found_where_they_were_drawn_whichever_way_R_points()
    {
        double[] drawn = [.. Enumerable.Range(0, 60).Select(i => 0.5 + i * 0.8 + 0.1 * Math.Sin(i))];
        var lead = new double[125 * 50];
        for (int i = 0; i < lead.Length; i++)
        {
            double t = i / 125.0;
            // R narrow, T broad and a third as high, breathing underneath.
            lead[i] = 0.3 * Math.Sin(t) + drawn.Sum(b => Bell(t - b, 0.012) + 0.3 * Bell(t - b - 0.25, 0.05));
        }

        foreach (double sign in new[] { 1.0, -1.0 })
        {
            double[] found = HeartBeats.Find(lead.Select(v => sign * v).ToArray(), 125);
            Assert.Equal(drawn.Length, found.Length);
            Assert.All(found.Zip(drawn), p => Assert.InRange(p.First - p.Second, -0.004, 0.004));
        }
    }

    [Fact]
    public void The_real_record_has_the_heart_beats_that_its_description_counts()
    {
        // BIDMC PPG and Respiration, PhysioNet, doi 10.13026/C2208R, record 01, lead II: 730 beats at 91.5 a minute by another detector.
        string path = OpenRecordings.Path("icu-plethysmogram/bidmc_01_Signals.csv");
        var data = new OpenData(Path.GetDirectoryName(Path.GetDirectoryName(path))!);
        var recording = data.EvenWaveforms("icu-plethysmogram/bidmc_01_Signals.csv", SampleRate.Of(125, 1000L));
        double[] found = HeartBeats.Find(OpenData.Values(recording.Channels.Single(c => c.Label.Trim() == "II")), 125);

        Assert.InRange(found.Length, 729, 731);
        double[] steps = [.. found.Zip(found.Skip(1), (a, b) => b - a)];
        Assert.InRange(60 / steps.Average(), 91.2, 91.8);
        Assert.All(steps, s => Assert.InRange(s, 0.4, 1.0));
    }

    private static double Bell(double t, double width) => Math.Exp(-t * t / (2 * width * width));
}
