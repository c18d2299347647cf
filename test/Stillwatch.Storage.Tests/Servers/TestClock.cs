namespace Stillwatch.Storage.Tests.Servers;

/// <summary>A clock that goes on by a second and a bit each time it is asked.</summary>
public sealed class TestClock : TimeProvider
{
    private long asked;

    public static DateTimeOffset Start { get; } = new(2031, 3, 4, 21, 0, 0, TimeSpan.Zero);

    public override DateTimeOffset GetUtcNow() => Start.AddMilliseconds(1_001 * Interlocked.Increment(ref asked));
}
