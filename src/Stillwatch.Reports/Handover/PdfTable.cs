using PdfSharp.Drawing;
using Stillwatch.Reports.Drawing;

namespace Stillwatch.Reports.Handover;

/// <summary>A table on a page of a PDF: numbers keep their line, words wrap; the head stands again on the next page.</summary>
internal static class PdfTable
{
    public static void Set(PdfFlow flow, Block.Grid grid)
    {
        var font = flow.Font(8.2);
        var bold = flow.Font(8.2, isBold: true);
        double gap = flow.Sized(8);
        double[] widths = Widths(flow, grid, font, bold, gap);
        flow.Need(flow.Sized(40));
        if (grid.Caption.Length > 0) flow.Text(grid.Caption, 7.8, ink: Ink.Muted, after: 1);
        Row(flow, grid, grid.Heads, widths, bold, gap, Ink.Text, 0.9);
        foreach (var row in grid.Rows)
        {
            var page = flow.Page;
            flow.Need(HeightOf(flow, row, widths, font));
            if (page != flow.Page) Row(flow, grid, grid.Heads, widths, bold, gap, Ink.Text, 0.9);
            Row(flow, grid, row, widths, font, gap, Ink.Grid, 0.7);
        }

        flow.Space(6);
    }

    private static double[] Widths(PdfFlow flow, Block.Grid grid, XFont font, XFont bold, double gap)
    {
        int columns = grid.Heads.Count;
        double Measured(string words, XFont with) => flow.Page.MeasureString(words, with).Width;
        double Widest(string words, XFont with) => words.Split(' ').Max(w => Measured(w, with));
        var natural = new double[columns];
        var leastOf = new double[columns];
        for (int c = 0; c < columns; c++)
        {
            natural[c] = Math.Max(Widest(grid.Heads[c], bold), grid.Rows.Select(r => Measured(r[c], font)).DefaultIfEmpty(0).Max());
            leastOf[c] = Math.Max(Widest(grid.Heads[c], bold), grid.Rows.Select(r => Widest(r[c], font)).DefaultIfEmpty(0).Max());
        }

        double room = flow.Width - gap * (columns - 1), wanted = natural.Sum(), needed = leastOf.Sum();
        if (wanted <= room) return natural;

        // Short columns keep their line where the long ones can give way.
        bool[] isShort = [.. natural.Select(w => w <= room * 0.22)];
        double kept = natural.Where((_, c) => isShort[c]).Sum(), longest = natural.Where((_, c) => !isShort[c]).Sum(), least = leastOf.Where((_, c) => !isShort[c]).Sum();
        if (kept + least <= room && longest > least)
        {
            double part = (room - kept - least) / (longest - least);
            return [.. natural.Select((w, c) => isShort[c] ? w : leastOf[c] + (w - leastOf[c]) * part)];
        }

        if (needed >= room) return [.. leastOf.Select(w => w * room / needed)];
        double share = (room - needed) / (wanted - needed);
        return [.. leastOf.Select((w, c) => w + (natural[c] - w) * share)];
    }

    private static double HeightOf(PdfFlow flow, IReadOnlyList<string> cells, double[] widths, XFont font) =>
        PdfFlow.HeightOf(Math.Max(1, cells.Select((cell, c) => PdfFlow.Wrapped(flow.Page, cell, font, widths[c] + 0.1).Count).Max()), font) + flow.Sized(3.2);

    private static void Row(PdfFlow flow, Block.Grid grid, IReadOnlyList<string> cells, double[] widths, XFont font, double gap, string rule, double thick)
    {
        double height = HeightOf(flow, cells, widths, font), x = flow.Left, top = flow.Y + flow.Sized(1.6);
        for (int c = 0; c < cells.Count; c++)
        {
            double at = top;
            foreach (string line in PdfFlow.Wrapped(flow.Page, cells[c], font, widths[c] + 0.1))
            {
                bool isNumber = c >= grid.TextColumns;
                flow.Page.DrawString(line, font, XBrushes.Black, isNumber ? x + widths[c] : x, at + font.Size, isNumber ? XStringFormats.BaseLineRight : XStringFormats.BaseLineLeft);
                at += PdfFlow.HeightOf(1, font);
            }

            x += widths[c] + gap;
        }

        flow.Y += height;
        flow.Page.DrawLine(new XPen(PdfPainter.ColourOf(rule == Ink.Grid ? Ink.Axis : rule), thick * (rule == Ink.Grid ? 0.5 : 1)), flow.Left, flow.Y, Math.Min(flow.Left + flow.Width, x - gap), flow.Y);
    }
}
