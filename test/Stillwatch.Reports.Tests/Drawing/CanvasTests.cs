using Stillwatch.Reports.Drawing;

namespace Stillwatch.Reports.Tests.Drawing;

public sealed class CanvasTests
{
    [Theory]
    [InlineData(double.NaN)]
    [InlineData(double.PositiveInfinity)]
    [InlineData(double.NegativeInfinity)]
    public void A_coordinate_that_is_not_a_number_is_refused(double x) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => new Canvas("a", 10, 10, "t", "d").Circle(x, 0, 1, new Paint("#000000")));

    [Theory]
    [InlineData(1.25, "1.2")]
    [InlineData(-0.04, "0")]
    [InlineData(100, "100")]
    [InlineData(1e6, "1000000")]
    public void Coordinates_are_written_to_a_tenth_of_a_pixel(double value, string expected) => Assert.Equal(expected, Canvas.Number(value));

    [Fact]
    public void Texts_titles_and_tips_are_escaped()
    {
        var canvas = new Canvas("a", 10, 10, "<t>\"&'", "<d>");
        canvas.Text(0, 0, "</text><script>alert(1)</script>", new TextStyle());
        canvas.Rect(0, 0, 1, 1, new Paint("#000000"), "<tip onload='x'>");
        string svg = canvas.ToString();
        Assert.DoesNotContain("<script", svg);
        Assert.DoesNotContain("<tip", svg);
        Assert.Contains("&lt;t&gt;&quot;&amp;&#39;", svg);
        Samples.PageReader.Parse(svg);
    }

    [Theory]
    [InlineData("a\u0000b\u0007c", "a\ufffdb\ufffdc")]
    [InlineData("whole \ud83d\ude00 pair", "whole \ud83d\ude00 pair")]
    [InlineData("evil\u202egnp.exe", "evil\ufffdgnp.exe")]
    [InlineData("\uffff", "\ufffd")]
    public void Characters_that_XML_or_a_reader_could_trip_over_are_replaced(string text, string expected) =>
        Assert.Equal(expected, Markup.Escape(text));

    [Fact]
    public void Half_a_character_is_replaced() => Assert.Equal("lone \ufffd half", Markup.Escape("lone " + (char)0xd800 + " half"));

    [Fact]
    public void A_pattern_is_defined_once_and_named_after_its_figure()
    {
        var canvas = new Canvas("fig7", 10, 10, "t", "d");
        Assert.Equal("url(#fig7-gap)", canvas.Fill(Pattern.Gap));
        canvas.Fill(Pattern.Gap);
        Assert.Equal(2, canvas.ToString().Split("<pattern ").Length);
    }
}
