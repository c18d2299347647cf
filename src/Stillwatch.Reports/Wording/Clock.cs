using System.Globalization;
using Stillwatch.Time;

namespace Stillwatch.Reports.Wording;

/// <summary>What a clock would have shown during a recording, as far as its start is known; elapsed time otherwise.</summary>
internal sealed class Clock
{
    private readonly DateTime? origin;
    private readonly bool knowsDate;

    public Clock(RecordingStart start)
    {
        (origin, knowsDate) = start switch
        {
            RecordingStart.TimeOfDay t => (new DateTime(4001, 1, 1) + t.Time.ToTimeSpan(), false),
            RecordingStart.Local l => (l.DateTime, true),
            RecordingStart.Zoned z => (z.DateTime.DateTime, true),
            _ => ((DateTime?)null, false),
        };
        Caption = start switch
        {
            RecordingStart.TimeOfDay => "clock time; the date is not known",
            RecordingStart.Local => "clock time; the file does not give its time zone",
            RecordingStart.Zoned z => $"clock time, UTC{z.DateTime:zzz}",
            _ => "time since the recording began, hours:minutes (the clock time is not known)",
        };
        ShortCaption = origin is null ? "Elapsed, hours:minutes" : "Clock time";
    }

    /// <summary>What the times of an axis are.</summary>
    public string Caption { get; }

    public string ShortCaption { get; }

    /// <summary>Where the origin stands on the clock, so that ticks fall on round clock times; zero where no clock is known.</summary>
    public long OffsetMilliseconds => origin is { } o ? (o - o.Date).Ticks / TimeSpan.TicksPerMillisecond : 0;

    /// <summary>To the second: "03:10:05", or "+3:10:05" elapsed.</summary>
    public string At(SampleTime time) => On(time) is { } clock ? clock.ToString("HH:mm:ss", CultureInfo.InvariantCulture) : "+" + Elapsed(time, true);

    /// <summary>To the minute.</summary>
    public string MinuteAt(SampleTime time) => On(time) is { } clock ? clock.ToString("HH:mm", CultureInfo.InvariantCulture) : "+" + Elapsed(time, false);

    /// <summary>With its date where known: "Tue 4 Nov 03:10:05".</summary>
    public string WithDayAt(SampleTime time) => DayAt(time) is { } day ? $"{day} {At(time)}" : At(time);

    /// <summary>Whatever the clock showed: "+3:10:05" since the recording began.</summary>
    public static string SinceStart(SampleTime time) => "+" + Elapsed(time, true);

    public string TickAt(SampleTime time, long stepMilliseconds)
    {
        bool seconds = stepMilliseconds % 60_000 != 0;
        if (On(time) is { } clock) return clock.ToString(seconds ? "HH:mm:ss" : "HH:mm", CultureInfo.InvariantCulture);
        return Elapsed(time, seconds);
    }

    /// <summary>Null where dates are not known.</summary>
    public string? DayAt(SampleTime time) => knowsDate && On(time) is { } clock ? clock.ToString("ddd d MMM", CultureInfo.InvariantCulture) : null;

    // A hostile file can hold times beyond any calendar; they are shown as elapsed.
    private DateTime? On(SampleTime time)
    {
        if (origin is not { } o) return null;
        double days = time.Milliseconds / 86_400_000.0;
        return days > (DateTime.MaxValue - o).TotalDays - 1 || days < (DateTime.MinValue - o).TotalDays + 1 ? null : o.AddMilliseconds(time.Milliseconds);
    }

    private static string Elapsed(SampleTime time, bool seconds)
    {
        long whole = Math.Abs(time.Milliseconds) / 1000;
        string sign = time.Milliseconds < 0 ? "-" : "";
        string text = $"{sign}{whole / 3600}:{whole / 60 % 60:00}";
        return seconds ? $"{text}:{whole % 60:00}" : text;
    }
}
