using System.Numerics;
using Stillwatch.Time;

namespace Stillwatch.Formats.Wfdb.Header;

/// <summary>From the decimal of a record line to an exact rate.</summary>
internal static class SamplingFrequency
{
    /// <summary>One frame in about eleven days.</summary>
    public const decimal Least = 0.000_001m;

    /// <summary>Frames a second.</summary>
    public const decimal Most = 100_000_000m;

    /// <summary>A record whose times reach beyond a century is a damaged one.</summary>
    public const long LongestMilliseconds = 100L * 366 * 86_400_000;

    private const long MostDenominator = 10_000;
    private const long LargestExact = 500_000_000; // numerators and denominators that leave SampleRate room for samples per frame

    /// <summary>
    /// The exact rate, or the simple fraction that the decimal is a rounding of: 0.0166666666667 is one a minute. Taken only where the fraction,
    /// written with as many decimals, gives the very same text, where so near a fraction is no coincidence, and where no time of the record moves by half a millisecond.
    /// </summary>
    /// <param name="perSecond">As the header has it.</param>
    /// <param name="frames">The record's length.</param>
    /// <returns>The rate, and whether it is another number than the decimal.</returns>
    public static (SampleRate Rate, bool IsSnapped) Of(decimal perSecond, long frames)
    {
        var (numerator, denominator) = Fraction(perSecond);
        decimal unit = LastPlace(perSecond);
        foreach (var (a, b) in Convergents(numerator, denominator))
        {
            if (a.IsZero) continue;
            bool isExact = a * denominator == b * numerator;
            if (isExact && a <= LargestExact && b <= LargestExact) return (SampleRate.Of((long)a, (long)b * 1000), false);
            if (b > LargestExact || a > LargestExact) break;
            if (!isExact && b <= MostDenominator && IsMeant(perSecond, unit, (long)a, (long)b, frames)) return (SampleRate.Of((long)a, (long)b * 1000), true);
        }

        // No fraction of this size is exact: the nearest one, listed like a snapped one.
        var (nearA, nearB) = Convergents(numerator, denominator).TakeWhile(c => c.A <= LargestExact && c.B <= LargestExact).Last(c => !c.A.IsZero);
        return (SampleRate.Of((long)nearA, (long)nearB * 1000), true);
    }

    private static bool IsMeant(decimal perSecond, decimal unit, long a, long b, long frames)
    {
        decimal fraction = (decimal)a / b;
        bool sameText = Math.Abs(fraction - perSecond) <= unit / 2;
        bool noCoincidence = (decimal)b * b * unit < 0.01m;
        // |frames/f - frames·b/a| in seconds, without the decimals running out.
        double drift = (double)frames * (double)Math.Abs(fraction - perSecond) / ((double)perSecond * (double)fraction);
        return sameText && noCoincidence && drift < 0.0005;
    }

    private static (BigInteger Numerator, BigInteger Denominator) Fraction(decimal value)
    {
        Span<int> bits = stackalloc int[4];
        decimal.GetBits(value, bits);
        var digits = unchecked((new BigInteger((uint)bits[2]) << 64) + (new BigInteger((uint)bits[1]) << 32) + (uint)bits[0]);
        return (digits, BigInteger.Pow(10, value.Scale));
    }

    private static decimal LastPlace(decimal value)
    {
        decimal place = 1m;
        for (int i = 0; i < value.Scale && i < 27; i++) place /= 10m;
        return place;
    }

    // The continued fraction's convergents: each is nearer than any fraction with a smaller denominator.
    private static IEnumerable<(BigInteger A, BigInteger B)> Convergents(BigInteger numerator, BigInteger denominator)
    {
        BigInteger a0 = 0, b0 = 1, a1 = 1, b1 = 0;
        while (!denominator.IsZero)
        {
            var whole = BigInteger.DivRem(numerator, denominator, out var rest);
            (a0, b0, a1, b1) = (a1, b1, whole * a1 + a0, whole * b1 + b0);
            yield return (a1, b1);
            (numerator, denominator) = (denominator, rest);
        }
    }
}
