namespace Stillwatch.Time;

/// <summary>
/// What is known of the wall-clock time of a recording's origin. Never completed by guessing: a time of day without a date
/// stays one, a local time without a zone is not stamped UTC, and an unknown start is not midnight.
/// </summary>
public abstract record RecordingStart
{
    private RecordingStart()
    {
    }

    /// <summary>The file says nothing (elapsed seconds only).</summary>
    public sealed record Unknown : RecordingStart
    {
        public override string ToString() => "unknown";
    }

    /// <summary>Time of day without a date.</summary>
    public sealed record TimeOfDay(TimeOnly Time) : RecordingStart
    {
        public override string ToString() => $"{Time:HH:mm:ss}, date unknown";
    }

    /// <summary>Date and time on some wall clock whose zone the file does not give.</summary>
    public sealed record Local(DateTime DateTime) : RecordingStart
    {
        public override string ToString() => $"{DateTime:yyyy-MM-dd HH:mm:ss}, zone unknown";
    }

    /// <summary>Date and time with its offset from UTC.</summary>
    public sealed record Zoned(DateTimeOffset DateTime) : RecordingStart
    {
        public override string ToString() => $"{DateTime:yyyy-MM-dd HH:mm:sszzz}";
    }

    public bool IsKnown => this is not Unknown;

    /// <summary>The clock face to show at a point of the recording ("03:10:05"), or elapsed time ("+3:10:05") where no clock is known.</summary>
    public string ClockAt(SampleTime time)
    {
        var offset = TimeSpan.FromMilliseconds(time.Milliseconds);
        return this switch
        {
            TimeOfDay t => t.Time.Add(offset).ToString("HH:mm:ss"),
            Local l => l.DateTime.Add(offset).ToString("HH:mm:ss"),
            Zoned z => z.DateTime.Add(offset).ToString("HH:mm:ss"),
            _ => $"+{(long)offset.TotalHours}:{offset.Minutes:00}:{offset.Seconds:00}",
        };
    }
}
