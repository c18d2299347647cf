using System.Xml.Linq;
using Stillwatch.Quantities;
using Stillwatch.Reports.Model;
using Stillwatch.Reports.Tests.Samples;
using Stillwatch.Tuning.Map;
using Stillwatch.Tuning.Proposals;

namespace Stillwatch.Reports.Tests.Figures;

public sealed class MapFigureTests
{
    private static readonly Proposal Proposed = HandMade.Proposal(HandMade.Evidence(HandMade.Settings(88, 20), 11), HandMade.Evidence(HandMade.Settings(90, 10), 38));

    [Fact]
    public void Cells_that_miss_are_hatched_and_late_ones_dotted()
    {
        var figure = Draw(HandMade.Map(), Proposed);
        // Each pattern fills one rectangle in the map and one in the legend: two missed cells side by side are one rectangle.
        Assert.Equal(2, Filled(figure, "map-missed").Count);
        Assert.Equal(2, Filled(figure, "map-late").Count);
        Assert.Empty(Filled(figure, "map-longon"));
    }

    [Fact]
    public void Null_cells_stay_blank()
    {
        var figure = Draw(HandMade.Map(), null);
        double top = 86, row = 26;
        // The highest of five limits is null: no load is drawn in the top row.
        Assert.DoesNotContain(figure.Descendants(PageReader.Svg + "rect"), r => Y(r) >= top && Y(r) < top + row - 2 && r.Attribute("fill")!.Value.StartsWith('#') && r.Attribute("fill")!.Value != "#ffffff");
    }

    [Fact]
    public void A_signal_that_never_ends_does_not_look_quiet()
    {
        var map = HandMade.Map();
        map.Plane.ActiveMilliseconds[3, 0] = map.Valid.Milliseconds / 2;
        Assert.Equal(2, Filled(Draw(map, null), "map-longon").Count);
        Assert.Equal(0.5, map.ShareOfTimeOn(3, 0));
    }

    [Fact]
    public void Present_and_proposed_settings_are_marked_by_different_shapes_and_by_words()
    {
        var figure = Draw(HandMade.Map(), Proposed);
        var texts = figure.Descendants(PageReader.Svg + "text").Select(PageReader.TextOf).ToList();
        Assert.Contains("present: 90 %, 10 s", texts);
        Assert.Contains("proposed: 88 %, 20 s", texts);
        Assert.Contains(figure.Descendants(PageReader.Svg + "circle"), c => c.Element(PageReader.Svg + "title")?.Value.StartsWith("present", StringComparison.Ordinal) == true);
        Assert.Contains(figure.Descendants(PageReader.Svg + "path"), c => c.Element(PageReader.Svg + "title")?.Value.StartsWith("proposed", StringComparison.Ordinal) == true);
    }

    [Fact]
    public void Refused_settings_have_no_mark_and_the_map_is_drawn_as_without_them()
    {
        var refused = HandMade.Proposal(HandMade.Evidence(HandMade.Settings(88, 20), 11), null, "R14.8: one patient only.");
        Assert.Equal(Reports.Figures.SettingsMap(HandMade.Map(), null), Reports.Figures.SettingsMap(HandMade.Map(), refused));
        Assert.NotEqual(Reports.Figures.SettingsMap(HandMade.Map(), null), Reports.Figures.SettingsMap(HandMade.Map(), Proposed));
    }

    [Fact]
    public void Settings_that_were_asked_about_are_marked_by_their_name()
    {
        string figure = Reports.Figures.SettingsMap(HandMade.Map(), null, askedAbout: [new NamedEvidence("Night idea", HandMade.Evidence(HandMade.Settings(86, 10), 25))]);
        Assert.Contains("“Night idea”: 86 %, 10 s", PageReader.Parse(figure).Descendants(PageReader.Svg + "text").Select(PageReader.TextOf));
    }

    [Theory]
    [InlineData(23.9, "Signals in all", "80")]
    [InlineData(24, "Signals per patient-day", "80")]
    [InlineData(48, "Signals per patient-day", "40")]
    public void Below_a_day_the_map_counts_and_from_a_day_on_it_gives_rates(double hours, string title, string highest)
    {
        var map = HandMade.Map() with { Valid = new Time.Duration((long)(hours * 3_600_000)) };
        var texts = Draw(map, null).Descendants(PageReader.Svg + "text").Select(PageReader.TextOf).ToList();
        Assert.Contains(title, texts);
        Assert.Contains(highest, texts);
        var page = PageReader.Page(HandMade.Report() with { Settings = [HandMade.SettingsSection(null, map)] });
        Assert.Equal(highest, PageReader.Table(page, title + "; m")[2][1]);
    }

    [Fact]
    public void Settings_that_do_not_lie_on_the_plane_are_not_marked_and_it_is_said_why()
    {
        var byArea = HandMade.Proposal(HandMade.Evidence(HandMade.Settings(88, 0, 150), 11), null);
        Assert.DoesNotContain("proposed:", Draw(HandMade.Map(), byArea).Value);
        var page = PageReader.Page(HandMade.Report() with { Settings = [HandMade.SettingsSection(byArea)] });
        Assert.Contains("The proposed settings (88 %, 150 %·s) do not lie on this map, which has no area threshold.", PageReader.TextOf(page.Root!));
    }

    [Fact]
    public void Without_must_catch_events_the_map_says_that_it_cannot_show_misses()
    {
        var figure = Draw(HandMade.Map() with { MustCatchEvents = 0 }, null);
        Assert.Contains("no must-catch event in these recordings", figure.Value);
        Assert.Empty(Filled(figure, "map-missed"));
    }

    [Theory]
    [InlineData(1, 1)]
    [InlineData(1, 40)]
    [InlineData(60, 1)]
    [InlineData(131, 3)]
    public void Grids_of_any_shape_can_be_drawn(int limits, int thresholds)
    {
        var plane = new MapPlane(new long[limits, thresholds], new long[limits, thresholds], new int[limits, thresholds], new int[limits, thresholds], null);
        var map = HandMade.Map() with { Plane = plane, Limits = [.. Enumerable.Range(0, limits).Select(l => Percent.Of(40 + l * 0.5m))], Thresholds = [.. Enumerable.Range(0, thresholds).Select(t => (double)t)] };
        Assert.NotEmpty(Draw(map, Proposed).Descendants(PageReader.Svg + "rect"));
    }

    [Fact]
    public void The_table_behind_the_map_says_the_same_as_the_plane()
    {
        var map = HandMade.Map();
        var rows = PageReader.Table(PageReader.Page(HandMade.Report() with { Settings = [HandMade.SettingsSection(Proposed, map)] }), "Signals per patient-day; m");
        Assert.Equal(["Low limit", "0 s", "10 s", "20 s", "30 s"], rows[0]);
        Assert.Equal(["92 %", "–", "–", "–", "–"], rows[1]);
        Assert.Equal(["86 %", "40", "20", "13", "10 l2"], rows[4]);
        Assert.Equal(["84 %", "20", "10", "6.0 m1", "5.0 m1"], rows[5]);
    }

    private static XElement Draw(MapPicture map, Proposal? proposal) => PageReader.Parse(Reports.Figures.SettingsMap(map, proposal, "map")).Root!;

    private static List<XElement> Filled(XElement figure, string pattern) =>
        [.. figure.Descendants(PageReader.Svg + "rect").Where(r => r.Attribute("fill")?.Value == $"url(#{pattern})")];

    private static double Y(XElement rect) => double.Parse(rect.Attribute("y")?.Value ?? "0", System.Globalization.CultureInfo.InvariantCulture);
}
