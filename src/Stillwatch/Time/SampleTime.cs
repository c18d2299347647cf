namespace Stillwatch.Time;

/// <summary>
/// A point on a recording's own time line: whole milliseconds since the recording's time origin (usually its first row).
/// It says nothing of the wall clock; <see cref="RecordingStart"/> does, where it is known at all.
/// </summary>
/// <remarks>Rule R1: times are compared to 0.001 s, so nothing finer is kept. The default is the origin.</remarks>
public readonly record struct SampleTime(long Milliseconds) : IComparable<SampleTime>
{
    public double Seconds => Milliseconds / 1000.0;

    public static SampleTime FromSeconds(decimal seconds) => new((long)Math.Round(seconds * 1000m, MidpointRounding.AwayFromZero));

    public int CompareTo(SampleTime other) => Milliseconds.CompareTo(other.Milliseconds);

    public static Duration operator -(SampleTime later, SampleTime earlier) => new(later.Milliseconds - earlier.Milliseconds);

    public static SampleTime operator +(SampleTime time, Duration length) => new(time.Milliseconds + length.Milliseconds);

    public static SampleTime operator -(SampleTime time, Duration length) => new(time.Milliseconds - length.Milliseconds);

    public static bool operator <(SampleTime left, SampleTime right) => left.Milliseconds < right.Milliseconds;

    public static bool operator >(SampleTime left, SampleTime right) => left.Milliseconds > right.Milliseconds;

    public static bool operator <=(SampleTime left, SampleTime right) => left.Milliseconds <= right.Milliseconds;

    public static bool operator >=(SampleTime left, SampleTime right) => left.Milliseconds >= right.Milliseconds;

    public override string ToString() => $"{Milliseconds / 1000m:0.###} s";
}
