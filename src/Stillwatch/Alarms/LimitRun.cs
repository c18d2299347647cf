namespace Stillwatch.Alarms;

/// <summary>
/// One run beyond a limit (R7): how long it has lasted and what area it has gathered, without time lost (R9), and when it
/// qualifies. Depth is how far the value lies beyond the limit, in millionths, so that low and high limits are one thing.
/// </summary>
/// <remarks>
/// The area crosses its threshold at an instant that need not be a whole millisecond; the floor of it is taken. A run that
/// ends at a whole millisecond E has grown past the threshold exactly if E lies after that floor, so "strictly past before
/// the end" and "the start lies before the end" are one statement.
/// </remarks>
internal struct LimitRun
{
    public const long Never = long.MaxValue;
    private const long AreaCeiling = long.MaxValue / 4;

    private long delay;
    private long threshold;
    private bool enabled;
    private bool suspended;
    private long length;
    private long area;
    private long from;
    private long depth;

    /// <summary>A run is open, going on or suspended by a loss.</summary>
    public bool IsOpen { get; private set; }

    public void Configure(bool isEnabled, long delayMilliseconds, long areaThreshold)
    {
        enabled = isEnabled;
        delay = delayMilliseconds;
        threshold = areaThreshold;
        if (!enabled) Close();
    }

    /// <summary>When it qualifies if its value stays as it is; <see cref="Never"/> while there is none or it is suspended.</summary>
    public readonly long QualifiesAt
    {
        get
        {
            if (!enabled || !IsOpen || suspended) return Never;
            long byDelay = from + Math.Max(0, delay - length);
            long left = threshold - area;
            long byArea = left <= 0 ? from : from + left / depth;
            return Math.Max(byDelay, byArea);
        }
    }

    /// <summary>A value while the one before it still held, or the first of all.</summary>
    public void Value(long time, long newDepth)
    {
        if (!enabled) return;
        if (IsOpen) Gather(time);
        if (newDepth <= 0) Close();
        else if (!IsOpen) Open(time, newDepth);
        else depth = newDepth;
    }

    /// <summary>The value was lost: nothing more is gathered.</summary>
    public void Lose(long time)
    {
        if (!IsOpen) return;
        Gather(time);
        suspended = true;
    }

    /// <summary>The first value after a loss.</summary>
    public void Return(long time, long newDepth, bool inTime)
    {
        if (!enabled) return;
        if (!inTime || newDepth <= 0) Close();
        if (newDepth <= 0) return;
        if (!IsOpen)
        {
            Open(time, newDepth);
            return;
        }

        suspended = false;
        from = time;
        depth = newDepth;
    }

    public void Close()
    {
        IsOpen = false;
        suspended = false;
    }

    private void Open(long time, long newDepth)
    {
        IsOpen = true;
        suspended = false;
        length = 0;
        area = 0;
        from = time;
        depth = newDepth;
    }

    private void Gather(long time)
    {
        long more = time - from;
        length += more;
        // Saturates: past the ceiling every threshold that settings may hold is long reached.
        area = more > (AreaCeiling - area) / depth ? AreaCeiling : area + more * depth;
        from = time;
    }
}
