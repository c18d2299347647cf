namespace Stillwatch.Quantities;

/// <summary>
/// An area between a series and a limit: depth × time, in %·s (or /min·s), exact as whole millionths of the unit times
/// milliseconds. The default is zero: no area threshold.
/// </summary>
/// <remarks>Holds ±9.2·10⁹ %·s: a century at 2 % below.</remarks>
public readonly record struct Area(long MicroMilliseconds) : IComparable<Area>
{
    public static readonly Area Zero;

    /// <summary>In unit·seconds, e.g. %·s.</summary>
    public decimal Value => MicroMilliseconds / 1_000_000_000m;

    public static Area Of(decimal unitSeconds) => new((long)Math.Round(unitSeconds * 1_000_000_000m, MidpointRounding.AwayFromZero));

    public int CompareTo(Area other) => MicroMilliseconds.CompareTo(other.MicroMilliseconds);

    public static bool operator <(Area left, Area right) => left.MicroMilliseconds < right.MicroMilliseconds;

    public static bool operator >(Area left, Area right) => left.MicroMilliseconds > right.MicroMilliseconds;

    public static bool operator <=(Area left, Area right) => left.MicroMilliseconds <= right.MicroMilliseconds;

    public static bool operator >=(Area left, Area right) => left.MicroMilliseconds >= right.MicroMilliseconds;

    public override string ToString() => $"{Value:0.###} %·s";
}
