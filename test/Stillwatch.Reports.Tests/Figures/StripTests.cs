using CsCheck;
using Stillwatch.Conditioning;
using Stillwatch.Reports.Drawing;
using Stillwatch.Reports.Model;
using Stillwatch.Reports.Tests.Samples;
using Stillwatch.Signals;
using Stillwatch.Time;
using Stillwatch.Tuning.MustCatch;

namespace Stillwatch.Reports.Tests.Figures;

/// <summary>The detail strip hides no low, invents no value, and says why there is none.</summary>
public sealed class StripTests
{
    // One SpO2 panel from 50 to 100 %: between 10 and (height − 42 − 10) pixels.
    private const double Height = 252;
    private const double Top = 10;
    private const double Bottom = 200;

    private static readonly Gen<ConditionedSeries> Series =
        Gen.Frequency((6, Gen.Int[51, 100].Select(v => (decimal?)v)), (1, Gen.Const((decimal?)null))).Array[2, 300]
            .Select(Gen.Int[1, 12], (values, repeat) => HandMade.Series(values.SelectMany(v => Enumerable.Repeat(v, repeat))));

    [Fact]
    public void The_lowest_value_of_the_window_is_drawn_at_every_width() =>
        Gen.Select(Series, Gen.Double[0, 0.9], Gen.Double[0.1, 1], Gen.Int[320, 1600]).Sample(t =>
        {
            var (series, share, length, width) = t;
            long from = (long)(series.Connected.Milliseconds * share), to = Math.Min(series.Connected.Milliseconds, from + Math.Max(1000, (long)(series.Connected.Milliseconds * length)));
            var window = new TimeSlice(series.Start + new Duration(from), series.Start + new Duration(to));
            var within = series.Pieces.Where(p => p.Start < window.End && p.End > window.Start).ToList();
            if (within.Count == 0) return;
            double lowest = within.Min(p => p.Micro) / 1e6;
            Assert.Equal(Bottom - (lowest - 50) / 50 * (Bottom - Top), DeepestInk(Draw(series, new StripView(window, width, Height))), 0.11);
        });

    [Fact]
    public void The_lowest_row_of_a_wave_or_a_number_read_row_by_row_is_drawn_too() =>
        Gen.Select(Gen.Int[51, 100].Array[2, 4000], Gen.Int[320, 1600], Gen.Int[8, 3000], Gen.Bool).Sample(t =>
        {
            var (values, width, period, isWave) = t;
            var column = ValueColumn.Of(values.Select(v => (decimal?)v));
            var channel = new Channel("x", ChannelKind.Other, "", TimeAxis.Even(default, new Duration(period), values.Length), column);
            var view = new StripView(new TimeSlice(default, new SampleTime(values.Length * (long)period)), width, Height);
            var panel = StripPanel.OfChannel(isWave ? StripPanelKind.Pleth : StripPanelKind.SpO2, channel, view.Window, view.Columns) with { Range = (50, 100) };
            string svg = Reports.Figures.Strip(new StripModel { Name = "x", Start = new RecordingStart.Unknown(), Panels = [panel] }, view);
            Assert.Equal(Bottom - (values.Min() - 50) / 50.0 * (Bottom - Top), DeepestInk(svg), 0.11);
        });

    [Fact]
    public void A_stretch_without_a_value_is_hatched_with_its_reason_or_says_no_value()
    {
        var values = Enumerable.Repeat((decimal?)96, 600).ToArray();
        for (int i = 100; i < 200; i++) values[i] = null;
        for (int i = 300; i < 400; i++) values[i] = null;
        var series = HandMade.Series(values);
        var view = new StripView(new TimeSlice(series.Start, series.End), 1000, Height);
        string svg = Draw(series, view, [new StripGap(new TimeSlice(SampleTime.FromSeconds(105), SampleTime.FromSeconds(200)), "sensor off")]);
        Assert.Equal(["No value", "Sensor off, 1 min 35 s"], PageReader.Parse(svg).Descendants(PageReader.Svg + "rect").Select(PageReader.TextOf).Where(t => t.Length > 0).Order());
    }

    [Fact]
    public void Sparse_numbers_stand_as_long_as_their_hold_and_no_longer()
    {
        float[] least = [.. Enumerable.Repeat(float.NaN, 600)];
        least[0] = 90;
        least[100] = 92;
        var panel = new StripPanel(StripPanelKind.SpO2, "SpO2", "%", new TimeSlice(default, SampleTime.FromSeconds(600)), least, [.. least], Duration.FromSeconds(120));
        string svg = Reports.Figures.Strip(new StripModel { Name = "x", Start = new RecordingStart.Unknown(), Panels = [panel] }, new StripView(panel.Span, 864, Height));
        var hatch = Assert.Single(PageReader.Parse(svg).Descendants(PageReader.Svg + "rect"), r => r.Value.StartsWith("No value", StringComparison.Ordinal));
        Assert.Equal(StripView.PlotLeft + 221, double.Parse(hatch.Attribute("x")!.Value, System.Globalization.CultureInfo.InvariantCulture), 1.0);
    }

    [Fact]
    public void Where_the_clock_is_not_known_the_axis_shows_elapsed_time_and_says_so()
    {
        var series = HandMade.Series(HandMade.Night());
        string svg = Draw(series, new StripView(new TimeSlice(series.Start, series.End), 1000, Height));
        Assert.Contains("Elapsed time", svg, StringComparison.Ordinal);
        Assert.Contains("clock not known", svg, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(MarkVerdict.RealAndSignificant, "S")]
    [InlineData(MarkVerdict.RealButNotSignificant, "N")]
    [InlineData(MarkVerdict.Artefact, "A")]
    [InlineData(MarkVerdict.CannotTell, "?")]
    public void A_review_mark_tells_its_verdict_by_letter_and_by_shape(MarkVerdict verdict, string letter)
    {
        var series = HandMade.Series(HandMade.Night());
        var view = new StripView(new TimeSlice(series.Start, series.End), 1000, 400);
        string Marked(MarkVerdict one) => Reports.Figures.Strip(Model(series, view) with { Marks = [new ReviewMark("R. One", new TimeSlice(SampleTime.FromSeconds(900), SampleTime.FromSeconds(960)), one)] }, view);
        Assert.Contains($">{letter}</text>", Marked(verdict), StringComparison.Ordinal);
        var shapes = Enum.GetValues<MarkVerdict>().Select(v => PageReader.Parse(Marked(v)).Descendants().Single(e => e.Value.Contains(", R. One: ", StringComparison.Ordinal) && e.Name.LocalName is "path" or "rect" or "circle"))
            .Select(e => $"{e.Name.LocalName} {e.Attribute("d")?.Value}").ToList();
        Assert.Equal(4, shapes.Distinct().Count());
    }

    [Fact]
    public void A_name_that_would_be_markup_stays_text()
    {
        var series = HandMade.Series([96, 96, 96]);
        var view = new StripView(new TimeSlice(series.Start, series.End), 600, 300);
        string svg = Reports.Figures.Strip(Model(series, view) with { Lanes = [new StripLane("<script>", [new StripSignal(view.Window, "\"><b>", null, false)])] }, view);
        Assert.DoesNotContain("<script", svg, StringComparison.Ordinal);
        Assert.DoesNotContain("<b>", svg, StringComparison.Ordinal);
    }

    [Fact]
    public void A_panel_of_unequal_columns_is_refused_in_words()
    {
        var error = Assert.Throws<ArgumentException>(() => new StripPanel(StripPanelKind.SpO2, "SpO2", "%", default, [1, 2], [1], Duration.Zero));
        Assert.Contains("found 2 lowest and 1 highest values", error.Message, StringComparison.Ordinal);
    }

    private static StripModel Model(ConditionedSeries series, StripView view, IReadOnlyList<StripGap>? gaps = null) => new()
    {
        Name = "by hand",
        Start = new RecordingStart.Unknown(),
        Panels = [StripPanel.OfSeries(StripPanelKind.SpO2, "SpO2", "%", series, view.Window, view.Columns) with { Range = (50, 100) }],
        Gaps = gaps ?? [],
    };

    private static string Draw(ConditionedSeries series, StripView view, IReadOnlyList<StripGap>? gaps = null) => Reports.Figures.Strip(Model(series, view, gaps), view);

    /// <summary>The lowest point on the paper that the trace or its band reaches.</summary>
    private static double DeepestInk(string svg)
    {
        double deepest = double.NegativeInfinity;
        foreach (var path in PageReader.Parse(svg).Descendants(PageReader.Svg + "path").Where(p => p.Attribute("stroke")?.Value == Ink.Trace || p.Attribute("fill")?.Value == Ink.Envelope))
            foreach (double y in Ordinates(path.Attribute("d")!.Value)) deepest = Math.Max(deepest, y);
        return deepest;
    }

    private static IEnumerable<double> Ordinates(string path)
    {
        foreach (string part in System.Text.RegularExpressions.Regex.Split(path, "(?=[MLHVZ])").Where(p => p.Length > 1 && p[0] != 'H'))
            yield return double.Parse(part[1..].Split(' ')[^1], System.Globalization.CultureInfo.InvariantCulture);
    }
}
