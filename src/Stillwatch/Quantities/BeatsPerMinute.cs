namespace Stillwatch.Quantities;

/// <summary>A pulse rate, exact to 0.000001 /min.</summary>
public readonly record struct BeatsPerMinute : IQuantity<BeatsPerMinute>
{
    private BeatsPerMinute(int micro) => Micro = micro;

    public int Micro { get; }

    public decimal Value => Micro / 1_000_000m;

    public static BeatsPerMinute FromMicro(int micro) => new(micro);

    /// <exception cref="OverflowException">Beyond ±2147 /min.</exception>
    public static BeatsPerMinute Of(decimal perMinute) => new(FixedPoint.ToMicro(perMinute));

    public int CompareTo(BeatsPerMinute other) => Micro.CompareTo(other.Micro);

    public static bool operator <(BeatsPerMinute left, BeatsPerMinute right) => left.Micro < right.Micro;

    public static bool operator >(BeatsPerMinute left, BeatsPerMinute right) => left.Micro > right.Micro;

    public static bool operator <=(BeatsPerMinute left, BeatsPerMinute right) => left.Micro <= right.Micro;

    public static bool operator >=(BeatsPerMinute left, BeatsPerMinute right) => left.Micro >= right.Micro;

    public override string ToString() => $"{Value:0.######} /min";
}
