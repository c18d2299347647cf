using Stillwatch.Reports.Drawing;
using Stillwatch.Time;

namespace Stillwatch.Reports.Plots;

/// <summary>
/// Numbers that each stand for a step of time (a second, a window): a stepped line where there is room, a band from lowest to highest of each pixel
/// column with its mean where not; hatched where there is none.
/// </summary>
/// <param name="stack">The figure.</param>
/// <param name="start">Where the first number begins.</param>
/// <param name="step">How long each stands.</param>
/// <param name="count">How many.</param>
/// <param name="value">Each; NaN: none.</param>
internal sealed class SecondsTrace(PanelStack stack, SampleTime start, Duration step, int count, Func<int, double> value)
{
    private Canvas Canvas => stack.Canvas;

    private TimeAxisScale Time => stack.Time;

    /// <summary>Hatches each stretch without a number within the numbers' own span.</summary>
    public void Gaps(PanelStack.Panel panel, string tip)
    {
        for (int i = 0; i < count;)
        {
            int first = i;
            bool isGap = double.IsNaN(value(i));
            while (i < count && double.IsNaN(value(i)) == isGap) i++;
            if (!isGap || At(i) <= Time.From || At(first) >= Time.To) continue;
            double left = Time.At(At(first)), right = Time.At(At(i));
            if (right - left >= 0.4) Canvas.Rect(left, panel.Top, right - left, panel.Bottom - panel.Top, new Paint(Canvas.Fill(Pattern.Gap)), tip);
        }
    }

    /// <summary>One broad line whatever the room: through lowest and highest of each pixel column where there are many.</summary>
    public void Band(PanelStack.Panel panel, string ink, double width)
    {
        if ((Time.To - Time.From).Milliseconds / Math.Max(1, step.Milliseconds) <= PanelStack.Columns)
        {
            Steps(panel, ink, width, null);
            return;
        }

        var path = new PathText();
        int perColumn = (int)Math.Ceiling((Time.To - Time.From).Milliseconds / (double)step.Milliseconds / PanelStack.Columns);
        bool joined = false;
        for (int i = 0; i < count; i += perColumn)
        {
            var spread = Oximetry.DerivedSummary.Spread.Of(Enumerable.Range(i, Math.Min(perColumn, count - i)).Select(value));
            double x = Time.At(At(i));
            if (spread is null)
            {
                joined = false;
                continue;
            }

            if (joined) path.LineTo(x, panel.Scale.Within(spread.Greatest));
            else path.MoveTo(x, panel.Scale.Within(spread.Greatest));
            path.LineTo(x, panel.Scale.Within(spread.Least));
            joined = true;
        }

        Canvas.Path(path, Paint.Line(ink, width));
    }

    public void Line(PanelStack.Panel panel, string ink = Ink.Trace, double width = 1.6, string? dash = null)
    {
        if ((Time.To - Time.From).Milliseconds / Math.Max(1, step.Milliseconds) <= PanelStack.Columns) Steps(panel, ink, width, dash);
        else Columns(panel, ink, width);
    }

    /// <summary>One mark for each, in the middle of its step.</summary>
    public void Dots(PanelStack.Panel panel)
    {
        for (int i = 0; i < count; i++)
        {
            if (double.IsNaN(value(i)) || At(i) < Time.From || At(i + 1) > Time.To) continue;
            double left = Time.At(At(i)), right = Time.At(At(i + 1)), y = panel.Scale.Within(value(i));
            Canvas.Line(left, y, right, y, Paint.Line(Ink.Trace, 2));
        }
    }

    private SampleTime At(int index) => start + new Duration(step.Milliseconds * index);

    private void Steps(PanelStack.Panel panel, string ink, double width, string? dash)
    {
        var path = new PathText();
        bool joined = false;
        for (int i = 0; i < count; i++)
        {
            if (At(i + 1) <= Time.From) continue;
            if (At(i) >= Time.To) break;
            if (double.IsNaN(value(i)))
            {
                joined = false;
                continue;
            }

            double y = panel.Scale.Within(value(i));
            if (joined) path.LineTo(Time.At(At(i)), y);
            else path.MoveTo(Time.At(At(i)), y);
            path.LineTo(Time.At(At(i + 1)), y);
            joined = true;
        }

        Canvas.Path(path, Paint.Line(ink, width, dash));
    }

    private void Columns(PanelStack.Panel panel, string ink, double width)
    {
        int columns = PanelStack.Columns;
        var least = new double[columns];
        var greatest = new double[columns];
        var sum = new double[columns];
        var number = new int[columns];
        for (int i = 0; i < count; i++)
        {
            double v = value(i);
            if (double.IsNaN(v) || At(i) < Time.From || At(i) >= Time.To) continue;
            int c = Math.Clamp((int)(Time.At(At(i)) - PanelStack.Left), 0, columns - 1);
            least[c] = number[c] == 0 ? v : Math.Min(least[c], v);
            greatest[c] = number[c] == 0 ? v : Math.Max(greatest[c], v);
            sum[c] += v;
            number[c]++;
        }

        var band = new PathText();
        var mean = new PathText();
        bool joined = false;
        for (int c = 0; c < columns; c++)
        {
            if (number[c] == 0)
            {
                joined = false;
                continue;
            }

            double x = PanelStack.Left + c, low = panel.Scale.Within(least[c]), high = panel.Scale.Within(greatest[c]), y = panel.Scale.Within(sum[c] / number[c]);
            if (low - high > 0.5) band.MoveTo(x, high).LineTo(x + 1, high).LineTo(x + 1, low).LineTo(x, low).Close();
            if (joined) mean.LineTo(x + 0.5, y);
            else mean.MoveTo(x, y).LineTo(x + 0.5, y);
            mean.LineTo(x + 1, y);
            joined = true;
        }

        Canvas.Path(band, new Paint(Ink.Envelope));
        Canvas.Path(mean, Paint.Line(ink, width));
    }
}
