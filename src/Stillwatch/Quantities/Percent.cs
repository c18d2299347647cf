namespace Stillwatch.Quantities;

/// <summary>A percentage (of saturation, of inhaled oxygen, a margin in percentage points), exact to 0.000001 %. Not confined to 0–100: judging that is the validity rules' part.</summary>
public readonly record struct Percent : IQuantity<Percent>
{
    private Percent(int micro) => Micro = micro;

    public int Micro { get; }

    public decimal Value => Micro / 1_000_000m;

    public static Percent FromMicro(int micro) => new(micro);

    /// <exception cref="OverflowException">Beyond ±2147 %.</exception>
    public static Percent Of(decimal percent) => new(FixedPoint.ToMicro(percent));

    public int CompareTo(Percent other) => Micro.CompareTo(other.Micro);

    public static bool operator <(Percent left, Percent right) => left.Micro < right.Micro;

    public static bool operator >(Percent left, Percent right) => left.Micro > right.Micro;

    public static bool operator <=(Percent left, Percent right) => left.Micro <= right.Micro;

    public static bool operator >=(Percent left, Percent right) => left.Micro >= right.Micro;

    public override string ToString() => $"{Value:0.######} %";
}
