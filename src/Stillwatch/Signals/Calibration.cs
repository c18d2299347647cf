namespace Stillwatch.Signals;

/// <summary>
/// How a converter's counts become values in a unit: value = <see cref="Offset"/> + (count − <see cref="Origin"/>) ·
/// <see cref="Numerator"/> / <see cref="Denominator"/>. Kept as the four numbers that a file states, for their quotient alone is not exact.
/// </summary>
/// <param name="Origin">The count that stands for <paramref name="Offset"/>.</param>
/// <param name="Offset">In the unit.</param>
/// <param name="Numerator">In the unit; not zero. Negative: the channel is upside down.</param>
/// <param name="Denominator">In counts; above zero.</param>
public sealed record Calibration(long Origin, decimal Offset, decimal Numerator, decimal Denominator)
{
    /// <summary>Counts as they are, without a unit.</summary>
    public static readonly Calibration Counts = new(0, 0, 1, 1);

    /// <summary>From the two ends of a scale, as EDF and BDF state it.</summary>
    /// <exception cref="ArgumentException">One end is the other, in counts or in the unit.</exception>
    public static Calibration OfRange(long digitalMinimum, long digitalMaximum, decimal physicalMinimum, decimal physicalMaximum)
    {
        if (digitalMinimum == digitalMaximum) throw new ArgumentException($"Found both ends of the counts at {digitalMinimum}, expected two different ones.", nameof(digitalMaximum));
        if (physicalMinimum == physicalMaximum) throw new ArgumentException($"Found both ends of the values at {physicalMinimum}, expected two different ones.", nameof(physicalMaximum));
        decimal counts = digitalMaximum - digitalMinimum;
        decimal span = physicalMaximum - physicalMinimum;
        return counts > 0
            ? new Calibration(digitalMinimum, physicalMinimum, span, counts)
            : new Calibration(digitalMinimum, physicalMinimum, -span, -counts);
    }

    /// <summary>From counts per unit and the count at zero, as WFDB states it.</summary>
    /// <exception cref="ArgumentOutOfRangeException">The gain is zero.</exception>
    public static Calibration OfGain(decimal countsPerUnit, long baseline)
    {
        ArgumentOutOfRangeException.ThrowIfZero(countsPerUnit);
        return new Calibration(baseline, 0, countsPerUnit < 0 ? -1 : 1, Math.Abs(countsPerUnit));
    }

    /// <summary>The unit's worth of one count.</summary>
    public double Step => (double)Numerator / (double)Denominator;

    /// <summary>Within one part in 10^15 of the exact quotient.</summary>
    public double ValueOf(long count) => (double)Offset + (count - Origin) * (double)Numerator / (double)Denominator;

    /// <summary>The value in whole millionths of the unit, half away from zero; null beyond ±2147.483647, where a <see cref="ValueColumn"/> cannot hold it.</summary>
    public int? MicroOf(long count)
    {
        try
        {
            decimal micro = Math.Round((Offset + (count - Origin) * Numerator / Denominator) * 1_000_000m, MidpointRounding.AwayFromZero);
            return Math.Abs(micro) <= int.MaxValue ? (int)micro : null;
        }
        catch (OverflowException)
        {
            return null;
        }
    }
}
