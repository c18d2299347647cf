using Stillwatch.Time;

namespace Stillwatch.Alarms.Sound;

/// <summary>One pulse of a burst.</summary>
/// <param name="Start">From the start of the burst.</param>
/// <param name="Length">From its rise to its end.</param>
public readonly record struct SoundPulse(Duration Start, Duration Length)
{
    public Duration End => Start + Length;
}

/// <summary>How an alarm signal of one priority sounds: a burst of pulses that tells its priority by number and spacing.</summary>
/// <remarks>
/// Inside the ranges of IEC 60601-1-8 (2006 with A1 and A2), tables 3 and 4, of which no copy is at hand: pulses a burst, the gap in the
/// middle of a high burst, interburst intervals and the fundamental are from secondary copies; the spacings as multiples, the pulse
/// lengths of medium and low, and the levels of the harmonics are from memory. Which value inside a range is taken is our own choice.
/// It is for listening to a recording, never for alarming.
/// </remarks>
public sealed record BurstPattern
{
    public required AlarmPriority Priority { get; init; }

    public required IReadOnlyList<SoundPulse> Pulses { get; init; }

    /// <summary>From the end of a burst to the start of the next, while the signal lasts; null: it is not repeated.</summary>
    public required Duration? Interburst { get; init; }

    public required double FundamentalHertz { get; init; }

    /// <summary>Level of the second, third … harmonic against the fundamental, in decibels.</summary>
    public required IReadOnlyList<double> HarmonicDecibels { get; init; }

    /// <summary>The part of a pulse in which it rises, 0–1; its fall is as long.</summary>
    public double RiseShare { get; init; } = 0.15; // inside 10–40 % and inside 10–20 %: the sources disagree

    public Duration Length => Pulses[^1].End;
}

/// <summary>The bursts by priority.</summary>
public static class BurstPatterns
{
    private static readonly double[] Harmonics = [-3, -6, -9, -12];

    private static readonly BurstPattern High = new()
    {
        Priority = AlarmPriority.High,
        Pulses = Pulses(120, [80, 80, 280, 80, 500, 80, 80, 280, 80]), // x = 80, in the fives 2x + td = 280, between them 500
        Interburst = new Duration(2500),
        FundamentalHertz = 523.25,
        HarmonicDecibels = Harmonics,
    };

    private static readonly BurstPattern Medium = new()
    {
        Priority = AlarmPriority.Medium,
        Pulses = Pulses(180, [180, 180]),
        Interburst = new Duration(7500),
        FundamentalHertz = 440,
        HarmonicDecibels = Harmonics,
    };

    private static readonly BurstPattern Low = new()
    {
        Priority = AlarmPriority.Low,
        Pulses = Pulses(180, [180]),
        Interburst = null,
        FundamentalHertz = 349.23,
        HarmonicDecibels = Harmonics,
    };

    /// <summary>From the highest priority down.</summary>
    public static IReadOnlyList<BurstPattern> All { get; } = [High, Medium, Low];

    /// <summary>Null for <see cref="AlarmPriority.None"/>, which is silent.</summary>
    public static BurstPattern? Of(AlarmPriority priority) => priority switch
    {
        AlarmPriority.High => High,
        AlarmPriority.Medium => Medium,
        AlarmPriority.Low => Low,
        _ => null,
    };

    /// <param name="length">Of every pulse, in milliseconds.</param>
    /// <param name="gaps">From the end of a pulse to the start of the next, in milliseconds.</param>
    private static SoundPulse[] Pulses(int length, int[] gaps)
    {
        var pulses = new SoundPulse[gaps.Length + 1];
        var at = Duration.Zero;
        for (int i = 0; i < pulses.Length; i++)
        {
            pulses[i] = new SoundPulse(at, new Duration(length));
            if (i < gaps.Length) at = pulses[i].End + new Duration(gaps[i]);
        }

        return pulses;
    }
}
