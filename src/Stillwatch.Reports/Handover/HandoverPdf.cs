using PdfSharp.Drawing;
using PdfSharp.Pdf;
using Stillwatch.Reports.Drawing;

namespace Stillwatch.Reports.Handover;

/// <summary>A page to hand over as PDF.</summary>
internal static class HandoverPdf
{
    // The library keeps its fonts in one place for the whole program.
    private static readonly Lock OneAtATime = new();

    public static void Write(HandoverDocument document, Stream to, DateTimeOffset made)
    {
        EmbeddedFont.Register();
        lock (OneAtATime)
        {
            PdfDocument? set = null;
            foreach (double size in document.Paper.Sizes)
            {
                set?.Dispose();
                set = SetAt(document, size);
                if (set.PageCount == 1) break;
            }

            if (set!.PageCount > 1) // it will not fit: then rather easy to read
            {
                set.Dispose();
                set = SetAt(document, 1);
            }

            using (set)
            {
                Feet(document, set);
                set.Info.Title = document.Title;
                set.Info.Creator = document.Software;
                set.Info.CreationDate = made.UtcDateTime;
                set.Info.ModificationDate = made.UtcDateTime;
                set.Language = "en-GB";
                set.Save(to, closeStream: false);
            }
        }
    }

    private static PdfDocument SetAt(HandoverDocument document, double size)
    {
        var set = new PdfDocument();
        using var flow = new PdfFlow(set, document.Paper, size);
        if (document.IsInvented) flow.Framed(HandoverWords.Invented);
        flow.Text(document.Title, 17, isBold: true, after: 2);
        if (document.About.Length > 0) flow.Text(document.About, 9, ink: Ink.Muted, after: 5);
        foreach (var block in document.Blocks) Add(flow, block);
        return set;
    }

    private static void Add(PdfFlow flow, Block block)
    {
        switch (block)
        {
            case Block.Heading heading: flow.Heading(heading.Words); break;
            case Block.Name name: flow.Text(name.Words, 9.3, isBold: true, after: 1.5); break;
            case Block.Lead lead: flow.Text(lead.Words, 11, isBold: true, after: 4); break;
            case Block.Warning warning: flow.Framed(warning.Words); break;
            case Block.Prose prose: flow.Text(prose.Words, 9.3, after: 4); break;
            case Block.Fine fine: flow.Text(fine.Words, 7.8, ink: Ink.Muted, after: 3); break;
            case Block.Points points:
                foreach (string item in points.Items) flow.Point(item, points.AreFine ? 7.8 : 9.3, points.AreFine ? Ink.Muted : Ink.Text);
                flow.Space(3);
                break;
            case Block.Tiles tiles: flow.Tiles(tiles.Items); break;
            case Block.Grid grid: PdfTable.Set(flow, grid); break;
            case Block.Drawn drawn: flow.Figure(drawn); break;
            case Block.ToSign sign: flow.ToSign(sign.Labels); break;
        }
    }

    // Written last, when the number of pages is known.
    private static void Feet(HandoverDocument document, PdfDocument set)
    {
        for (int i = 0; i < set.PageCount; i++)
        {
            using var page = XGraphics.FromPdfPage(set.Pages[i], XGraphicsPdfPageOptions.Append);
            double margin = document.Paper.Margin * PdfFlow.PointsPerMillimetre, width = set.Pages[i].Width.Point - 2 * margin;
            double at = set.Pages[i].Height.Point - margin - PdfFlow.FootHeight + 14;
            page.DrawLine(new XPen(PdfPainter.ColourOf(Ink.Axis), 0.6), margin, at - 9, margin + width, at - 9);
            string number = set.PageCount > 1 ? $"Page {i + 1} of {set.PageCount}" : "";
            var font = new XFont(EmbeddedFont.Family, 7.2);
            var brush = new XSolidBrush(PdfPainter.ColourOf(Ink.Muted));
            double forNumber = number.Length > 0 ? page.MeasureString(number, font).Width + 14 : 0;
            foreach (string line in PdfFlow.Wrapped(page, HandoverWords.Foot(document), font, width - forNumber))
            {
                page.DrawString(line, font, brush, margin, at, XStringFormats.BaseLineLeft);
                at += 8.8;
            }

            if (number.Length > 0) page.DrawString(number, font, brush, margin + width, set.Pages[i].Height.Point - margin - PdfFlow.FootHeight + 14, XStringFormats.BaseLineRight);
        }
    }
}
