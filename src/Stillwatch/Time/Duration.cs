namespace Stillwatch.Time;

/// <summary>A length of time in whole milliseconds; may be zero or negative. The default is zero.</summary>
public readonly record struct Duration(long Milliseconds) : IComparable<Duration>
{
    public static readonly Duration Zero;

    public double Seconds => Milliseconds / 1000.0;

    public double Minutes => Milliseconds / 60_000.0;

    public double Hours => Milliseconds / 3_600_000.0;

    public static Duration FromSeconds(decimal seconds) => new((long)Math.Round(seconds * 1000m, MidpointRounding.AwayFromZero));

    public static Duration FromHours(int hours) => new(hours * 3_600_000L);

    public int CompareTo(Duration other) => Milliseconds.CompareTo(other.Milliseconds);

    public static Duration operator +(Duration left, Duration right) => new(left.Milliseconds + right.Milliseconds);

    public static Duration operator -(Duration left, Duration right) => new(left.Milliseconds - right.Milliseconds);

    public static bool operator <(Duration left, Duration right) => left.Milliseconds < right.Milliseconds;

    public static bool operator >(Duration left, Duration right) => left.Milliseconds > right.Milliseconds;

    public static bool operator <=(Duration left, Duration right) => left.Milliseconds <= right.Milliseconds;

    public static bool operator >=(Duration left, Duration right) => left.Milliseconds >= right.Milliseconds;

    public override string ToString() => $"{Milliseconds / 1000m:0.###} s";
}
