using Stillwatch.Alarms;
using Stillwatch.Quantities;
using Stillwatch.Tuning.Map;

namespace Stillwatch.App.Pages;

/// <summary>A settings map small enough for a terminal: the usual limits and delays (or area thresholds), with the present and the proposed cell marked.</summary>
internal static class SettingsMapTable
{
    private const int MostRows = 18;
    private const int MostColumns = 11;
    private const int CellWidth = 8;

    private static readonly decimal[] UsualDelays = [0, 5, 10, 15, 20, 30, 45, 60, 90, 120, 180];
    private static readonly decimal[] UsualAreas = [0, 20, 40, 60, 100, 150, 200, 250, 300, 400, 600];

    /// <summary>Limits by delays, and by area thresholds too where the present or the proposed settings have one.</summary>
    public static void Write(Page page, string whose, SettingsMap map, LimitSettings<Percent>? present, LimitSettings<Percent>? proposed)
    {
        var grid = map.Request.Grid;
        var delays = new Plane("delay", "s", grid.LimitsMicro, [.. grid.Delays.Select(d => d.Milliseconds / 1000m)], UsualDelays, map.ByDelay);
        Draw(page, whose, delays, CellByDelay(delays, present), CellByDelay(delays, proposed));
        if (grid.Areas.Count > 0 && (HasArea(present) || HasArea(proposed)))
        {
            var areas = new Plane("area threshold, %·s", string.Empty, grid.LimitsMicro, [.. grid.Areas.Select(a => a.Value)], UsualAreas, map.ByArea);
            Draw(page, whose, areas, CellByArea(areas, present), CellByArea(areas, proposed));
        }

        string marks = present is null && proposed is null ? string.Empty : " (n): the present settings; >n<: the proposal, where they have a cell.";
        page.Note($"M: a must-catch event is missed; L: none missed, one or more signalled late; {Say.Nothing}: cannot be (R7, R8).{marks} Drawn with the backstop off; every limit, delay and area: --json, --report.");
    }

    private static void Draw(Page page, string whose, Plane plane, (int Limit, int Threshold)? present, (int Limit, int Threshold)? proposed)
    {
        page.Heading($"Settings map by limit (down) and {plane.Name} (across): signals in all · {whose}");
        var rows = Chosen(plane.LimitsMicro, l => l is >= 80 * FixedPoint.One and <= 96 * FixedPoint.One && l % FixedPoint.One == 0, MostRows, [present?.Limit, proposed?.Limit]);
        var columns = Chosen(plane.Thresholds, plane.Usual.Contains, MostColumns, [present?.Threshold, proposed?.Threshold]);
        page.Line("[bold]  below   " + string.Concat(columns.Select(c => $"{plane.Thresholds[c]:0.###} {plane.Unit}".Trim().PadLeft(CellWidth - 2).PadRight(CellWidth))) + "[/]");
        foreach (int row in rows.OrderDescending())
        {
            string line = $"{Percent.FromMicro(plane.LimitsMicro[row]).Value,5:0.##} %   ";
            foreach (int column in columns) line += Cell(plane.Cells, row, column, present == (row, column), proposed == (row, column));
            page.Line(line);
        }
    }

    private static string Cell(MapPlane plane, int limit, int threshold, bool isPresent, bool isProposed)
    {
        bool isNull = plane.IsNull(limit, threshold);
        string mark = isNull ? string.Empty : plane.Missed[limit, threshold] > 0 ? "M" : plane.Late[limit, threshold] > 0 ? "L" : string.Empty;
        string count = isNull ? Say.Nothing : $"{plane.Signals[limit, threshold]}";
        string open = isProposed ? ">" : isPresent ? "(" : string.Empty;
        string close = isProposed ? "<" : isPresent ? ")" : string.Empty;
        // Counts stand in line whatever is written around them.
        string text = (open + count).PadLeft(CellWidth - 2) + (mark + close).PadRight(2);
        return isPresent || isProposed ? $"[bold invert]{text}[/]" : text;
    }

    private static bool HasArea(LimitSettings<Percent>? settings) => settings is not null && settings.AreaThreshold > Area.Zero;

    private static (int Limit, int Threshold)? CellByDelay(Plane plane, LimitSettings<Percent>? settings) =>
        settings is null || HasArea(settings) ? null : CellAt(plane, settings, settings.Delay.Milliseconds / 1000m);

    private static (int Limit, int Threshold)? CellByArea(Plane plane, LimitSettings<Percent>? settings) =>
        settings is null || settings.Delay.Milliseconds > 0 ? null : CellAt(plane, settings, settings.AreaThreshold.Value);

    private static (int Limit, int Threshold)? CellAt(Plane plane, LimitSettings<Percent> settings, decimal threshold)
    {
        int limit = plane.LimitsMicro.ToList().IndexOf(settings.Limit.Micro);
        int column = plane.Thresholds.ToList().IndexOf(threshold);
        return limit >= 0 && column >= 0 ? (limit, column) : null;
    }

    /// <summary>The usual values of an axis, or evenly spread ones where those are few, and always the marked ones.</summary>
    private static List<int> Chosen<T>(IReadOnlyList<T> axis, Predicate<T> isUsual, int most, IEnumerable<int?> marked)
    {
        var must = marked.OfType<int>().ToHashSet();
        var usual = Enumerable.Range(0, axis.Count).Where(i => isUsual(axis[i])).ToList();
        if (usual.Count < Math.Min(4, axis.Count))
        {
            int step = Math.Max(1, (axis.Count + most - 1) / most);
            usual = [.. Enumerable.Range(0, axis.Count).Where(i => i % step == 0)];
        }

        int tooMany = Math.Max(0, usual.Union(must).Count() - most);
        var dropped = usual.Where(i => !must.Contains(i)).Reverse().Take(tooMany).ToHashSet();
        return [.. usual.Where(i => !dropped.Contains(i)).Union(must).Order()];
    }

    /// <summary>One plane of a map with its axes, thresholds in the unit shown.</summary>
    private sealed record Plane(string Name, string Unit, IReadOnlyList<int> LimitsMicro, IReadOnlyList<decimal> Thresholds, decimal[] Usual, MapPlane Cells);
}
