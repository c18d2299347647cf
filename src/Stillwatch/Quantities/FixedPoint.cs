namespace Stillwatch.Quantities;

/// <summary>Arithmetic on millionths that the rules ask for: exact, and half away from zero.</summary>
public static class FixedPoint
{
    /// <summary>One unit (1 %, 1 /min) in millionths.</summary>
    public const int One = 1_000_000;

    /// <exception cref="OverflowException">The value is beyond ±2147.483647.</exception>
    public static int ToMicro(decimal value) => (int)Math.Round(value * One, MidpointRounding.AwayFromZero);

    /// <summary>Rounds millionths to whole units, half away from zero (rule R6): 88.5 → 89.</summary>
    public static int RoundToWhole(int micro) => micro >= 0
        ? (int)((micro + (long)One / 2) / One * One)
        : (int)-((One / 2 - (long)micro) / One * One);

    /// <summary>The mean of <paramref name="count"/> values, to a millionth, half away from zero.</summary>
    public static int Mean(long sumMicro, int count) => (int)DivideHalfAway(sumMicro, count);

    /// <summary>
    /// The mean rounded to whole units, half away from zero, decided on the exact fraction: rounding twice (first to
    /// millionths, then to units) could lift a mean just under one half.
    /// </summary>
    public static int MeanRoundedToWhole(long sumMicro, int count) => (int)DivideHalfAway(sumMicro, (long)count * One) * One;

    private static long DivideHalfAway(long numerator, long denominator) => numerator >= 0
        ? (numerator + denominator / 2) / denominator
        : -((denominator / 2 - numerator) / denominator);
}
