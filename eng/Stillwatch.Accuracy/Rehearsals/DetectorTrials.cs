using Stillwatch.Rehearsal.Sensor;

namespace Stillwatch.Accuracy.Rehearsals;

/// <summary>
/// Light on which the beat detectors are compared: each kind of heart, pulse and disturbance two minutes at a time. By this the default is chosen, so that its seeds (from 20 000 on) are
/// neither those of the other rows (9000 and a few hundred) nor those that numbers inside a detector were fixed on (below 9000).
/// </summary>
internal static class DetectorTrials
{
    public const ulong FirstSeed = 20_000;
    private const int Seconds = 120;

    public static IReadOnlyList<(string Kind, Trial Trial, double NoisePercent)> All()
    {
        var all = new List<(string, Trial, double)>();
        (string Name, PulseShape Shape)[] shapes = [("adult", PulseShape.Adult), ("young", PulseShape.Young), ("old", PulseShape.Old), ("newborn", PulseShape.Newborn)];
        foreach (var (name, shape) in shapes)
        {
            foreach (double rate in name == "newborn" ? (double[])[100, 150, 200, 240] : [30, 45, 70, 110, 170]) Add("rest", shape, rate, 1.5, 0.01);
        }

        foreach (var (_, shape) in shapes)
        {
            foreach (var (perfusion, noise) in ((double, double)[])[(0.5, 0.03), (0.2, 0.03), (0.1, 0.02), (0.05, 0.02)]) Add("noise", shape, 80, perfusion, noise);
            foreach (var (strength, hertz) in ((double, double)[])[(0.3, 0), (1, 0), (0.3, 1.5), (1, 1.5), (1, 3)])
                Add("movement", shape, 75, 1.5, 0.01, s => s % 40 >= 20 ? new SensorMoment { Motion = strength, MotionHz = hertz } : default);
        }

        return all;

        void Add(string kind, PulseShape shape, double rate, double perfusion, double noise, Func<int, SensorMoment>? story = null) => all.Add((
            kind, new Trial(new SensorTrial { Seconds = Seconds, PulseRatePerMinute = rate, PerfusionPercent = perfusion }, shape, FirstSeed + (ulong)all.Count, story), noise));
    }
}
