using Stillwatch.Reports.Drawing;
using Stillwatch.Reports.Wording;
using Stillwatch.Time;

namespace Stillwatch.Reports.Plots;

/// <summary>Panels under each other on one time axis: names and legends on the left, figures in words on the right, time at the foot.</summary>
internal sealed class PanelStack
{
    public const double Width = 1000;
    public const double Left = 198;
    public const double Right = 878;
    public const double Between = 16;
    public const double RowHeight = 19;
    public const double Foot = 44;
    private const double Top = 12;
    private const double LegendStep = 17;

    private readonly IReadOnlyList<TimeAxisScale.Tick> ticks;
    private double y = Top;

    /// <param name="id">Of the figure on its page.</param>
    /// <param name="height">Of all panels with what stands between them; the foot comes on top.</param>
    /// <param name="from">Left end of the time axis.</param>
    /// <param name="to">Right end.</param>
    /// <param name="clock">What the axis shows.</param>
    /// <param name="title">For those who hear the page.</param>
    /// <param name="description">For those who hear the page.</param>
    public PanelStack(string id, double height, SampleTime from, SampleTime to, Clock clock, string title, string description)
    {
        Time = new TimeAxisScale(from, to, Left, Right, clock);
        ticks = Time.TicksAt(78);
        Canvas = new Canvas(id, Width, Top + height + Foot, title, description);
    }

    public Canvas Canvas { get; }

    public TimeAxisScale Time { get; }

    /// <summary>Pixel columns of the time axis.</summary>
    public static int Columns => (int)(Right - Left);

    /// <param name="Top">Upper edge.</param>
    /// <param name="Bottom">Lower edge.</param>
    /// <param name="Scale">From values to pixels.</param>
    public sealed record Panel(double Top, double Bottom, LinearScale Scale);

    /// <summary>A panel with its grid; what is drawn in it is clipped to it.</summary>
    /// <param name="name">In bold, with the unit.</param>
    /// <param name="height">Pixels.</param>
    /// <param name="range">Values at bottom and top.</param>
    /// <param name="mostTicks">On the value axis.</param>
    /// <param name="label">Of a tick.</param>
    /// <param name="draw">What is in it.</param>
    /// <param name="legend">Small lines under the name, each with how to draw its key at (x, y).</param>
    /// <param name="aside">Small lines to the right.</param>
    public void Add(string name, double height, (double From, double To) range, int mostTicks, Func<double, string> label, Action<Panel> draw,
        IReadOnlyList<(string Text, Action<double, double>? Key)>? legend = null, IReadOnlyList<string>? aside = null)
    {
        var panel = new Panel(y, y + height, new LinearScale(range.From, range.To, y + height, y));
        foreach (var tick in ticks) Canvas.Line(Time.At(tick.Time), panel.Top, Time.At(tick.Time), panel.Bottom, Paint.Line(Ink.Grid));
        foreach (double tick in Ticks.Round(Math.Min(range.From, range.To), Math.Max(range.From, range.To), mostTicks))
        {
            double at = panel.Scale.At(tick);
            Canvas.Line(Left, at, Right, at, Paint.Line(Ink.Grid));
            Canvas.Text(Left - 7, at + 4, label(tick), TextStyle.Tick with { Anchor = Anchor.End });
        }

        using (Canvas.ClipTo(Left, panel.Top - 1, Right - Left, height + 2)) draw(panel);
        Frame(panel.Top, panel.Bottom);
        Canvas.Text(0, panel.Top + 12, name, new TextStyle(Bold: true));
        double line = panel.Top + 12 + LegendStep;
        foreach (var (text, key) in legend ?? [])
        {
            key?.Invoke(0, line - 5);
            Canvas.Text(key is null ? 0 : 21, line, text, new TextStyle(TextStyle.Small, Fill: Ink.Muted));
            line += LegendStep;
        }

        for (int i = 0; i < (aside?.Count ?? 0); i++) Canvas.Text(Right + 10, panel.Top + 11 + i * LegendStep, aside![i], new TextStyle(TextStyle.Small));
        y += height + Between;
    }

    /// <summary>A heading over rows.</summary>
    public void Heading(string text, string? note = null)
    {
        Canvas.Text(0, y + 12, text, new TextStyle(Bold: true));
        if (note is not null) Canvas.Text(Left, y + 12, note, new TextStyle(TextStyle.Small, Fill: Ink.Muted));
        y += RowHeight;
    }

    /// <summary>A named row of bars.</summary>
    public void Row(string name, IEnumerable<(TimeSlice Span, string Tip)> bars, string aside, string fill = Ink.Trace) => Row(name, top =>
    {
        foreach (var (span, tip) in bars)
        {
            // At least a pixel and a half, or a second in a day would not be seen.
            double start = Time.At(span.Start), end = Math.Min(Right, Math.Max(Time.At(span.End), start + 1.5));
            Canvas.Rect(start, top + 3, end - start, RowHeight - 6, new Paint(fill), tip);
        }
    }, aside);

    /// <summary>A named row; what is in it is drawn from its upper edge on.</summary>
    public void Row(string name, Action<double> draw, string aside)
    {
        Canvas.Text(Left - 7, y + 12, name, new TextStyle(TextStyle.Small, Anchor.End));
        Canvas.Line(Left, y + RowHeight - 3, Right, y + RowHeight - 3, Paint.Line(Ink.Grid));
        draw(y);
        Canvas.Text(Right + 10, y + 12, aside, new TextStyle(TextStyle.Small));
        y += RowHeight;
    }

    /// <summary>Moves down between rows and the next panel.</summary>
    public void Space() => y += Between;

    /// <summary>The time axis, and the whole figure.</summary>
    public Picture Finish()
    {
        Canvas.Line(Left, y, Right, y, Paint.Line(Ink.Axis));
        double free = double.NegativeInfinity;
        foreach (var tick in ticks)
        {
            double x = Time.At(tick.Time);
            Canvas.Line(x, y, x, y + 5, Paint.Line(Ink.Axis));
            Canvas.Text(x, y + 18, tick.Label, TextStyle.Tick);
            if (tick.Day is not { } day || x < free) continue;
            Canvas.Text(x, y + 33, day, TextStyle.Tick with { Bold = true });
            free = x + TextStyle.Tick.WidthOf(day) + 8;
        }

        bool showsSeconds = ticks.Count > 0 && ticks[0].Label.Count(c => c == ':') == 2;
        Canvas.Text(0, y + 18, showsSeconds ? Time.Clock.ShortCaption.Replace("hours:minutes", "h:min:s", StringComparison.Ordinal) : Time.Clock.ShortCaption, new TextStyle(TextStyle.Small, Fill: Ink.Muted));
        return Canvas.Finish();
    }

    private void Frame(double top, double bottom)
    {
        Canvas.Line(Left, top, Left, bottom, Paint.Line(Ink.Axis));
        Canvas.Line(Left, bottom, Right, bottom, Paint.Line(Ink.Axis));
    }
}
