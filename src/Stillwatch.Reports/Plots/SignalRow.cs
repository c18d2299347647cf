using Stillwatch.Alarms;
using Stillwatch.Replay;
using Stillwatch.Reports.Drawing;
using Stillwatch.Reports.Wording;

namespace Stillwatch.Reports.Plots;

/// <summary>Alarm signals along time. The higher the priority the taller the bar, and the colour of the standard besides.</summary>
internal static class SignalRow
{
    public const double Height = 15;

    public static void Draw(Canvas canvas, TimeAxisScale time, double top, IEnumerable<ReplayedSignal> signals)
    {
        Bar? open = null;
        foreach (var signal in signals.OrderBy(s => s.Start))
        {
            if (signal.End < time.From || signal.Start > time.To) continue;
            double left = time.At(signal.Start), right = Math.Max(time.At(signal.End), left + 2);
            if (open is { } bar && left <= bar.Right + 0.3)
            {
                open = bar with { Right = Math.Max(bar.Right, right), Priority = Higher(bar.Priority, signal.HighestPriority), Count = bar.Count + 1 };
                continue;
            }

            Draw(canvas, top, time, open);
            open = new Bar(left, right, signal.HighestPriority, 1, signal);
        }

        Draw(canvas, top, time, open);
    }

    public static double HeightOf(AlarmPriority priority) => priority switch
    {
        AlarmPriority.High => Height,
        AlarmPriority.Medium => 10,
        _ => 5.5,
    };

    private static AlarmPriority Higher(AlarmPriority a, AlarmPriority b) => a > b ? a : b;

    private static void Draw(Canvas canvas, double top, TimeAxisScale time, Bar? drawn)
    {
        if (drawn is not { } bar) return;
        double height = HeightOf(bar.Priority);
        string tip = bar.Count > 1
            ? $"{Words.Count(bar.Count, "signal")} close together, highest priority {bar.Priority.ToString().ToLowerInvariant()}"
            : $"{Words.Of(bar.First.Condition)}, {bar.Priority.ToString().ToLowerInvariant()} priority: {time.Clock.At(bar.First.Start)} for {Words.Span(bar.First.Active)}";
        canvas.Rect(bar.Left, top + Height - height, bar.Right - bar.Left, height, new Paint(Ink.Of(bar.Priority), Ink.Text, 0.7), tip);
    }

    private readonly record struct Bar(double Left, double Right, AlarmPriority Priority, int Count, ReplayedSignal First);
}
