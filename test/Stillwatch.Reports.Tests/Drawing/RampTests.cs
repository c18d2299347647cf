using Stillwatch.Reports.Drawing;

namespace Stillwatch.Reports.Tests.Drawing;

public sealed class RampTests
{
    [Fact]
    public void The_scale_darkens_in_even_steps_so_that_it_reads_the_same_in_grey()
    {
        // CIE L* from relative luminance (CIE 15): even steps in it look even.
        double[] lightness = [.. Enumerable.Range(0, 10).Select(i => 116 * Math.Cbrt(Ramp.Luminance(Ramp.At(i / 9.0))) - 16)];
        double[] steps = [.. lightness.Zip(lightness.Skip(1), (a, b) => a - b)];
        Assert.All(steps, step => Assert.InRange(step, 5, 13));
    }

    [Fact]
    public void Numbers_on_every_shade_keep_the_contrast_of_WCAG_AA()
    {
        for (int i = 0; i <= 100; i++)
            Assert.True(Contrast(Ramp.InkOn(i / 100.0), Ramp.At(i / 100.0)) >= 4.5, $"share {i / 100.0}: {Contrast(Ramp.InkOn(i / 100.0), Ramp.At(i / 100.0)):0.00}:1");
    }

    [Theory]
    [InlineData(Ink.Text)]
    [InlineData(Ink.Muted)]
    [InlineData(Ink.Proposed)]
    public void Text_inks_keep_the_contrast_of_WCAG_AA_on_paper_and_wash(string ink)
    {
        Assert.True(Contrast(ink, Ink.Paper) >= 4.5);
        Assert.True(Contrast(ink, Ink.Wash) >= 4.5);
    }

    [Fact]
    public void No_shade_of_the_scale_and_no_ink_but_an_alarm_signals_is_red_yellow_or_cyan()
    {
        string[] inks = [Ink.Text, Ink.Muted, Ink.Axis, Ink.Grid, Ink.Wash, Ink.Trace, Ink.Envelope, Ink.Hatch, Ink.Proposed, .. Enumerable.Range(0, 11).Select(i => Ramp.At(i / 10.0))];
        foreach (string ink in inks)
        {
            int red = Channel(ink, 1), green = Channel(ink, 3), blue = Channel(ink, 5);
            Assert.True(blue >= red - 5 && (blue >= green - 8), $"{ink} leans towards red, yellow or cyan");
        }

        static int Channel(string ink, int from) => Convert.ToInt32(ink.Substring(from, 2), 16);
    }

    private static double Contrast(string a, string b)
    {
        double first = Ramp.Luminance(a), second = Ramp.Luminance(b);
        return (Math.Max(first, second) + 0.05) / (Math.Min(first, second) + 0.05);
    }
}
