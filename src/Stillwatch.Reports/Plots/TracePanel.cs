using Stillwatch.Conditioning;
using Stillwatch.Quantities;
using Stillwatch.Reports.Drawing;
using Stillwatch.Time;

namespace Stillwatch.Reports.Plots;

/// <summary>A conditioned series against time: a stepped line where it has room, an envelope with its mean where it has not; gaps hatched.</summary>
internal sealed class TracePanel(Canvas canvas, TimeAxisScale time, Scale value, double top, double bottom)
{
    public void Grid(IEnumerable<double> valueTicks, IEnumerable<TimeAxisScale.Tick> timeTicks, Func<double, string> label)
    {
        foreach (var tick in timeTicks) canvas.Line(time.At(tick.Time), top, time.At(tick.Time), bottom, Paint.Line(Ink.Grid));
        foreach (double tick in valueTicks)
        {
            double y = value.At(tick);
            canvas.Line(time.Left, y, time.Right, y, Paint.Line(Ink.Grid));
            canvas.Text(time.Left - 7, y + 4, label(tick), TextStyle.Tick with { Anchor = Anchor.End });
        }
    }

    /// <summary>Hatches where there is no value; a gap shorter than a pixel is not shown.</summary>
    public void Gaps(ConditionedSeries series)
    {
        var pixel = new Duration(Math.Max(1, (long)((time.To - time.From).Milliseconds / (time.Right - time.Left))));
        foreach (var gap in Envelope.Gaps(series, time.From, time.To, pixel))
            canvas.Rect(time.At(gap.Start), top, time.At(gap.End) - time.At(gap.Start), bottom - top, new Paint(canvas.Fill(Pattern.Gap)), $"No valid value for {Wording.Words.Span(gap.Length)}");
    }

    public void Trace(ConditionedSeries series)
    {
        int columns = Math.Max(1, (int)(time.Right - time.Left));
        int first = Envelope.FirstEndingAfter(series.Pieces, time.From);
        int after = Envelope.FirstEndingAfter(series.Pieces, time.To);
        if (after - first <= columns / 2) Steps(series, first);
        else Columns(Envelope.Of(series, time.From, time.To, columns), columns);
    }

    private void Steps(ConditionedSeries series, int first)
    {
        var path = new PathText();
        var previousEnd = new SampleTime(long.MinValue);
        for (int i = first; i < series.Pieces.Count && series.Pieces[i].Start < time.To; i++)
        {
            var piece = series.Pieces[i];
            double y = value.Within(Units(piece.Micro)), start = time.At(piece.Start);
            if (piece.Start == previousEnd) path.LineTo(start, y);
            else path.MoveTo(start, y);
            path.LineTo(Math.Max(time.At(piece.End), start + 0.5), y);
            previousEnd = piece.End;
        }

        canvas.Path(path, Paint.Line(Ink.Trace, 1.5));
    }

    private void Columns(Envelope.Column[] envelope, int columns)
    {
        var mean = new PathText();
        var fill = new PathText();
        bool joined = false;
        for (int c = 0; c < columns; c++)
        {
            if (!envelope[c].HasValue)
            {
                joined = false;
                continue;
            }

            // Each column is a bar from its lowest to its highest value, at least a hair thick, so that a dip of a second stays visible.
            double x = time.Left + c, low = value.Within(Units(envelope[c].MinMicro)), high = value.Within(Units(envelope[c].MaxMicro));
            int alike = c;
            while (alike + 1 < columns && envelope[alike + 1].HasValue && envelope[alike + 1].MinMicro == envelope[c].MinMicro && envelope[alike + 1].MaxMicro == envelope[c].MaxMicro) alike++;
            if (low - high > 0.5) fill.MoveTo(x, high).LineTo(time.Left + alike + 1, high).LineTo(time.Left + alike + 1, low).LineTo(x, low).Close();
            for (int m = c; m <= alike; m++)
            {
                double y = value.Within(Units(envelope[m].MeanMicro));
                if (joined) mean.LineTo(time.Left + m + 0.5, y);
                else mean.MoveTo(time.Left + m, y).LineTo(time.Left + m + 0.5, y);
                joined = true;
            }

            c = alike;
        }

        canvas.Path(fill, new Paint(Ink.Envelope));
        canvas.Path(mean, Paint.Line(Ink.Trace, 1.4));
    }

    private static double Units(double micro) => micro / FixedPoint.One;
}
