using System.Numerics;
using Stillwatch.Formats.Wfdb.Samples;
using Stillwatch.Signals;

namespace Stillwatch.Formats.Wfdb.Segments;

/// <summary>
/// One calibration for counts of several: the coarsest in which every count of each is a whole count again, so that nothing is rounded. The
/// original library rounds to the counts of the layout instead; its values in the unit are the same where the layout's gain is the finest.
/// </summary>
internal static class CommonCalibration
{
    private static readonly BigInteger Largest = BigInteger.Pow(10, 27); // a decimal holds it exactly

    /// <summary>Null where there is none whose counts fit 32 bits.</summary>
    public static (Calibration Common, IReadOnlyDictionary<Calibration, CountScale> Scales)? Find(IReadOnlyCollection<(Calibration Calibration, SignalFormat Format)> all)
    {
        // A gain is p/q counts per unit; the least common multiple of fractions in lowest terms is lcm(p)/gcd(q).
        BigInteger numerator = 1, denominator = 0;
        foreach (var (calibration, format) in all)
        {
            if (format.IsDifferences) return null; // their counts have no bound
            var (p, q) = Gain(calibration);
            numerator = numerator / BigInteger.GreatestCommonDivisor(numerator, p) * p;
            denominator = BigInteger.GreatestCommonDivisor(denominator, q);
            if (numerator > Largest || denominator > Largest) return null;
        }

        var scales = new Dictionary<Calibration, CountScale>();
        foreach (var (calibration, format) in all)
        {
            var (p, q) = Gain(calibration);
            var factor = numerator * q / (denominator * p) * (calibration.Numerator < 0 ? -1 : 1);
            var most = (BigInteger.Pow(2, format.Bits - 1) + BigInteger.Abs(calibration.Origin)) * BigInteger.Abs(factor);
            if (most > int.MaxValue) return null;
            scales[calibration] = new CountScale(calibration.Origin, (long)factor);
        }

        return (new Calibration(0, 0, (decimal)denominator, (decimal)numerator), scales);
    }

    private static (BigInteger P, BigInteger Q) Gain(Calibration calibration)
    {
        Span<int> bits = stackalloc int[4];
        decimal.GetBits(calibration.Denominator, bits);
        var p = unchecked((new BigInteger((uint)bits[2]) << 64) + (new BigInteger((uint)bits[1]) << 32) + (uint)bits[0]);
        var q = BigInteger.Pow(10, calibration.Denominator.Scale);
        var common = BigInteger.GreatestCommonDivisor(p, q);
        return (p / common, q / common);
    }
}
