using Stillwatch.Reports.Handover;

namespace Stillwatch.Reports;

/// <summary>A page to hand over, composed once: as HTML and as PDF it says and shows the same.</summary>
public sealed class HandoverDocument
{
    internal HandoverDocument(string title, string about, Paper paper, bool isInvented, string software, IReadOnlyList<Block> blocks)
    {
        (Title, About, Paper, IsInvented, Software, Blocks) = (title, about, paper, isInvented, software, blocks);
    }

    /// <summary>Its heading.</summary>
    public string Title { get; }

    internal string About { get; }

    internal Paper Paper { get; }

    internal bool IsInvented { get; }

    internal string Software { get; }

    internal IReadOnlyList<Block> Blocks { get; }

    /// <summary>A figure of this page to be handed over alone, with the page's words about averaging, coverage, definitions, software and files beneath; an empty one stays empty.</summary>
    public Picture Worded(Picture figure) => WordedFigure.Of(figure, this);

    /// <summary>One self-contained page: nothing is fetched, nothing runs; the same model gives the same bytes. The writer stays open.</summary>
    public void WriteHtml(TextWriter writer) => HandoverHtml.Write(this, writer);

    /// <summary>
    /// PDF with text that can be selected and figures as vectors. It is set a little smaller where that saves a page, and pages are numbered
    /// where there are more than one. The stream stays open.
    /// </summary>
    /// <param name="to">Written from its present position on.</param>
    /// <param name="made">When, as it should be recorded: the clock is never asked.</param>
    public void WritePdf(Stream to, DateTimeOffset made) => HandoverPdf.Write(this, to, made);
}
