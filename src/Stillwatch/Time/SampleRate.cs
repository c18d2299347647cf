using System.Globalization;

namespace Stillwatch.Time;

/// <summary>
/// An exact rate of even sampling: so many samples in so much time, kept as a fraction, for 360 samples a second do not fall on whole
/// milliseconds.
/// </summary>
public readonly record struct SampleRate
{
    private SampleRate(long samples, long milliseconds)
    {
        Samples = samples;
        Milliseconds = milliseconds;
    }

    /// <summary>In lowest terms: <see cref="Samples"/> samples in <see cref="Milliseconds"/>.</summary>
    public long Samples { get; }

    public long Milliseconds { get; }

    public double Hertz => Samples * 1000.0 / Milliseconds;

    /// <summary>From sample to sample in whole milliseconds, rounded, and never less than one: the P of rule R1.</summary>
    public Duration Period => new(Math.Max(1, (2 * Milliseconds + Samples) / (2 * Samples)));

    /// <summary>Whether every sample falls on a whole millisecond.</summary>
    public bool IsWholeMilliseconds => Samples == 1;

    /// <summary>Whether no two samples share a millisecond, as rows that are judged by the rules must not (rule R1).</summary>
    public bool IsOnePerMillisecondAtMost => Samples <= Milliseconds;

    /// <exception cref="ArgumentOutOfRangeException">Not above zero, or too large for exact arithmetic (10^15).</exception>
    public static SampleRate Of(long samples, long milliseconds)
    {
        const long largest = 1_000_000_000_000_000;
        ArgumentOutOfRangeException.ThrowIfLessThan(samples, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(samples, largest);
        ArgumentOutOfRangeException.ThrowIfLessThan(milliseconds, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(milliseconds, largest);
        long divisor = (long)System.Numerics.BigInteger.GreatestCommonDivisor(samples, milliseconds);
        return new SampleRate(samples / divisor, milliseconds / divisor);
    }

    /// <summary>So many samples in a span whose length need not be whole milliseconds ("0.0078125 s"), to nine decimals of a second.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Not above zero, or beyond exact arithmetic.</exception>
    public static SampleRate Of(long samples, decimal seconds)
    {
        ArgumentOutOfRangeException.ThrowIfLessThanOrEqual(seconds, 0m);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(seconds, 1_000_000_000m);
        ArgumentOutOfRangeException.ThrowIfLessThan(samples, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(samples, 1_000_000_000);
        decimal nanoseconds = decimal.Round(seconds * 1_000_000_000m);
        ArgumentOutOfRangeException.ThrowIfLessThan(nanoseconds, 1m, nameof(seconds));
        var (dividend, divisor) = (new System.Numerics.BigInteger(samples) * 1_000_000, new System.Numerics.BigInteger(nanoseconds));
        var common = System.Numerics.BigInteger.GreatestCommonDivisor(dividend, divisor);
        return Of((long)(dividend / common), (long)(divisor / common));
    }

    public static SampleRate FromPeriod(Duration period) => Of(1, period.Milliseconds);

    /// <summary>The time of a sample after the first, in milliseconds, rounded half up.</summary>
    public long MillisecondsAt(long index)
    {
        if (Samples == 1) return index * Milliseconds;
        var scaled = (Int128)index * Milliseconds * 2 + Samples;
        return (long)(scaled / (2 * (Int128)Samples));
    }

    public override string ToString() => Samples >= Milliseconds / 1000.0
        ? string.Create(CultureInfo.InvariantCulture, $"{Hertz:0.###} a second")
        : string.Create(CultureInfo.InvariantCulture, $"one every {Milliseconds / 1000.0 / Samples:0.###} s");
}
