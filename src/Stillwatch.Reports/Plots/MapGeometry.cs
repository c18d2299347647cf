using Stillwatch.Reports.Drawing;
using Stillwatch.Reports.Model;

namespace Stillwatch.Reports.Plots;

/// <summary>A cell of a drawn settings map, by index.</summary>
public readonly record struct MapCell(int Limit, int Threshold);

/// <summary>Where the cells of a settings map lie in its drawing, so that a screen can tell which one was pointed at, and mark one, without drawing the map again.</summary>
/// <remarks>In the units of the figure's view box.</remarks>
public sealed class MapGeometry
{
    public const double Width = 1000;
    private const double Left = 64;
    private const double Right = 986;
    private const double Top = 86;
    private readonly double[] edges;

    public MapGeometry(MapPicture picture)
    {
        int columns = picture.Thresholds.Count;
        Rows = picture.Limits.Count;
        RowHeight = Math.Clamp(434.0 / Rows, 6, 26);
        double step = columns > 1 ? picture.Thresholds[1] - picture.Thresholds[0] : 1;
        double lastStep = columns > 1 ? picture.Thresholds[^1] - picture.Thresholds[^2] : 1;
        Across = new RootScale(picture.Thresholds[0] - step / 2, picture.Thresholds[^1] + lastStep / 2, Left, Right, step);
        edges = new double[columns + 1];
        edges[0] = Left;
        for (int column = 1; column < columns; column++) edges[column] = Across.At((picture.Thresholds[column - 1] + picture.Thresholds[column]) / 2);
        edges[columns] = Right;
    }

    public double Height => Bottom + 48;

    internal int Rows { get; }

    internal double RowHeight { get; }

    internal double Bottom => Top + Rows * RowHeight;

    internal RootScale Across { get; }

    /// <summary>Left edge of each column, and the right edge of the last.</summary>
    internal double[] Edges => edges;

    /// <summary>Top of a row; limits rise upwards.</summary>
    public double RowTop(int limitIndex) => Bottom - (limitIndex + 1) * RowHeight;

    /// <summary>Left edge, top, width and height of a cell.</summary>
    public (double X, double Y, double Width, double Height) Box(MapCell cell) =>
        (edges[cell.Threshold], RowTop(cell.Limit), edges[cell.Threshold + 1] - edges[cell.Threshold], RowHeight);

    /// <summary>The cell under a point; beside the map, the nearest.</summary>
    public MapCell CellAt(double x, double y)
    {
        int limit = Math.Clamp((int)Math.Floor((Bottom - y) / RowHeight), 0, Rows - 1);
        int found = Array.BinarySearch(edges, x);
        return new MapCell(limit, Math.Clamp(found >= 0 ? found : ~found - 1, 0, edges.Length - 2));
    }
}
