using Stillwatch.Alarms;
using Stillwatch.Oxygenation;
using Stillwatch.Reports.Drawing;
using Stillwatch.Reports.Wording;
using Stillwatch.Time;

namespace Stillwatch.Reports.Plots;

/// <summary>How long SpO2 stood at each whole percent.</summary>
internal static class HistogramPlot
{
    private const double Width = 1000;
    private const double Height = 268;
    private const double Left = 74;
    private const double Right = 984;
    private const double Top = 30;
    private const double Bottom = 218;

    public static string Draw(Exposure exposure, AlarmSettings? present, string id)
    {
        var times = exposure.Histogram;
        int first = Enumerable.Range(0, times.Count).FirstOrDefault(p => times[p] > Duration.Zero, -1);
        if (first < 0) return "";
        int from = Math.Min(first, 84);
        int bars = times.Count - from;
        double slot = (Right - Left) / bars;
        double longest = times.Max(t => t.Minutes);
        bool hours = longest > 90;
        double unit = hours ? 60 : 1;
        double top = Ticks.Top(longest / unit, 4);
        var scale = new LinearScale(0, top, Bottom, Top);
        var canvas = new Canvas(id, Width, Height, "Time at each SpO2", Sentences.Histogram(exposure));
        foreach (double tick in Ticks.Round(0, top, 4))
        {
            canvas.Line(Left, scale.At(tick), Right, scale.At(tick), Paint.Line(Ink.Grid));
            canvas.Text(Left - 7, scale.At(tick) + 4, tick.ToString("0.###", System.Globalization.CultureInfo.InvariantCulture), TextStyle.Tick with { Anchor = Anchor.End });
        }

        canvas.Text(0, 14, hours ? "Hours" : "Minutes", new TextStyle(Bold: true));
        double limit = present?.SpO2Low is { } low ? (double)low.Limit.Value : double.NaN;
        var small = new TextStyle(slot < 34 ? 10.5 : TextStyle.Small, Anchor.Middle);
        for (int p = from; p < times.Count; p++)
        {
            double x = Left + (p - from) * slot;
            if (times[p] > Duration.Zero)
            {
                double y = Math.Min(scale.At(times[p].Minutes / unit), Bottom - 1);
                canvas.Rect(x + 1, y, slot - 2, Bottom - y, new Paint(p < limit ? Ink.Trace : Ink.Envelope), $"{p} %: {Words.Span(times[p])}");
                string label = Words.ShortSpan(times[p]);
                if (small.WidthOf(label) < slot + 6) canvas.Text(x + slot / 2, y - 5, label, small);
            }

            if (slot > 15 || p % 5 == 0) canvas.Text(x + slot / 2, Bottom + 17, $"{p}", TextStyle.Tick);
        }

        canvas.Line(Left, Bottom, Right, Bottom, Paint.Line(Ink.Axis));
        if (limit > from && limit <= times.Count)
        {
            double x = Left + (limit - from) * slot;
            canvas.Line(x, Top - 14, x, Bottom, Paint.Line(Ink.Text, 1.4, "7 4"));
            canvas.Text(x - 6, Top - 6, $"below the present low limit ({limit.ToString("0.#", System.Globalization.CultureInfo.InvariantCulture)}\u00a0%): {Words.Span(Below(times, limit))}", new TextStyle(TextStyle.Small, Anchor.End));
        }

        canvas.Text((Left + Right) / 2, Bottom + 38, "SpO2, %", new TextStyle(Anchor: Anchor.Middle, Bold: true));
        return canvas.ToString();
    }

    private static Duration Below(IReadOnlyList<Duration> times, double limit) =>
        times.Take((int)Math.Ceiling(limit)).Aggregate(Duration.Zero, (sum, t) => sum + t);
}
