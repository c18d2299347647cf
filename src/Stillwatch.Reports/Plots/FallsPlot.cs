using Stillwatch.Oxygenation;
using Stillwatch.Reports.Drawing;
using Stillwatch.Reports.Model;
using Stillwatch.Reports.Wording;

namespace Stillwatch.Reports.Plots;

/// <summary>Every fall as a dot: how long against how deep.</summary>
internal static class FallsPlot
{
    private const double Width = 1000;
    private const double Height = 300;
    private const double Left = 74;
    private const double Right = 984;
    private const double Top = 30;
    private const double Bottom = 250;
    private static readonly (double Seconds, string Label)[] Spans =
        [(10, "10 s"), (20, "20 s"), (30, "30 s"), (60, "1 min"), (120, "2 min"), (300, "5 min"), (600, "10 min"), (1800, "30 min"), (3600, "1 h"), (10_800, "3 h"), (36_000, "10 h"), (86_400, "1 day")];

    public static Picture Draw(RecordingSection section, string id)
    {
        var falls = section.Review?.Events ?? [];
        if (falls.Count < 2) return Picture.None;
        double longest = falls.Max(f => (f.End - f.Start).Seconds), shortest = falls.Min(f => (f.End - f.Start).Seconds);
        var duration = new LogScale(Math.Clamp(shortest * 0.9, 0.5, 10), Math.Max(60, longest * 1.15), Left, Right);
        double deepest = falls.Max(f => (double)f.Depth.Value);
        var depth = new LinearScale(0, Ticks.Top(deepest, 5), Bottom, Top);
        var canvas = new Canvas(id, Width, Height, "Falls: how long and how deep", Sentences.Falls(falls));
        foreach (double tick in Ticks.Round(0, depth.To, 5))
        {
            canvas.Line(Left, depth.At(tick), Right, depth.At(tick), Paint.Line(Ink.Grid));
            canvas.Text(Left - 7, depth.At(tick) + 4, Words.Number(tick, tick % 1 == 0 ? 0 : 1), TextStyle.Tick with { Anchor = Anchor.End });
        }

        foreach (var (seconds, label) in Spans)
        {
            if (seconds < duration.From || seconds > duration.To) continue;
            canvas.Line(duration.At(seconds), Top, duration.At(seconds), Bottom, Paint.Line(Ink.Grid));
            canvas.Text(duration.At(seconds), Bottom + 17, label, TextStyle.Tick);
        }

        foreach (var fall in Thinned(falls, duration, depth))
        {
            bool mustCatch = section.MustCatch.Any(m => m.Event.Onset < fall.End && fall.Start < m.Event.End);
            double x = duration.At((fall.End - fall.Start).Seconds), y = depth.At((double)fall.Depth.Value);
            string tip = $"{Words.Span(fall.End - fall.Start)}, {Words.Points(fall.Depth)} deep, lowest {Words.Saturation(fall.Nadir)}";
            if (mustCatch) canvas.Rect(x - 4.5, y - 4.5, 9, 9, new Paint(Ink.Text, Ink.Paper), tip);
            else canvas.Circle(x, y, 4, new Paint(null, Ink.Trace, 1.4), tip);
        }

        canvas.Line(Left, Bottom, Right, Bottom, Paint.Line(Ink.Axis));
        canvas.Text(0, 14, "Depth: points below the baseline", new TextStyle(Bold: true));
        canvas.Text((Left + Right) / 2, Bottom + 38, "Length of the fall", new TextStyle(Anchor: Anchor.Middle, Bold: true));
        canvas.Circle(Right - 312, 10, 4, new Paint(null, Ink.Trace, 1.4));
        canvas.Text(Right - 302, 14, "a fall", new TextStyle(TextStyle.Small));
        canvas.Rect(Right - 244.5, 5.5, 9, 9, new Paint(Ink.Text));
        canvas.Text(Right - 230, 14, "a fall with a must-catch event", new TextStyle(TextStyle.Small));
        return canvas.Finish();
    }

    // Thousands of dots on one spot say no more than one does.
    private static IEnumerable<DesaturationEvent> Thinned(IReadOnlyList<DesaturationEvent> falls, LogScale duration, LinearScale depth) =>
        falls.Count <= 400 ? falls : falls.DistinctBy(f => ((int)duration.At((f.End - f.Start).Seconds) / 3, (int)depth.At((double)f.Depth.Value) / 3));
}
