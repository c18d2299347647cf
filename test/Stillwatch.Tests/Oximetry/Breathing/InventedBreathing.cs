using Stillwatch.Oximetry;
using Stillwatch.Rehearsal;

namespace Stillwatch.Tests.Oximetry.Breathing;

/// <summary>Beats of an invented patient whose breaths are known: breathing, slow waves and noise in baseline, amplitude and time between beats.</summary>
/// <remarks>Own model, from memory of what such beats look like; no recording went into it.</remarks>
internal sealed record InventedBreathing
{
    public double BreathsPerMinute { get; init; } = 16;

    public double PulsePerMinute { get; init; } = 75;

    /// <summary>Standard deviation of a breath's length over its mean.</summary>
    public double Irregularity { get; init; } = 0.05;

    /// <summary>Breathing in the baseline, over the mean amplitude of a pulse.</summary>
    public double Intensity { get; init; } = 0.5;

    /// <summary>Breathing in the amplitude, over its mean.</summary>
    public double Amplitude { get; init; } = 0.06;

    /// <summary>Breathing in the pulse rate, over its mean.</summary>
    public double Frequency { get; init; } = 0.03;

    /// <summary>Slow waves of about six a minute, and drift.</summary>
    public double SlowWaves { get; init; } = 1;

    public double Noise { get; init; } = 1;

    public double EarlyBeats { get; init; }

    public double MissedBeats { get; init; }

    /// <summary>Whether breathing in takes a third of the breath, instead of a sine.</summary>
    public bool ShortInspiration { get; init; }

    public double LengthSeconds { get; init; } = 300;

    /// <summary>One of a mixed ward: rates from 6 to 45 a minute, strong and weak, quiet and noisy.</summary>
    public static InventedBreathing Mixed(ulong seed)
    {
        var random = SeededRandom.For(seed, 1);
        double which = random.Unit();
        double rate = which < 0.15 ? random.Between(6, 12) : which < 0.8 ? random.Between(12, 25) : random.Between(25, 45);
        return new InventedBreathing
        {
            BreathsPerMinute = rate,
            PulsePerMinute = Math.Max(random.Between(50, 120), 2.4 * rate),
            Irregularity = random.Between(0, 0.12),
            Intensity = Pick(random, 0.1, 0.3, 0.6, 1),
            Amplitude = Pick(random, 0.01, 0.03, 0.06, 0.1),
            Frequency = Pick(random, 0.005, 0.015, 0.03, 0.06),
            SlowWaves = Pick(random, 0.3, 1, 2),
            Noise = Pick(random, 0.5, 1, 2),
            EarlyBeats = Pick(random, 0, 0.01, 0.04),
            MissedBeats = Pick(random, 0, 0.01, 0.03),
            ShortInspiration = random.Index(2) == 1,
        };
    }

    /// <summary>The beats, and the moments at which breaths begin.</summary>
    public (Beat[] Beats, double[] Breaths) Make(ulong seed)
    {
        var random = SeededRandom.For(seed, 2);
        double[] breaths = MakeBreaths(random);
        double lagI = random.Unit(), lagA = random.Unit(), lagF = random.Unit();
        var (slowI, slowA, slowF) = (new SlowWave(random), new SlowWave(random), new SlowWave(random));
        var beats = new List<Beat>();
        double time = 60 / PulsePerMinute * random.Unit();
        bool early = false;
        while (time < LengthSeconds)
        {
            bool afterEarly = early;
            early = random.Unit() < EarlyBeats;
            bool missed = random.Unit() < MissedBeats;
            double shown = time + random.Normal() * 0.005 * Noise - (early ? 0.3 * 60 / PulsePerMinute : 0);
            double amplitude = 1 + Amplitude * Breath(breaths, time, lagA) + 0.02 * SlowWaves * slowA.At(time) + 0.02 * Noise * random.Normal();
            if (early) amplitude *= random.Between(0.5, 0.8);
            if (afterEarly) amplitude *= 1.15;
            double level = Intensity * Breath(breaths, time, lagI) + 0.2 * SlowWaves * slowI.At(time) + 0.05 * Noise * random.Normal();
            if (!missed && shown > 0 && (beats.Count == 0 || shown > beats[^1].UpstrokeSeconds + 0.05))
                beats.Add(new Beat(shown, shown - 0.1, shown + 0.1, amplitude, 1000 - 10 * level, double.NaN, 1));
            time += 60 / PulsePerMinute * (1 + Frequency * Breath(breaths, time, lagF) + 0.015 * SlowWaves * slowF.At(time));
        }

        return ([.. beats], breaths);
    }

    /// <summary>The rate by the breaths that begin in a window.</summary>
    public static double RateOf(double[] breaths, double fromSeconds, double toSeconds)
    {
        var inside = breaths.Where(b => b >= fromSeconds && b < toSeconds).ToArray();
        return inside.Length < 2 ? double.NaN : 60 * (inside.Length - 1) / (inside[^1] - inside[0]);
    }

    private static double Pick(SeededRandom random, params double[] from) => from[random.Index(from.Length)];

    private double[] MakeBreaths(SeededRandom random)
    {
        double mean = 60 / BreathsPerMinute;
        var breaths = new List<double> { -mean * (1 + random.Unit()) };
        while (breaths[^1] < LengthSeconds + 2 * mean) breaths.Add(breaths[^1] + mean * Math.Max(0.4, 1 + Irregularity * random.Normal()));
        return [.. breaths];
    }

    private double Breath(double[] breaths, double time, double lag)
    {
        double at = time - lag * 60 / BreathsPerMinute;
        int after = Array.BinarySearch(breaths, at);
        after = after < 0 ? ~after : after + 1;
        if (after == 0 || after >= breaths.Length) return 0;
        double phase = (at - breaths[after - 1]) / (breaths[after] - breaths[after - 1]);
        if (!ShortInspiration) return Math.Sin(2 * Math.PI * phase);
        return phase < 1.0 / 3 ? -Math.Cos(3 * Math.PI * phase) : Math.Cos(1.5 * Math.PI * (phase - 1.0 / 3));
    }

    private sealed class SlowWave(SeededRandom random)
    {
        private readonly double hertz = random.Between(0.07, 0.12);
        private double phase = 2 * Math.PI * random.Unit(), drift, last;

        public double At(double time)
        {
            double step = Math.Max(0, time - last);
            last = time;
            phase += 2 * Math.PI * hertz * step * (1 + 0.3 * random.Normal());
            drift += 0.3 * Math.Sqrt(step) * random.Normal();
            return Math.Sin(phase) + drift;
        }
    }
}
