using Stillwatch.Time;

namespace Stillwatch.Replay.Fidelity;

/// <summary>Rising times, to be asked what lies near an instant, however many there are.</summary>
internal sealed class Starts(IEnumerable<SampleTime> rising)
{
    private readonly SampleTime[] times = [.. rising];

    public int Count => times.Length;

    /// <summary>Index of the first at or after an instant.</summary>
    public int AtOrAfter(SampleTime time)
    {
        int low = 0, high = times.Length;
        while (low < high)
        {
            int middle = low + (high - low) / 2;
            if (times[middle] < time) low = middle + 1;
            else high = middle;
        }

        return low;
    }

    public bool AnyWithin(SampleTime from, SampleTime to)
    {
        int i = AtOrAfter(from);
        return i < times.Length && times[i] <= to;
    }

    /// <summary>The nearest one minus an instant; null where none is within reach.</summary>
    public Duration? Nearest(SampleTime to, Duration reach)
    {
        int i = AtOrAfter(to);
        Duration? nearest = i < times.Length ? times[i] - to : null;
        if (i > 0 && (nearest is not { } after || to - times[i - 1] < after)) nearest = times[i - 1] - to;
        return nearest is { } found && Math.Abs(found.Milliseconds) <= reach.Milliseconds ? nearest : null;
    }
}
