using Stillwatch.Rehearsal;
using Stillwatch.Rehearsal.Sensor;

namespace Stillwatch.Accuracy.Rehearsals;

/// <summary>One stretch of rehearsed light: a patient without a story, a sensor, a seed.</summary>
internal sealed record Trial(SensorTrial Patient, PulseShape Shape, ulong Seed, Func<int, SensorMoment>? Story = null)
{
    public RehearsedLight Light(BloodTable blood, double noisePercent)
    {
        var sensor = OpticalSensorSettings.Default with { Blood = blood, Shape = Shape, NoisePercent = noisePercent };
        return Story is null ? Patient.Light(sensor, Seed) : Patient.Light(sensor, Seed, Story);
    }
}

/// <summary>
/// The trials of each row. Their seeds begin at 9000, which no test and no choice of a parameter uses: what was fixed on other light is measured on these.
/// </summary>
internal static class Trials
{
    public const ulong FirstSeed = 9000;

    private static readonly PulseShape[] Shapes = [PulseShape.Adult, PulseShape.Young, PulseShape.Old];
    private static readonly double[] PulseRates = [52, 74, 96, 125];
    private static readonly double[] BreathRates = [10, 15, 22];

    /// <summary>Perfusion 1 to 5 %, saturation 70 to 100 %: level stretches of 2 min, and slow falls and rises of 10 min.</summary>
    public static IReadOnlyList<Trial> Clean()
    {
        var trials = new List<Trial>();
        foreach (double perfusion in new double[] { 1, 2, 3.5, 5 })
        {
            for (int saturation = 70; saturation <= 100; saturation += 5) trials.Add(Next(trials.Count, 0, 120, perfusion, saturation, saturation));
            trials.Add(Next(trials.Count, 0, 600, perfusion, 100, 70));
            trials.Add(Next(trials.Count, 0, 600, perfusion, 70, 100));
        }

        return trials;
    }

    /// <summary>Perfusion 0.2 to 0.5 %, saturation 70 to 98 %, 5 min each.</summary>
    public static IReadOnlyList<Trial> Weak()
    {
        var trials = new List<Trial>();
        foreach (double perfusion in new[] { 0.2, 0.3, 0.4, 0.5 })
        {
            foreach (double saturation in new double[] { 70, 78, 85, 90, 94, 98 }) trials.Add(Next(trials.Count, 200, 300, perfusion, saturation, saturation));
        }

        return trials;
    }

    /// <summary>
    /// Movement of 8 to 60 s with rests of 10 to 120 s, from a third of the usual pulse to three times its height, irregular, or rhythmic at 0.7 to 4 Hz. Half-hours at 93
    /// to 98 %, and some in which saturation falls to 80 % or rises from there.
    /// </summary>
    public static IReadOnlyList<Trial> Moving()
    {
        var trials = new List<Trial>();
        (double First, double Last)[] courses = [(97, 97), (95, 95), (93, 93), (98, 96), (96, 93), (97, 80), (95, 95), (80, 97)];
        foreach (double perfusion in new double[] { 1, 2.5 })
        {
            foreach (var (first, last) in courses)
            {
                ulong seed = FirstSeed + 400 + (ulong)trials.Count;
                trials.Add(Next(trials.Count, 400, 1800, perfusion, first, last) with { Story = Movement(seed, 1800) });
            }
        }

        return trials;
    }

    private static Trial Next(int index, int seedOffset, int seconds, double perfusion, double first, double last) => new(
        new SensorTrial
        {
            Seconds = seconds,
            SaturationPercent = first,
            LastSaturationPercent = last,
            PerfusionPercent = perfusion,
            PulseRatePerMinute = PulseRates[index % PulseRates.Length],
            RespiratoryRatePerMinute = BreathRates[index % BreathRates.Length],
        },
        Shapes[index / 2 % Shapes.Length],
        FirstSeed + (ulong)(seedOffset + index));

    private static Func<int, SensorMoment> Movement(ulong seed, int seconds)
    {
        var chance = SeededRandom.For(seed, 77);
        var story = new SensorMoment[seconds];
        int at = (int)chance.Between(10, 120);
        while (at < seconds)
        {
            int length = (int)chance.Between(8, 60);
            double strength = 0.33 * Math.Exp(chance.Between(0, Math.Log(9)));
            double hertz = chance.Unit() < 0.5 ? 0 : chance.Between(0.7, 4);
            for (int i = at; i < Math.Min(at + length, seconds); i++) story[i] = new SensorMoment { Motion = strength, MotionHz = hertz };
            at += length + (int)chance.Between(10, 120);
        }

        return second => story[second];
    }
}
