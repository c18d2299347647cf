using Stillwatch.Quantities;
using Stillwatch.Reports.Drawing;
using Stillwatch.Reports.Model;
using Stillwatch.Reports.Wording;
using Stillwatch.Time;

namespace Stillwatch.Reports.Plots;

/// <summary>A settings map: load as ink, missed as hatching, late as dots, the settings in question as marks.</summary>
internal sealed class MapPlot
{
    private const double Left = 64;
    private const double Right = 986;
    private const double Top = 86;

    /// <summary>A signal on for more than this share of the time is no quiet, however few the starts. Unit policy, no source.</summary>
    private const double LongOnShare = 0.2;

    private static readonly TextStyle MarkStyle = new(TextStyle.Small, Bold: true);
    private static readonly double[] DelayTicks = [0, 5, 10, 15, 20, 30, 45, 60, 90, 120, 180, 240, 300, 600, 900, 1800];
    private static readonly double[] AreaTicks = [0, 10, 20, 40, 60, 100, 150, 200, 300, 400, 500, 600, 1000, 2000, 5000];

    private readonly MapPicture picture;
    private readonly IReadOnlyList<MapMark> marks;
    private readonly LoadClasses classes;
    private readonly MapGeometry geometry;
    private readonly RootScale across;
    private readonly double rowHeight;
    private readonly double[] edges;
    private readonly Canvas canvas;
    private readonly List<PlacedMark> placedMarks;

    private MapPlot(MapPicture picture, IReadOnlyList<MapMark> marks, string id)
    {
        this.picture = picture;
        this.marks = marks;
        int rows = picture.Limits.Count, columns = picture.Thresholds.Count;
        double highest = 0;
        for (int row = 0; row < rows; row++)
            for (int column = 0; column < columns; column++) highest = Math.Max(highest, picture.Load(row, column) ?? 0);
        classes = new LoadClasses(highest, whole: picture.CountsInAll);
        geometry = new MapGeometry(picture);
        across = geometry.Across;
        rowHeight = geometry.RowHeight;
        edges = geometry.Edges;
        canvas = new Canvas(id, MapGeometry.Width, geometry.Height, Name, Sentences.Map(picture, marks));
        placedMarks = PlaceMarks();
    }

    private string Name => picture.Threshold == MapThreshold.Delay ? "Settings map: limit and delay" : "Settings map: limit and area threshold";

    private double Bottom => geometry.Bottom;

    public static Picture Draw(MapPicture picture, IReadOnlyList<MapMark> marks, string id) =>
        picture.Limits.Count == 0 || picture.Thresholds.Count == 0 || picture.Valid <= Duration.Zero ? Picture.None : new MapPlot(picture, marks, id).Draw();

    private Picture Draw()
    {
        Legend();
        canvas.Rect(Left, Top, Right - Left, Bottom - Top, new Paint(Ink.Paper, Ink.Grid));
        Runs((row, column) => picture.Load(row, column) is { } load ? classes.Of(load) : -1, classes.Colour);
        Runs((row, column) => IsLongOn(row, column) && Status(row, column) == CellStatus.InTime ? 0 : -1, _ => canvas.Fill(Pattern.LongOn));
        if (picture.MustCatchEvents > 0)
        {
            Runs((row, column) => Status(row, column) == CellStatus.Late ? 0 : -1, _ => canvas.Fill(Pattern.Late));
            Runs((row, column) => Status(row, column) == CellStatus.Missed ? 0 : -1, _ => canvas.Fill(Pattern.Missed));
            Boundary();
        }

        Numbers();
        Axes();
        Frame();
        DrawMarks();
        return canvas.Finish();
    }

    private bool IsLongOn(int row, int column) => picture.ShareOfTimeOn(row, column) > LongOnShare;

    private enum CellStatus
    {
        Null,
        InTime,
        Late,
        Missed,
    }

    private CellStatus Status(int row, int column)
    {
        if (picture.Plane.IsNull(row, column)) return CellStatus.Null;
        if (picture.Plane.Missed[row, column] > 0) return CellStatus.Missed;
        return picture.Plane.Late[row, column] > 0 ? CellStatus.Late : CellStatus.InTime;
    }

    private double RowTop(int row) => geometry.RowTop(row);

    /// <summary>One rectangle for each stretch of cells alike along a row; −1 draws nothing.</summary>
    private void Runs(Func<int, int, int> kind, Func<int, string> fill)
    {
        for (int row = 0; row < picture.Limits.Count; row++)
        {
            int start = 0;
            for (int column = 1; column <= picture.Thresholds.Count; column++)
            {
                int here = kind(row, start);
                if (column < picture.Thresholds.Count && kind(row, column) == here) continue;
                // A hair of overlap: without it, printers show seams between cells.
                if (here >= 0) canvas.Rect(edges[start], RowTop(row), edges[column] - edges[start] + (column < picture.Thresholds.Count ? 0.4 : 0), rowHeight + (row > 0 ? 0.4 : 0), new Paint(fill(here)));
                start = column;
            }
        }
    }

    /// <summary>The line between settings that signal every must-catch event in time and those that do not.</summary>
    private void Boundary()
    {
        var line = new PathText();
        int rows = picture.Limits.Count, columns = picture.Thresholds.Count;
        bool Differ(CellStatus a, CellStatus b) => a != CellStatus.Null && b != CellStatus.Null && (a == CellStatus.InTime) != (b == CellStatus.InTime);
        for (int row = 0; row < rows; row++)
        {
            for (int column = 1; column < columns; column++)
                if (Differ(Status(row, column - 1), Status(row, column))) line.MoveTo(edges[column], RowTop(row)).LineTo(edges[column], RowTop(row) + rowHeight);
            if (row + 1 >= rows) continue;
            int start = -1;
            for (int column = 0; column <= columns; column++)
            {
                bool differs = column < columns && Differ(Status(row, column), Status(row + 1, column));
                if (differs && start < 0) start = column;
                if (differs || start < 0) continue;
                line.MoveTo(edges[start], RowTop(row)).LineTo(edges[column], RowTop(row));
                start = -1;
            }
        }

        canvas.Path(line, Paint.Line(Ink.Paper, 5));
        canvas.Path(line, Paint.Line(Ink.Text, 2.2));
    }

    private List<int> TickColumns()
    {
        double[] wanted = picture.Threshold == MapThreshold.Delay ? DelayTicks : AreaTicks;
        var columns = new List<int>();
        double free = double.NegativeInfinity;
        for (int column = 0; column < picture.Thresholds.Count; column++)
        {
            double x = across.At(picture.Thresholds[column]);
            if (!wanted.Contains(picture.Thresholds[column]) && picture.Thresholds.Count > 12) continue;
            if (x < free) continue;
            columns.Add(column);
            free = x + 33;
        }

        return columns;
    }

    private void Numbers()
    {
        int every = Math.Max(1, (int)Math.Ceiling(25 / rowHeight));
        foreach (int column in TickColumns())
        {
            double x = Math.Clamp(across.At(picture.Thresholds[column]), Left + 12, Right - 12);
            for (int row = (picture.Limits.Count - 1) % every; row < picture.Limits.Count; row += every)
            {
                if (picture.Load(row, column) is not { } load) continue;
                int index = classes.Of(load);
                double y = RowTop(row) + rowHeight / 2 + 3.8;
                // Whoever weighs loads weighs those of settings that miss nothing; the table has the others.
                if (picture.MustCatchEvents > 0 && Status(row, column) == CellStatus.Missed) continue;
                if (placedMarks.Exists(m => m.Covers(x, y))) continue;
                string number = picture.InNumbers(load);
                if (IsLongOn(row, column))
                {
                    // Stripes lie over these cells: on them neither black nor white can be read, so that the number stands on paper.
                    double width = new TextStyle(11.5).WidthOf(number) + 6;
                    canvas.Rect(x - width / 2, y - 10, width, 12.5, new Paint(Ink.Paper), radius: 2);
                    canvas.Text(x, y, number, new TextStyle(11.5, Anchor.Middle, Ink.Text));
                }
                else canvas.Text(x, y, number, new TextStyle(11.5, Anchor.Middle, Ramp.InkOn(classes.Share(index)), Halo: classes.Colour(index)));
            }
        }
    }

    private void Axes()
    {
        int every = Math.Max(1, (int)Math.Ceiling(13.5 / rowHeight));
        if (every > 1) every = (every + 4) / 5 * 5;
        for (int row = 0; row < picture.Limits.Count; row++)
        {
            if (every > 1 && (double)picture.Limits[row].Value % every != 0) continue;
            canvas.Text(Left - 7, RowTop(row) + rowHeight / 2 + 4, Words.Number((double)picture.Limits[row].Value, picture.Limits[row].Value % 1 == 0 ? 0 : 1), TextStyle.Tick with { Anchor = Anchor.End });
        }

        foreach (int column in TickColumns())
        {
            double x = across.At(picture.Thresholds[column]);
            canvas.Line(x, Bottom, x, Bottom + 5, Paint.Line(Ink.Axis));
            canvas.Text(x, Bottom + 18, Words.Number(picture.Thresholds[column], 0), TextStyle.Tick);
        }

        canvas.Text(0, Top - 8, "Low limit, %", new TextStyle(Bold: true));
        canvas.Text((Left + Right) / 2, Bottom + 40, picture.Threshold == MapThreshold.Delay ? "Delay, seconds" : "Area threshold, %·s", new TextStyle(Anchor: Anchor.Middle, Bold: true));
    }

    private void Legend()
    {
        var small = new TextStyle(TextStyle.Small);
        canvas.Text(0, 15, picture.CountsInAll ? "Signals in all" : "Signals per patient-day", new TextStyle(Bold: true));
        double x = 190, slot = Math.Min(78, (Right - x) / classes.Count);
        for (int index = 0; index < classes.Count; index++)
        {
            canvas.Rect(x + index * slot, 2, slot, 18, new Paint(classes.Colour(index), Ink.Paper));
            canvas.Text(x + (index + 0.5) * slot, 15, classes.ShortWords(index), small with { Anchor = Anchor.Middle, Fill = Ramp.InkOn(classes.Share(index)) });
        }

        canvas.Rect(x, 2, slot * classes.Count, 18, Paint.Line(Ink.Axis));
        bool anyLongOn = Enumerable.Range(0, picture.Limits.Count).Any(r => Enumerable.Range(0, picture.Thresholds.Count).Any(c => IsLongOn(r, c)));
        if (picture.MustCatchEvents > 0)
        {
            x = Swatch(0, "must-catch event missed", canvas.Fill(Pattern.Missed));
            x = Swatch(x, "none missed, one late", canvas.Fill(Pattern.Late));
            if (anyLongOn) x = Swatch(x, "a signal is on over 1/5 of the time", canvas.Fill(Pattern.LongOn));
            canvas.Line(x, 46, x + 22, 46, Paint.Line(Ink.Text, 2.2));
            x += 28 + small.WidthOf("edge of “all in time”") + 14;
            canvas.Text(x - small.WidthOf("edge of “all in time”") - 14, 50, "edge of “all in time”", small);
            if (picture.SearchedWithin is null) return;
            canvas.Rect(x, 39, 22, 13, Paint.Line(Ink.Text, 1.4, "2 3"));
            canvas.Text(x + 28, 50, "searched", small);
        }
        else canvas.Text(0, 50, "no must-catch event in these recordings: the map cannot show what settings would miss", small);
    }

    private double Swatch(double x, string text, string fill)
    {
        canvas.Rect(x, 38, 22, 15, new Paint(fill, Ink.Axis));
        canvas.Text(x + 28, 50, text, new TextStyle(TextStyle.Small));
        return x + 28 + new TextStyle(TextStyle.Small).WidthOf(text) + 14;
    }

    private void Frame()
    {
        if (picture.SearchedWithin is not { } searched) return;
        double left = across.Within(searched.LowestThreshold), right = across.Within(searched.HighestThreshold);
        double bottom = RowCentre(searched.LowestLimit) + rowHeight / 2, top = RowCentre(searched.HighestLimit) - rowHeight / 2;
        if (left <= Left + 20) left = Left;
        canvas.Rect(left, top, right - left, bottom - top, Paint.Line(Ink.Paper, 3.5));
        canvas.Rect(left, top, right - left, bottom - top, Paint.Line(Ink.Text, 1.4, "2 3"));
    }

    private double RowCentre(Percent limit)
    {
        if (limit <= picture.Limits[0]) return RowTop(0) + rowHeight / 2;
        for (int row = 1; row < picture.Limits.Count; row++)
        {
            if (limit > picture.Limits[row]) continue;
            double share = (double)(limit.Micro - (long)picture.Limits[row - 1].Micro) / (picture.Limits[row].Micro - (long)picture.Limits[row - 1].Micro);
            return RowTop(row - 1) + rowHeight / 2 - share * rowHeight;
        }

        return RowTop(picture.Limits.Count - 1) + rowHeight / 2;
    }

    private void DrawMarks()
    {
        foreach (var placed in placedMarks)
        {
            switch (placed.Mark.Kind)
            {
                case MapMarkKind.Present: Marks.Present(canvas, placed.X, placed.Y, placed.Mark.Label); break;
                case MapMarkKind.Proposed: Marks.Proposed(canvas, placed.X, placed.Y, placed.Mark.Label); break;
                default: Marks.LookedAt(canvas, placed.X, placed.Y, placed.Mark.Label); break;
            }
        }

        foreach (var placed in placedMarks)
        {
            double width = MarkStyle.WidthOf(placed.Mark.Label) + 14, left = placed.Anchor == Anchor.End ? placed.TextX - width : placed.TextX;
            canvas.Rect(left, placed.Y + placed.Lift - 13, width, 18, new Paint(Ink.Paper, Ink.Text), radius: 3);
            canvas.Text(left + width / 2, placed.Y + placed.Lift, placed.Mark.Label, MarkStyle with { Anchor = Anchor.Middle });
        }
    }

    /// <summary>Marks with room for their labels: of two on one height, the upper label goes up and the lower one down.</summary>
    private List<PlacedMark> PlaceMarks()
    {
        var points = marks.Where(m => m.ThresholdOn(picture) is not null)
            .Select(m => (Mark: m, X: across.At(m.ThresholdOn(picture)!.Value), Y: RowCentre(m.Settings.SpO2Low.Limit)))
            .OrderBy(m => m.Y).ThenBy(m => m.Mark.Kind).ToList();
        bool crowded = points.Zip(points.Skip(1)).Any(p => Math.Abs(p.First.Y - p.Second.Y) < 20);
        return [.. points.Select((p, i) =>
        {
            bool toLeft = p.X + 24 + MarkStyle.WidthOf(p.Mark.Label) > Right;
            return new PlacedMark(p.Mark, p.X, p.Y, !crowded ? 4.5 : i == 0 ? -8 : i == 1 ? 19 : 39, toLeft ? p.X - 17 : p.X + 17, toLeft ? Anchor.End : Anchor.Start);
        })];
    }

    private sealed record PlacedMark(MapMark Mark, double X, double Y, double Lift, double TextX, Anchor Anchor)
    {
        /// <summary>Whether a number drawn there would run into the mark or its label.</summary>
        public bool Covers(double x, double y)
        {
            double width = MarkStyle.WidthOf(Mark.Label) + 30;
            double left = Anchor == Anchor.End ? X - width - 12 : X - 24, right = Anchor == Anchor.End ? X + 24 : X + width + 12;
            return x > left && x < right && Math.Abs(y - (Y + Lift)) < 14;
        }
    }
}
