using System.Text.RegularExpressions;
using Stillwatch.Oximetry;
using Stillwatch.Reports.Plots;
using Stillwatch.Reports.Tests.Samples;

namespace Stillwatch.Reports.Tests.Figures;

/// <summary>The figures of light: what is refused is seen to be refused, and one time axis holds everything.</summary>
public sealed partial class LightFigureTests
{
    [Fact]
    public void Every_panel_stands_in_the_figure_under_its_name()
    {
        foreach (string figure in new[] { Reports.Figures.LightOverview(InventedLight.Section()), Reports.Figures.LightDetail(InventedLight.Section()) })
        {
            foreach (string name in new[] { "Infrared light", "Red light", "Ratio of ratios", "SpO2 derived, %", "Pulse rate, /min", "Perfusion, %", "Breaths, /min", "Quality, 0 to 1", "Why no numbers" })
                Assert.Contains(Texts(figure), t => t == name);
        }
    }

    [Fact]
    public void One_pleth_has_no_panel_for_what_it_cannot_give()
    {
        string figure = Reports.Figures.LightOverview(InventedLight.Section(red: false));
        Assert.Contains("Pleth", Texts(figure));
        Assert.DoesNotContain(Texts(figure), t => t.StartsWith("SpO2", StringComparison.Ordinal) || t.StartsWith("Ratio", StringComparison.Ordinal) || t.StartsWith("Perfusion", StringComparison.Ordinal));
    }

    [Fact]
    public void Each_refused_stretch_is_hatched_in_the_panel_of_SpO2_and_named_at_the_foot()
    {
        var section = InventedLight.Section();
        string figure = Reports.Figures.LightOverview(section);
        int refused = section.Derived.Seconds.Select((s, i) => (Is: double.IsNaN(s.SpO2Percent), Was: i > 0 && double.IsNaN(section.Derived.Seconds[i - 1].SpO2Percent))).Count(s => s.Is && !s.Was);
        Assert.Equal(refused, PageReader.Parse(figure).Descendants(PageReader.Svg + "title").Count(t => t.Value == "SpO2 is refused here"));
        foreach (var state in section.Summary.States.Where(s => s.State != LightState.Valid)) Assert.Contains(state.State.InWords(), Texts(figure));
    }

    [Fact]
    public void A_refused_second_has_no_line_through_it()
    {
        var seconds = Enumerable.Range(0, 300).Select(i => i is >= 100 and < 110
            ? new SecondReading(double.NaN, double.NaN, double.NaN, double.NaN, double.NaN, LightState.Motion) : new SecondReading(70, 96, 0.5, 1, 0.9, LightState.Valid)).ToList();
        var section = InventedLight.Section(300);
        var derived = section.Derived with { Seconds = seconds, Breathing = [], Beats = [] };
        var figure = PageReader.Parse(Reports.Figures.LightOverview(section with { Derived = derived, Summary = DerivedSummary.Of(derived) })).Root!;
        double wide = PanelStack.Right - PanelStack.Left, left = PanelStack.Left + wide * 101 / 300, right = PanelStack.Left + wide * 109 / 300;
        var lines = figure.Descendants(PageReader.Svg + "path").Where(p => p.Attribute("stroke-width")?.Value == "1.6").ToList();
        Assert.Equal(5, lines.Count); // ratio, SpO2, pulse rate, perfusion, quality
        foreach (var line in lines)
        {
            // M x y, then H x, V y or L x y: each move begins a stretch that was given.
            string[] stretches = line.Attribute("d")!.Value.Split('M', StringSplitOptions.RemoveEmptyEntries);
            Assert.Equal(2, stretches.Length);
            foreach (string stretch in stretches)
            {
                double[] xs = [.. Place().Matches(stretch).Select(m => double.Parse(m.Groups[1].Value, System.Globalization.CultureInfo.InvariantCulture))];
                Assert.False(xs.Min() < left && xs.Max() > right, stretch);
            }
        }
    }

    [Fact]
    public void The_detail_marks_every_beat_of_its_seconds_and_no_other()
    {
        var section = InventedLight.Section();
        var strip = DetailStrip.Of(section.Derived)!.Span;
        int beats = section.Derived.Beats.Count(b => b.UpstrokeSeconds >= strip.Start.Seconds && b.UpstrokeSeconds <= strip.End.Seconds);
        Assert.True(beats > 10);
        Assert.Contains($"{beats} beats", Texts(Reports.Figures.LightDetail(section)));
        int triangles = PageReader.Parse(Reports.Figures.LightDetail(section)).Descendants(PageReader.Svg + "path").Count(p => p.Attribute("d")!.Value.EndsWith('Z') && p.Attribute("fill") is null);
        Assert.Equal(beats + 1, triangles); // and the one in the legend
    }

    [Fact]
    public void The_detail_shows_numbers_given_and_refused_side_by_side_where_there_are_both()
    {
        var choice = DetailStrip.Of(InventedLight.Section().Derived)!;
        var states = Enumerable.Range((int)choice.Span.Start.Seconds, DetailStrip.Seconds).Select(InventedLight.StateAt).ToList();
        Assert.Equal(10, states.Count(s => s == LightState.Valid));
        Assert.Contains("side by side", choice.Why);
    }

    [Fact]
    public void Without_refused_seconds_the_detail_is_where_SpO2_moves_most()
    {
        var seconds = Enumerable.Range(0, 200).Select(i => new SecondReading(70, i is >= 90 and < 110 ? 96 - (i - 90) * 0.5 : i < 90 ? 96 : 86, 0.5, 1, 0.9, LightState.Valid)).ToList();
        var choice = DetailStrip.Of(InventedLight.Derived(200, red: true) with { Seconds = seconds })!;
        Assert.InRange(choice.Span.Start.Seconds, 88, 92);
        Assert.Contains("SpO2 moves most", choice.Why);
    }

    [Fact]
    public void A_recording_shorter_than_the_strip_is_shown_whole_and_none_gives_no_figure()
    {
        Assert.Equal(7, DetailStrip.Of(InventedLight.Derived(7, red: true))!.Span.Length.Seconds);
        var none = InventedLight.Section(1);
        none = none with { Derived = none.Derived with { Seconds = [], Beats = [], Breathing = [] } };
        Assert.Equal("", Reports.Figures.LightOverview(none));
        Assert.Equal("", Reports.Figures.LightDetail(none));
    }

    [Fact]
    public void A_whole_night_stays_under_half_a_megabyte()
    {
        var section = InventedLight.Section(60);
        var seconds = Enumerable.Range(0, 8 * 3600).Select(i => i % 97 < 3 ? new SecondReading(double.NaN, double.NaN, double.NaN, double.NaN, 0.1, LightState.Motion) : new SecondReading(70 + i % 13, 90 + i % 9, 0.5, 1 + i % 5 * 0.1, 0.9, LightState.Valid)).ToList();
        var derived = section.Derived with { Seconds = seconds };
        string figure = Reports.Figures.LightOverview(section with { Derived = derived, Summary = DerivedSummary.Of(derived) });
        Assert.InRange(System.Text.Encoding.UTF8.GetByteCount(figure), 10_000, 500_000);
    }

    private static List<string> Texts(string figure) => [.. PageReader.Parse(figure).Descendants(PageReader.Svg + "text").Select(PageReader.TextOf)];

    [GeneratedRegex(@"(?:^|[HL])(-?[\d.]+)")]
    private static partial Regex Place();
}
