using Stillwatch.Reports.Drawing;
using Stillwatch.Reports.Model;
using Stillwatch.Reports.Tests.Samples;

namespace Stillwatch.Reports.Tests.Drawing;

/// <summary>Contrast as WCAG 2.2 asks for it (1.4.3: 4.5:1 for text; 1.4.11: 3:1 for graphics), on both papers.</summary>
/// <remarks>Grid, wash and hatching are below it on purpose: what they tell is told besides, by numbers, by the absence of a trace, by words.</remarks>
public sealed class InkSetTests
{
    private const string Cases = """
        Text     Paper    4.5  text on paper
        Muted    Paper    4.5  small text on paper
        Proposed Paper    4.5  text and lines of what is compared
        Text     Wash     4.5  text on a framed window
        Muted    Wash     4.5  the reason on a hatched gap
        Text     Grid     4.5  text on a selection
        Paper    Text     4.5  the letter on a full flag
        Trace    Paper    3    the trace
        Trace    Envelope 3    the lowest edge on its band
        Trace    Wash     3    the trace in a framed window
        Trace    Grid     3    the trace in a selection
        Envelope Paper    3    the band from low to high
        Axis     Paper    3    axes
        """;

    public static TheoryData<string> Lines => [.. Cases.Split('\n', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries)];

    [Theory]
    [MemberData(nameof(Lines))]
    public void Every_pair_of_inks_has_its_contrast_on_light_and_on_dark_paper(string line)
    {
        string[] words = line.Split(' ', 4, StringSplitOptions.RemoveEmptyEntries);
        double least = double.Parse(words[2], System.Globalization.CultureInfo.InvariantCulture);
        foreach (var set in new[] { InkSet.Light, InkSet.Dark })
        {
            double contrast = Contrast(set.Shape(Named(words[0])), set.Shape(Named(words[1])));
            Assert.True(contrast >= least, $"{(set == InkSet.Light ? "light" : "dark")}: {line}: found {contrast:0.00}");
        }
    }

    [Fact]
    public void An_alarm_signal_stands_out_by_its_outline_on_light_paper_and_by_its_fill_too_on_dark()
    {
        Assert.True(Contrast(Ink.Text, Ink.Paper) >= 3);
        foreach (string ink in new[] { Ink.High, Ink.Medium, Ink.Low })
            Assert.True(Contrast(InkSet.Dark.Shape(ink), InkSet.Dark.Shape(Ink.Paper)) >= 3, ink);
    }

    [Fact]
    public void Alarm_colours_keep_their_hue_and_nothing_else_takes_it()
    {
        Assert.InRange(Hue(InkSet.Dark.Shape(Ink.High)), 340, 360);
        Assert.InRange(Hue(InkSet.Dark.Shape(Ink.Medium)), 40, 65);
        Assert.InRange(Hue(InkSet.Dark.Shape(Ink.Low)), 175, 195);
        Assert.InRange(Hue(InkSet.Dark.Shape(Ink.Proposed)), 240, 265);
    }

    [Fact]
    public void A_scale_keeps_its_steps_and_the_text_on_every_cell_its_contrast()
    {
        double before = -1;
        for (double share = 0; share <= 1; share += 0.01)
        {
            string cell = InkSet.Dark.Shape(Ramp.At(share)), text = InkSet.Dark.Text(Ramp.InkOn(share));
            Assert.True(Contrast(text, cell) >= 4.5, $"{share:0.00}: {text} on {cell} has {Contrast(text, cell):0.00}");
            Assert.True(Ramp.Luminance(cell) >= before - 1e-3);
            before = Ramp.Luminance(cell);
        }
    }

    [Fact]
    public void A_figure_in_dark_is_the_same_figure_with_other_inks()
    {
        string light = Reports.Figures.Overview(InventedReports.Adults.Recordings[0]), dark = Reports.Figures.InDark(light);
        Assert.Equal(light.Length, dark.Length);
        Assert.Equal(PageReader.Parse(light).Root!.Value, PageReader.Parse(dark).Root!.Value);
        foreach (string ink in new[] { Ink.Text, Ink.Muted, Ink.Grid, Ink.Trace, Ink.High }) Assert.DoesNotContain($"\"{ink}\"", dark, StringComparison.Ordinal);
        Assert.Contains($"fill=\"{InkSet.Dark.Shape(Ink.High)}\"", dark, StringComparison.Ordinal);
    }

    [Fact]
    public void A_name_that_looks_like_an_attribute_stays_as_it_is()
    {
        string svg = Reports.Figures.InDark(Reports.Figures.Overview(HandMade.Section([96, 96, 95], "fill=\"#1a2027\"")));
        Assert.Contains("fill=&quot;#1a2027&quot;", svg, StringComparison.Ordinal);
    }

    [Fact]
    public void Dark_figures_to_look_at()
    {
        var view = new StripView(InventedStrip.Whole, 1200, 640) { Selection = new(InventedStrip.At(3000), InventedStrip.At(3400)) };
        var group = InventedReports.Adults.Settings[0];
        var figures = new[] { Reports.Figures.Strip(InventedStrip.Model(view), view), Reports.Figures.SettingsMap(group.MapByDelay!, group.Proposal), Reports.Figures.Overview(InventedReports.Adults.Recordings[0]) };
        Assert.All(figures, f => Assert.NotEqual(f, Reports.Figures.InDark(f)));
        if (Environment.GetEnvironmentVariable("STILLWATCH_REPORT_SAMPLES") is not { } folder) return;
        Directory.CreateDirectory(folder);
        for (int i = 0; i < figures.Length; i++) File.WriteAllText(Path.Combine(folder, $"dark-{i}.svg"), Reports.Figures.InDark(figures[i]));
    }

    private static string Named(string name) => (string)typeof(Ink).GetField(name)!.GetRawConstantValue()!;

    private static double Contrast(string one, string other)
    {
        double a = Ramp.Luminance(one) + 0.05, b = Ramp.Luminance(other) + 0.05;
        return Math.Max(a, b) / Math.Min(a, b);
    }

    private static double Hue(string colour)
    {
        double r = Convert.ToInt32(colour[1..3], 16), g = Convert.ToInt32(colour[3..5], 16), b = Convert.ToInt32(colour[5..7], 16);
        double greatest = Math.Max(r, Math.Max(g, b)), spread = greatest - Math.Min(r, Math.Min(g, b));
        double sixth = greatest == r ? (g - b) / spread : greatest == g ? 2 + (b - r) / spread : 4 + (r - g) / spread;
        return (sixth * 60 + 360) % 360;
    }
}
