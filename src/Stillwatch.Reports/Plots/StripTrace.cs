using Stillwatch.Reports.Drawing;
using Stillwatch.Reports.Model;

namespace Stillwatch.Reports.Plots;

/// <summary>
/// The columns of one strip panel as ink. Where most columns hold many numbers: a band from low to high, and for SpO2 its lower edge in
/// full ink, so that no dip is smoothed away. Where there is room: a line that goes through every extreme, stepped for numbers.
/// </summary>
internal sealed class StripTrace
{
    private readonly StripPanel panel;
    private readonly double left;
    private readonly double step;
    private readonly int holdColumns;
    private readonly double timeLeft;
    private readonly double timeRight;

    public StripTrace(StripPanel panel, TimeAxisScale time)
    {
        this.panel = panel;
        double perMillisecond = (time.Right - time.Left) / (time.To - time.From).Milliseconds;
        left = time.Left + (panel.Span.Start - time.From).Milliseconds * perMillisecond;
        step = panel.Span.Length.Milliseconds * perMillisecond / panel.Least.Count;
        (timeLeft, timeRight) = (time.Left, time.Right);
        holdColumns = (int)Math.Min(int.MaxValue / 2, Math.Ceiling(panel.Hold.Milliseconds * perMillisecond / Math.Max(step, 1e-9)));
        int filled = 0, spread = 0;
        double thickness = 0, least = double.PositiveInfinity, greatest = double.NegativeInfinity;
        for (int c = 0; c < Count; c++)
        {
            if (!HasValue(c)) continue;
            filled++;
            thickness += panel.Greatest[c] - panel.Least[c];
            if (panel.Greatest[c] > panel.Least[c]) spread++;
            (least, greatest) = (Math.Min(least, panel.Least[c]), Math.Max(greatest, panel.Greatest[c]));
        }

        // A wave is a band only where whole beats fall into a column.
        IsDense = filled * 3 > Count && (IsWave ? thickness > filled * 0.4 * (greatest - least) : spread * 3 > filled);
    }

    /// <summary>Most columns hold several different numbers.</summary>
    public bool IsDense { get; }

    private int Count => panel.Least.Count;

    private bool IsWave => panel.Kind == StripPanelKind.Pleth;

    private bool HasValue(int column) => !float.IsNaN(panel.Least[column]) && !float.IsNaN(panel.Greatest[column]);

    private double X(int column) => Math.Clamp(left + column * step, timeLeft, timeRight);

    private bool IsShown(int column) => left + (column + 1) * step >= timeLeft && left + column * step <= timeRight;

    /// <summary>Stretches of pixels without a value that is still held, at least one and a half pixels long.</summary>
    public IEnumerable<(double Left, double Right)> Empty()
    {
        double covered = timeLeft;
        for (int c = 0; c < Count; c++)
        {
            if (!HasValue(c) || !IsShown(c)) continue;
            if (X(c) - covered >= 1.5) yield return (covered, X(c));
            covered = Math.Max(covered, X(Math.Min(c + 1 + (panel.Hold.Milliseconds > 0 ? holdColumns : 0), Math.Max(Count, c + 1))));
        }

        if (timeRight - covered >= 1.5) yield return (covered, timeRight);
    }

    /// <summary>Values at the bottom and the top of the panel, from what the window holds and from the limits drawn in it.</summary>
    public (double From, double To) Range(IEnumerable<double> limits)
    {
        double least = double.PositiveInfinity, greatest = double.NegativeInfinity;
        for (int c = 0; c < Count; c++)
        {
            if (!HasValue(c)) continue;
            least = Math.Min(least, panel.Least[c]);
            greatest = Math.Max(greatest, panel.Greatest[c]);
        }

        if (least > greatest) (least, greatest) = panel.Kind == StripPanelKind.SpO2 ? (90, 100) : (0, 1);
        foreach (double limit in limits) (least, greatest) = (Math.Min(least, limit), Math.Max(greatest, limit));
        switch (panel.Kind)
        {
            case StripPanelKind.SpO2:
                return (Math.Min(85, Math.Floor((least - 2) / 5) * 5), Math.Max(100.7, greatest));
            case StripPanelKind.Pleth:
                double room = Math.Max((greatest - least) * 0.06, Math.Max(Math.Abs(greatest), 1e-9) * 1e-6);
                return (least - room, greatest + room);
            case StripPanelKind.Quality when least >= 0 && greatest <= 100:
                return (0, greatest <= 1 ? 1 : 100);
            case StripPanelKind.InhaledOxygen when least >= 0 && greatest <= 100:
                return (Math.Min(20, Math.Floor(least / 10) * 10), Math.Max(40, Math.Ceiling(greatest / 20) * 20));
            case StripPanelKind.Perfusion when least >= 0:
                return (0, Ticks.Top(Math.Max(greatest, 0.1), 3));
            default:
                double atLeast = panel.Kind == StripPanelKind.PulseRate ? 40 : Math.Max(Math.Abs(greatest) * 0.1, 1e-3);
                double round = Ticks.Step(Math.Max(greatest - least, atLeast), 4);
                double from = Math.Floor(least / round) * round;
                return (from, Math.Max(Math.Ceiling(greatest / round - 1e-9) * round, from + round));
        }
    }

    public void Draw(Canvas canvas, LinearScale scale)
    {
        if (IsDense) Band(canvas, scale);
        else Line(canvas, scale);
    }

    private void Band(Canvas canvas, LinearScale scale)
    {
        var band = new PathText();
        var edge = new PathText();
        bool joined = false;
        for (int c = 0; c < Count; c++)
        {
            if (!HasValue(c) || !IsShown(c))
            {
                joined = false;
                continue;
            }

            int alike = c;
            while (alike + 1 < Count && IsShown(alike + 1) && panel.Least[alike + 1] == panel.Least[c] && panel.Greatest[alike + 1] == panel.Greatest[c]) alike++;
            double from = X(c), to = Math.Max(X(alike + 1), from + 0.6), low = scale.Within(panel.Least[c]), high = scale.Within(panel.Greatest[c]);
            if (low - high > 0.5) band.MoveTo(from, high).LineTo(to, high).LineTo(to, low).LineTo(from, low).Close();
            if (panel.Kind == StripPanelKind.SpO2 || low - high <= 1.5)
            {
                if (joined) edge.LineTo(from, low);
                else edge.MoveTo(from, low);
                edge.LineTo(to, low);
                joined = true;
            }
            else joined = false;

            c = alike;
        }

        canvas.Path(band, new Paint(Ink.Envelope));
        canvas.Path(edge, Paint.Line(Ink.Trace, 1.2));
    }

    private void Line(Canvas canvas, LinearScale scale)
    {
        var path = new PathText();
        int before = -1;
        double at = 0;
        for (int c = 0; c < Count; c++)
        {
            if (!HasValue(c) || !IsShown(c)) continue;
            double low = scale.Within(panel.Least[c]), high = scale.Within(panel.Greatest[c]);
            bool continues = before >= 0 && (c - before == 1 || (panel.Hold.Milliseconds > 0 && c - before <= holdColumns + 1));
            // To the nearer extreme first: the line then goes through both and no further than it must.
            bool lowFirst = !continues || Math.Abs(at - low) <= Math.Abs(at - high);
            double first = lowFirst ? low : high, last = lowFirst ? high : low, x = IsWave ? X(c) + Math.Min(step, 2) / 2 : X(c);
            if (before >= 0 && !continues && !IsWave) Hold(path, before, at);
            if (!continues) path.MoveTo(x, first);
            else if (IsWave) path.LineTo(x, first);
            else path.LineTo(x, at).LineTo(x, first);
            if (last != first) path.LineTo(x, last);
            at = last;
            before = c;
        }

        if (before >= 0 && !IsWave) Hold(path, before, at);
        canvas.Path(path, Paint.Line(Ink.Trace, IsWave ? 1.2 : 1.6));
    }

    // A number stands until its hold runs out, or the column ends.
    private void Hold(PathText path, int column, double at) =>
        path.LineTo(Math.Max(X(column) + 0.6, X(Math.Min(column + 1 + (panel.Hold.Milliseconds > 0 ? holdColumns : 0), Count))), at);
}
