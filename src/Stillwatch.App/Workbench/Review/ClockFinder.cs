using System.Globalization;
using Stillwatch.Time;

namespace Stillwatch.App.Workbench.Review;

/// <summary>Where a clock time that somebody typed lies in a recording.</summary>
public static class ClockFinder
{
    private const long Day = 86_400_000;

    /// <param name="text">"03:10", "3:10:20"; "+5:30" since the start, which is the only way where no clock is known.</param>
    /// <param name="start">What is known of the clock.</param>
    /// <param name="whole">The recording.</param>
    /// <param name="after">Where the reader is: a time that comes several times is sought behind it first, then from the beginning.</param>
    /// <param name="whyNot">Why there is none, for the reader.</param>
    public static SampleTime? Find(string text, RecordingStart start, TimeSlice whole, SampleTime after, out string whyNot)
    {
        whyNot = "";
        string typed = text.Trim();
        bool isElapsed = typed.StartsWith('+');
        if (!TryRead(isElapsed ? typed[1..] : typed, out long time) || (!isElapsed && time >= Day))
        {
            whyNot = $"found \"{typed}\", expected a time such as 03:10 or 03:10:20, or +5:30 since the start";
            return null;
        }

        if (isElapsed) return Inside(new SampleTime(whole.Start.Milliseconds + time), whole, ref whyNot);
        if (OfOrigin(start) is not { } origin)
        {
            whyNot = "no clock is known of this recording: type the time since its start, such as +5:30";
            return null;
        }

        var first = new SampleTime(whole.Start.Milliseconds + Modulo(time - origin - whole.Start.Milliseconds));
        var next = new SampleTime(after.Milliseconds + 1 + Modulo(time - origin - after.Milliseconds - 1));
        return next < whole.End ? next : Inside(first, whole, ref whyNot);
    }

    private static SampleTime? Inside(SampleTime time, TimeSlice whole, ref string whyNot)
    {
        if (whole.Contains(time)) return time;
        whyNot = "the recording does not reach there";
        return null;
    }

    private static long Modulo(long milliseconds) => (milliseconds % Day + Day) % Day;

    /// <summary>Time of day of the origin; null: not known.</summary>
    private static long? OfOrigin(RecordingStart start) => start switch
    {
        RecordingStart.TimeOfDay t => t.Time.Ticks / TimeSpan.TicksPerMillisecond,
        RecordingStart.Local l => l.DateTime.TimeOfDay.Ticks / TimeSpan.TicksPerMillisecond,
        RecordingStart.Zoned z => z.DateTime.TimeOfDay.Ticks / TimeSpan.TicksPerMillisecond,
        _ => null,
    };

    private static bool TryRead(string text, out long milliseconds)
    {
        milliseconds = 0;
        string[] parts = text.Split(':', '.');
        if (parts.Length is < 2 or > 3) return false;
        var numbers = new int[3];
        for (int i = 0; i < parts.Length; i++)
        {
            if (parts[i].Length is 0 or > 3 || !int.TryParse(parts[i], NumberStyles.None, CultureInfo.InvariantCulture, out numbers[i])) return false;
        }

        if (numbers[1] >= 60 || numbers[2] >= 60) return false;
        milliseconds = (numbers[0] * 3600L + numbers[1] * 60 + numbers[2]) * 1000;
        return true;
    }
}
