using Stillwatch.Reports.Drawing;
using Stillwatch.Tuning.MustCatch;

namespace Stillwatch.Reports.Plots;

/// <summary>A review mark as a flag on a pole: shape and letter tell the verdict, no colour does.</summary>
internal static class VerdictFlag
{
    public static string WordsOf(MarkVerdict verdict) => verdict switch
    {
        MarkVerdict.RealAndSignificant => "Real and significant",
        MarkVerdict.RealButNotSignificant => "Real but not significant",
        MarkVerdict.Artefact => "Artefact",
        _ => "Cannot tell",
    };

    /// <summary>S, N, A or ?.</summary>
    public static string LetterOf(MarkVerdict verdict) => verdict switch
    {
        MarkVerdict.RealAndSignificant => "S",
        MarkVerdict.RealButNotSignificant => "N",
        MarkVerdict.Artefact => "A",
        _ => "?",
    };

    /// <summary>A full flag for significant, an open one for not significant, a ring for artefact, a diamond for cannot tell.</summary>
    public static void Draw(Canvas canvas, double x, double top, MarkVerdict verdict, string tip)
    {
        canvas.Line(x, top, x, top + 20, Paint.Line(Ink.Text, 1.4));
        var open = new Paint(Ink.Paper, Ink.Text, 1.4);
        bool isFull = verdict == MarkVerdict.RealAndSignificant;
        switch (verdict)
        {
            case MarkVerdict.RealAndSignificant:
                canvas.Path(new PathText().MoveTo(x, top).LineTo(x + 22, top).LineTo(x + 17, top + 8).LineTo(x + 22, top + 16).LineTo(x, top + 16).Close(), new Paint(Ink.Text), tip);
                break;
            case MarkVerdict.RealButNotSignificant:
                canvas.Rect(x, top, 18, 16, open, tip);
                break;
            case MarkVerdict.Artefact:
                canvas.Circle(x + 9, top + 8, 8.5, open, tip);
                break;
            default:
                canvas.Path(new PathText().MoveTo(x, top + 8).LineTo(x + 10, top - 1.5).LineTo(x + 20, top + 8).LineTo(x + 10, top + 17.5).Close(), open, tip);
                break;
        }

        canvas.Text(x + (verdict == MarkVerdict.CannotTell ? 10 : 9), top + 12.5, LetterOf(verdict), new TextStyle(TextStyle.Small, Anchor.Middle, isFull ? Ink.Paper : Ink.Text, true));
    }
}
