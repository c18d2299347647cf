namespace Stillwatch.Reports.Drawing;

/// <summary>The few marks that carry a meaning by their shape, the same in every figure.</summary>
internal static class Marks
{
    /// <summary>Present settings: a ring.</summary>
    public static void Present(Canvas canvas, double x, double y, string? tip = null)
    {
        canvas.Circle(x, y, 8.5, Paint.Line(Ink.Paper, 6));
        canvas.Circle(x, y, 7.5, new Paint(Ink.Paper, Ink.Text, 3), tip);
    }

    /// <summary>Proposed settings: a full diamond.</summary>
    public static void Proposed(Canvas canvas, double x, double y, string? tip = null)
    {
        canvas.Path(Diamond(x, y, 13), new Paint(Ink.Paper));
        canvas.Path(Diamond(x, y, 10), new Paint(Ink.Proposed, Ink.Text, 1.5), tip);
    }

    /// <summary>Settings that somebody asked about, neither present nor proposed: an open triangle.</summary>
    public static void LookedAt(Canvas canvas, double x, double y, string? tip = null)
    {
        canvas.Path(Triangle(x, y, 13), new Paint(Ink.Paper));
        canvas.Path(Triangle(x, y, 9.5), new Paint(Ink.Paper, Ink.Proposed, 2.5), tip);
    }

    /// <summary>A must-catch event signalled in time: a full circle.</summary>
    public static void InTime(Canvas canvas, double x, double y, string? tip = null) =>
        canvas.Circle(x, y, 5, new Paint(Ink.Text), tip);

    /// <summary>A late one: a ring with a dot.</summary>
    public static void Late(Canvas canvas, double x, double y, string? tip = null)
    {
        canvas.Circle(x, y, 5, new Paint(Ink.Paper, Ink.Text, 1.8), tip);
        canvas.Circle(x, y, 2, new Paint(Ink.Text));
    }

    /// <summary>A missed one: a cross.</summary>
    public static void Missed(Canvas canvas, double x, double y, string? tip = null)
    {
        var cross = new PathText().MoveTo(x - 4.5, y - 4.5).LineTo(x + 4.5, y + 4.5).MoveTo(x + 4.5, y - 4.5).LineTo(x - 4.5, y + 4.5);
        canvas.Path(cross, Paint.Line(Ink.Paper, 5.5));
        canvas.Path(cross, Paint.Line(Ink.Text, 2.8), tip);
    }

    /// <summary>A must-catch event with no word on how settings answered it: an open square.</summary>
    public static void NotAnswered(Canvas canvas, double x, double y, string? tip = null) =>
        canvas.Rect(x - 4.5, y - 4.5, 9, 9, new Paint(Ink.Paper, Ink.Text, 1.8), tip);

    private static PathText Diamond(double x, double y, double reach) =>
        new PathText().MoveTo(x, y - reach).LineTo(x + reach, y).LineTo(x, y + reach).LineTo(x - reach, y).Close();

    private static PathText Triangle(double x, double y, double reach) =>
        new PathText().MoveTo(x, y - reach).LineTo(x + reach, y + reach * 0.8).LineTo(x - reach, y + reach * 0.8).Close();
}
