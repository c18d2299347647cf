using Stillwatch.Time;

namespace Stillwatch.Alarms;

public enum GateVerdict
{
    /// <summary>It will be released in its place.</summary>
    Accepted,

    /// <summary>Behind the watermark: to be stored and listed, never used (R11).</summary>
    Late,

    /// <summary>A row of that instant is there already: to be stored and listed, never used.</summary>
    Repeated,
}

/// <summary>
/// Puts a live feed's rows in order (R11). Rows wait until the watermark reaches them and are released in rising time; a row
/// behind the watermark is refused. The watermark is the highest sample time seen minus a patience, or the time explicitly
/// advanced to, whichever is later; it never goes back.
/// </summary>
/// <remarks>Memory is bounded: when as many rows wait as the capacity allows, the earliest is released and the watermark moves to it.</remarks>
public sealed class LateSampleGate
{
    private const long LongestPatienceMilliseconds = 3_600_000;

    private readonly long patience;
    private readonly AlarmRow[] waiting;
    private int count;
    private long highest = long.MinValue;
    private long watermark = long.MinValue;
    private long lastReleased = long.MinValue;

    /// <param name="patience">How long to wait for a row that may still come; zero: rows pass at once. Every alarm is later by this much.</param>
    /// <param name="capacity">How many rows may wait.</param>
    public LateSampleGate(Duration patience, int capacity = 256)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(patience.Milliseconds, nameof(patience));
        ArgumentOutOfRangeException.ThrowIfGreaterThan(patience.Milliseconds, LongestPatienceMilliseconds, nameof(patience));
        ArgumentOutOfRangeException.ThrowIfLessThan(capacity, 1);
        this.patience = patience.Milliseconds;
        waiting = new AlarmRow[capacity];
    }

    /// <summary>Every row before it has come or is late; null before the first row or advance.</summary>
    public SampleTime? Watermark => watermark == long.MinValue ? null : new SampleTime(watermark);

    /// <summary>Offers a row; afterwards <see cref="TryRelease"/> until it gives no more. Times out of the engine's bounds count as late.</summary>
    public GateVerdict Offer(in AlarmRow row)
    {
        long time = row.Time.Milliseconds;
        if (time < watermark || !IsInBounds(time)) return GateVerdict.Late;
        int place = count;
        while (place > 0 && waiting[place - 1].Time.Milliseconds > time) place--;
        if (time == lastReleased || (place > 0 && waiting[place - 1].Time.Milliseconds == time)) return GateVerdict.Repeated;
        if (count == waiting.Length) throw new InvalidOperationException("The gate is full: release rows after every offer.");
        Array.Copy(waiting, place, waiting, place + 1, count - place);
        waiting[place] = row;
        count++;
        highest = Math.Max(highest, time);
        watermark = Math.Max(watermark, highest - patience);
        if (count == waiting.Length) watermark = Math.Max(watermark, waiting[0].Time.Milliseconds);
        return GateVerdict.Accepted;
    }

    /// <summary>Says that rows before a time are not waited for any longer. A time out of the engine's bounds changes nothing.</summary>
    public void AdvanceTo(SampleTime time)
    {
        if (IsInBounds(time.Milliseconds)) watermark = Math.Max(watermark, time.Milliseconds);
    }

    /// <summary>The next row at or before the watermark, in rising time.</summary>
    public bool TryRelease(out AlarmRow row)
    {
        if (count == 0 || waiting[0].Time.Milliseconds > watermark)
        {
            row = default;
            return false;
        }

        row = waiting[0];
        count--;
        Array.Copy(waiting, 1, waiting, 0, count);
        lastReleased = row.Time.Milliseconds;
        return true;
    }

    private static bool IsInBounds(long milliseconds) => milliseconds is >= -AlarmEngine.FurthestMilliseconds and <= AlarmEngine.FurthestMilliseconds;
}
