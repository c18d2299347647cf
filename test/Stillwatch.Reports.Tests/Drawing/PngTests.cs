using SkiaSharp;
using Stillwatch.Reports.Drawing;
using Stillwatch.Reports.Model;
using Stillwatch.Reports.Tests.Samples;

namespace Stillwatch.Reports.Tests.Drawing;

/// <summary>The PNG shows what the SVG shows: it comes from the same list of shapes.</summary>
public sealed class PngTests
{
    public static TheoryData<string> Names => [.. All().Select(f => f.Name)];

    [Theory]
    [MemberData(nameof(Names))]
    public void A_picture_has_the_promised_size_and_is_not_blank(string name)
    {
        var picture = All().Single(f => f.Name == name).Picture;
        foreach (double scale in new[] { 0.5, 2 })
        {
            using var bitmap = SKBitmap.Decode(picture.ToPng(scale));
            Assert.Equal((int)Math.Ceiling(picture.Width * scale), bitmap.Width);
            Assert.Equal((int)Math.Ceiling(picture.Height * scale), bitmap.Height);
            Assert.True(bitmap.Pixels.Distinct().Count() > 20, "found hardly any ink");
            Assert.Contains(bitmap.Pixels, p => p == SKColor.Parse(Ink.Paper));
        }

        if (Environment.GetEnvironmentVariable("STILLWATCH_REPORT_SAMPLES") is not { } folder) return;
        Directory.CreateDirectory(folder);
        File.WriteAllBytes(Path.Combine(folder, $"png-{name}.png"), picture.ToPng(1));
        File.WriteAllBytes(Path.Combine(folder, $"png-{name}-dark.png"), picture.ToPng(1, isDark: true));
    }

    [Fact]
    public void Alarm_colours_are_in_it_as_they_stand_and_dark_inks_where_asked()
    {
        var picture = Pictures.Overview(InventedReports.Adults.Recordings[0]);
        using var light = SKBitmap.Decode(picture.ToPng());
        Assert.Contains(SKColor.Parse(Ink.High), light.Pixels);
        using var dark = SKBitmap.Decode(picture.ToPng(isDark: true));
        Assert.Contains(SKColor.Parse(InkSet.Dark.Shape(Ink.High)), dark.Pixels);
        Assert.Equal(SKColor.Parse(Reports.Figures.DarkPaper), dark.GetPixel(1, 1));
    }

    [Fact]
    public void Shapes_stand_where_the_SVG_has_them()
    {
        var canvas = new Canvas("a", 100, 60, "t", "d");
        canvas.Rect(10, 10, 20, 20, new Paint(Ink.Trace));
        canvas.Path(new PathText().MoveTo(50, 10).LineTo(70, 10).LineTo(70, 30).Close(), new Paint(Ink.Proposed));
        using (canvas.ClipTo(0, 40, 50, 20)) canvas.Rect(0, 30, 100, 30, new Paint(Ink.Envelope));
        using var bitmap = SKBitmap.Decode(canvas.Finish().ToPng(1));
        string At(int x, int y) => $"#{bitmap.GetPixel(x, y).Red:x2}{bitmap.GetPixel(x, y).Green:x2}{bitmap.GetPixel(x, y).Blue:x2}";
        Assert.Equal(Ink.Trace, At(20, 20));
        Assert.Equal(Ink.Paper, At(40, 20));
        Assert.Equal(Ink.Proposed, At(67, 15));
        Assert.Equal(Ink.Paper, At(53, 27));
        Assert.Equal(Ink.Envelope, At(20, 50));
        Assert.Equal(Ink.Paper, At(20, 35));
        Assert.Equal(Ink.Paper, At(70, 50));
    }

    [Fact]
    public void The_font_has_every_character_that_the_figures_write()
    {
        using var data = SKData.CreateCopy(EmbeddedFont.Regular);
        using var regular = SKTypeface.FromData(data);
        string written = string.Concat(All().SelectMany(f => f.Picture.Shapes.OfType<Shape.Text>()).Select(t => t.Words)) + "–−≤≥×·…’‘“”Δ→%\u00a0µ°½";
        Assert.DoesNotContain(written.Distinct(), c => regular.GetGlyph(c) == 0);
    }

    [Fact]
    public void Nothing_to_draw_is_said_and_not_drawn()
    {
        Assert.True(Picture.None.IsEmpty);
        Assert.Equal("", Picture.None.ToSvg());
        Assert.Throws<InvalidOperationException>(() => Picture.None.ToPng());
        Assert.Throws<ArgumentOutOfRangeException>(() => Pictures.Overview(InventedReports.Adults.Recordings[0]).ToPng(9));
    }

    private static IEnumerable<(string Name, Picture Picture)> All()
    {
        var view = new StripView(InventedStrip.Whole, 1000, 640);
        var group = InventedReports.Adults.Settings[0];
        yield return ("strip", Pictures.Strip(InventedStrip.Model(view), view));
        yield return ("overview", Pictures.Overview(InventedReports.Adults.Recordings[0]));
        yield return ("map", Pictures.SettingsMap(group.MapByDelay!, group.Proposal));
        yield return ("events", Pictures.WorstEvents(InventedReports.Adults.Recordings[0]));
        yield return ("hours", Pictures.HourStrip(InventedReports.Adults.Recordings[0].Review!.Hours, InventedReports.Adults.Recordings[0].Recording.Start));
    }
}
