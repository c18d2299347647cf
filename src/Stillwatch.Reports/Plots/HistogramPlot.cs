using Stillwatch.Alarms;
using Stillwatch.Oxygenation;
using Stillwatch.Reports.Drawing;
using Stillwatch.Reports.Wording;
using Stillwatch.Time;

namespace Stillwatch.Reports.Plots;

/// <summary>
/// How long SpO2 stood at each whole percent: bars lying on their side, highest percent on top, so that every bar has room
/// for its time in words; the short ones are those that matter.
/// </summary>
internal static class HistogramPlot
{
    private const double Width = 1000;
    private const double Left = 74;
    private const double Right = 640;
    private const double BelowColumn = 770;
    private const double Top = 26;
    private const double RowHeight = 16;

    public static Picture Draw(Exposure exposure, AlarmSettings? present, string limitName, string id)
    {
        var times = exposure.Histogram;
        int lowest = Enumerable.Range(0, times.Count).FirstOrDefault(p => times[p] > Duration.Zero, -1);
        if (lowest < 0) return Picture.None;
        int highest = Enumerable.Range(0, times.Count).Last(p => times[p] > Duration.Zero);
        lowest = Math.Min(lowest, 88);
        highest = Math.Max(highest, 92);
        double bottom = Top + (highest - lowest + 1) * RowHeight;
        var scale = new LinearScale(0, times.Max(t => t.Seconds), Left, Right);
        var canvas = new Canvas(id, Width, bottom + 8, "Time at each SpO2", Sentences.Histogram(exposure));
        double limit = present?.SpO2Low is { } low ? (double)low.Limit.Value : double.NegativeInfinity;
        canvas.Text(0, 14, "SpO2", new TextStyle(Bold: true));
        canvas.Text(Left, 14, "Time at this value", new TextStyle(Bold: true));
        for (int p = highest; p >= lowest; p--)
        {
            double y = Top + (highest - p) * RowHeight;
            canvas.Text(Left - 9, y + 12, $"{p}\u00a0%", TextStyle.Tick with { Anchor = Anchor.End });
            if (times[p] <= Duration.Zero) continue;
            double end = Math.Max(scale.At(times[p].Seconds), Left + 1);
            canvas.Rect(Left, y + 1.5, end - Left, RowHeight - 3, new Paint(p < limit ? Ink.Trace : Ink.Envelope), $"{p} %: {Words.Span(times[p])}");
            canvas.Text(end + 7, y + 12, Words.Span(times[p]), new TextStyle(TextStyle.Small));
        }

        canvas.Line(Left, Top, Left, bottom, Paint.Line(Ink.Axis));
        Levels(canvas, exposure, highest, lowest, limit, limitName);
        return canvas.Finish();
    }

    /// <summary>Beside the bars, how long SpO2 was below each level altogether; the low limit as a dashed line.</summary>
    private static void Levels(Canvas canvas, Exposure exposure, int highest, int lowest, double limit, string limitName)
    {
        canvas.Text(BelowColumn, 14, "Altogether", new TextStyle(Bold: true));
        foreach (var below in exposure.Below)
        {
            double level = (double)below.Level.Value, y = YBelow(level, highest);
            if (level <= lowest || level > highest) continue;
            if (level != limit) canvas.Line(Left, y, BelowColumn - 8, y, Paint.Line(Ink.Grid));
            canvas.Text(BelowColumn, y + 13, $"below {Words.Saturation(below.Level)}: {Words.Span(below.Time)} ({Words.Share(below.PercentOfValid / 100)})", new TextStyle(TextStyle.Small));
        }

        if (limit <= lowest || limit > highest) return;
        double at = YBelow(limit, highest);
        canvas.Line(Left, at, BelowColumn - 8, at, Paint.Line(Ink.Text, 1.4, "7 4"));
        canvas.Text(BelowColumn - 12, at - 5, limitName, new TextStyle(TextStyle.Small, Anchor.End, Halo: Ink.Paper));
    }

    /// <summary>The line between the bars at or above a level and those below it.</summary>
    private static double YBelow(double level, int highest) => Top + (highest - Math.Ceiling(level) + 1) * RowHeight;
}
