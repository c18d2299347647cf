using Stillwatch.Reports.Wording;
using Stillwatch.Time;

namespace Stillwatch.Reports.Drawing;

/// <summary>A horizontal time axis: clock time where the recording's start is known, elapsed time where it is not.</summary>
internal sealed class TimeAxisScale
{
    private static readonly long[] StepsSeconds =
        [1, 2, 5, 10, 30, 60, 120, 300, 600, 900, 1800, 3600, 7200, 10_800, 14_400, 21_600, 43_200, 86_400, 172_800, 604_800, 1_209_600, 2_419_200, 7_257_600, 31_536_000];

    private readonly LinearScale scale;

    public TimeAxisScale(SampleTime from, SampleTime to, double left, double right, Clock clock)
    {
        From = from;
        To = to > from ? to : from + new Duration(1000);
        Clock = clock;
        scale = new LinearScale(From.Milliseconds, To.Milliseconds, left, right);
    }

    public SampleTime From { get; }

    public SampleTime To { get; }

    public double Left => scale.Start;

    public double Right => scale.End;

    public Clock Clock { get; }

    public double At(SampleTime time) => scale.Within(time.Milliseconds);

    /// <summary>The time at the left edge of a pixel column.</summary>
    public SampleTime TimeAtColumn(int column, int columns) =>
        new(From.Milliseconds + (long)((To - From).Milliseconds * ((double)column / columns)));

    /// <param name="Time">Where.</param>
    /// <param name="Label">Clock or elapsed time.</param>
    /// <param name="Day">The date, at the first tick and at midnight, where dates are known.</param>
    public readonly record struct Tick(SampleTime Time, string Label, string? Day);

    /// <summary>Ticks at round clock times, as many as fit labels <paramref name="roomPixels"/> wide.</summary>
    public IReadOnlyList<Tick> TicksAt(double roomPixels)
    {
        double spanSeconds = (To - From).Seconds;
        double atMost = Math.Max(1, (Right - Left) / roomPixels);
        long step = StepsSeconds.FirstOrDefault(s => spanSeconds / s <= atMost, StepsSeconds[^1] * (long)Math.Ceiling(spanSeconds / atMost / StepsSeconds[^1])) * 1000;
        long offset = Clock.OffsetMilliseconds;
        var ticks = new List<Tick>();
        string? day = null;
        for (long at = From.Milliseconds + Modulo(-(From.Milliseconds + offset), step); at <= To.Milliseconds; at += step)
        {
            var time = new SampleTime(at);
            string? today = Clock.DayAt(time);
            ticks.Add(new Tick(time, Clock.TickAt(time, step), today == day ? null : today));
            day = today;
        }

        return ticks;
    }

    private static long Modulo(long value, long step) => (value % step + step) % step;
}
