using Stillwatch.Oxygenation;
using Stillwatch.Reports.Drawing;
using Stillwatch.Reports.Wording;
using Stillwatch.Time;

namespace Stillwatch.Reports.Plots;

/// <summary>Minutes below each level, hour by hour: one cell an hour and a level, darker and with its number where there is something to say.</summary>
internal static class HourStripPlot
{
    private const double Width = 1000;
    private const double Left = 158;
    private const double Right = 992;
    private const int HoursPerLine = 24;
    private const double RowHeight = 22;
    private const double Head = 34;

    public static Picture Draw(IReadOnlyList<HourSummary> hours, RecordingStart start, string id)
    {
        if (hours.Count == 0) return Picture.None;
        int levels = hours.Max(h => h.Below.Count);
        int lines = (hours.Count + HoursPerLine - 1) / HoursPerLine;
        double block = (levels + 1) * RowHeight + Head + 14;
        var clock = new Clock(start);
        var canvas = new Canvas(id, Width, lines * block, "Minutes below, hour by hour", Sentences.Hours(hours, clock));
        double cell = Math.Min(84, (Right - Left) / Math.Clamp(hours.Count, 1, HoursPerLine));
        for (int line = 0; line < lines; line++)
            Block(canvas, [.. hours.Skip(line * HoursPerLine).Take(HoursPerLine)], levels, line * block, cell, clock);
        return canvas.Finish();
    }

    private static void Block(Canvas canvas, HourSummary[] hours, int levels, double top, double cell, Clock clock)
    {
        var names = hours.Where(h => h.Below.Count == levels).Select(h => h.Below).FirstOrDefault() ?? [];
        for (int level = 0; level < names.Count; level++)
            canvas.Text(Left - 7, top + Head + level * RowHeight + 15.5, $"min below {Words.Saturation(names[level].Level)}", new TextStyle(TextStyle.Small, Anchor.End));
        canvas.Text(Left - 7, top + Head + levels * RowHeight + 15.5, "min with a valid value", new TextStyle(TextStyle.Small, Anchor.End, Ink.Muted));
        canvas.Text(0, top + Head - 6, "Hour from", new TextStyle(Bold: true));
        string? day = null;
        for (int i = 0; i < hours.Length; i++)
        {
            double x = Left + i * cell;
            var hour = hours[i];
            if (cell > 30 || i % 2 == 0) canvas.Text(x + cell / 2, top + Head - 6, clock.MinuteAt(hour.Span.Start), TextStyle.Tick);
            string? today = clock.DayAt(hour.Span.Start);
            if (today is not null && today != day) canvas.Text(x + cell / 2, top + Head - 21, today, TextStyle.Tick with { Size = 11.5, Bold = true });
            day = today;
            for (int level = 0; level < hour.Below.Count; level++) Cell(canvas, x, top + Head + level * RowHeight, cell, hour, hour.Below[level], clock);
            Valid(canvas, x, top + Head + levels * RowHeight, cell, hour);
        }
    }

    private static void Cell(Canvas canvas, double x, double y, double width, HourSummary hour, TimeBelow below, Clock clock)
    {
        double minutes = below.Time.Minutes;
        double share = minutes <= 0 ? 0 : 0.12 + 0.88 * Math.Sqrt(Math.Min(1, minutes / 60));
        bool unknown = hour.Valid <= Duration.Zero;
        string fill = unknown ? canvas.Fill(Pattern.Gap) : minutes > 0 ? Ramp.At(share) : Ink.Wash;
        canvas.Rect(x + 1, y + 1, width - 2, RowHeight - 2, new Paint(fill), $"Hour from {clock.MinuteAt(hour.Span.Start)}: {Words.Span(below.Time)} below {Words.Saturation(below.Level)}");
        if (unknown || minutes <= 0) return;
        string text = minutes < 0.95 ? "<1" : Words.Number(minutes, minutes < 9.95 && width > 30 ? 1 : 0);
        canvas.Text(x + width / 2, y + 15.5, text, new TextStyle(TextStyle.Small, Anchor.Middle, Ramp.InkOn(share)));
    }

    private static void Valid(Canvas canvas, double x, double y, double width, HourSummary hour)
    {
        double share = hour.Span.Length > Duration.Zero ? hour.Valid.Seconds / hour.Span.Length.Seconds : 0;
        if (share < 0.8) canvas.Rect(x + 1, y + 1, width - 2, RowHeight - 2, new Paint(canvas.Fill(Pattern.Gap)));
        canvas.Text(x + width / 2, y + 15.5, Words.Number(hour.Valid.Minutes, 0), new TextStyle(TextStyle.Small, Anchor.Middle, Ink.Muted, Halo: share < 0.8 ? Ink.Paper : null));
    }
}
