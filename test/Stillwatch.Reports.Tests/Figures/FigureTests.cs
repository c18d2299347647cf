using System.Text;
using Stillwatch.Reports.Model;
using Stillwatch.Reports.Tests.Samples;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Reports.Tests.Figures;

public sealed class FigureTests
{
    public static TheoryData<string> Names => [.. All().Select(f => f.Name)];

    [Theory]
    [MemberData(nameof(Names))]
    public void Each_figure_is_a_well_formed_picture_with_title_and_description(string name)
    {
        var root = PageReader.Parse(Svg(name)).Root!;
        Assert.Equal(PageReader.Svg + "svg", root.Name);
        Assert.Equal("img", root.Attribute("role")!.Value);
        var title = root.Element(PageReader.Svg + "title")!;
        var description = root.Element(PageReader.Svg + "desc")!;
        Assert.False(string.IsNullOrWhiteSpace(title.Value));
        Assert.False(string.IsNullOrWhiteSpace(description.Value));
        Assert.Equal($"{title.Attribute("id")!.Value} {description.Attribute("id")!.Value}", root.Attribute("aria-labelledby")!.Value);
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void Each_figure_keeps_its_shapes_on_the_paper(string name)
    {
        var root = PageReader.Parse(Svg(name)).Root!;
        double[] size = [.. root.Attribute("viewBox")!.Value.Split(' ').Select(v => double.Parse(v, System.Globalization.CultureInfo.InvariantCulture))];
        Assert.DoesNotContain("NaN", Svg(name));
        Assert.DoesNotContain("∞", Svg(name));
        Assert.All(PageReader.Coordinates(root), c => Assert.True(Math.Abs(c.Value) <= Math.Max(size[2], size[3]) + 20, $"{c.Where}: {c.Value} on a paper of {size[2]} × {size[3]}"));
        foreach (var text in root.Descendants(PageReader.Svg + "text"))
        {
            double y = double.Parse(text.Attribute("y")!.Value, System.Globalization.CultureInfo.InvariantCulture);
            Assert.InRange(y, 5, size[3]);
        }
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void Red_yellow_and_cyan_are_used_for_alarm_signals_alone_and_never_for_text(string name)
    {
        string[] alarm = [Reports.Drawing.Ink.High, Reports.Drawing.Ink.Medium, Reports.Drawing.Ink.Low];
        foreach (var element in PageReader.Parse(Svg(name)).Descendants())
        {
            bool coloured = element.Attributes().Any(a => alarm.Contains(a.Value));
            if (!coloured) continue;
            Assert.True(name is "overview" or "events" or "rehearsal" or "strip", $"{name} has an alarm colour");
            Assert.Equal("rect", element.Name.LocalName);
            Assert.Contains("signal", element.Value + " priority signal", StringComparison.Ordinal);
            Assert.NotNull(element.Attribute("stroke"));
        }
    }

    [Fact]
    public void A_taller_bar_says_a_higher_priority()
    {
        double high = Plots.SignalRow.HeightOf(Alarms.AlarmPriority.High), medium = Plots.SignalRow.HeightOf(Alarms.AlarmPriority.Medium), low = Plots.SignalRow.HeightOf(Alarms.AlarmPriority.Low);
        Assert.True(high > medium + 3 && medium > low + 3);
    }

    [Fact]
    public void Three_days_at_one_value_a_second_stay_under_300_kB()
    {
        var random = new Random(72); // seed fixed: the same restless series every time
        int level = 95;
        var values = new decimal?[72 * 3600];
        for (int i = 0; i < values.Length; i++)
        {
            level = Math.Clamp(level + random.Next(-2, 3), 72, 100);
            values[i] = random.Next(400) == 0 ? null : level;
        }

        string svg = Reports.Figures.Overview(HandMade.Section(values, start: new RecordingStart.Local(new DateTime(2026, 3, 2, 21, 0, 0, DateTimeKind.Unspecified))));
        Assert.InRange(Encoding.UTF8.GetByteCount(svg), 10_000, 300_000);
    }

    [Fact]
    public void A_dip_of_one_second_in_a_day_is_drawn_down_to_its_lowest_value()
    {
        var values = Enumerable.Repeat((decimal?)97, 86_400).ToArray();
        for (int i = 0; i < values.Length; i += 2) values[i] = 96; // so many pieces that columns must be drawn
        for (int i = 40_000; i < 40_010; i++) values[i] = 97 - (i - 39_999) * 2;
        var section = HandMade.Section(values) with { PresentSettings = null, PresentSignals = null, MustCatch = [] };
        var figure = PageReader.Parse(Reports.Figures.Overview(section)).Root!;
        double axisBottom = 12 + 216;
        var envelope = figure.Descendants(PageReader.Svg + "path").First(p => p.Attribute("fill")?.Value == Reports.Drawing.Ink.Envelope);
        double deepest = PageReader.Coordinates(envelope).Max(c => c.Value <= axisBottom ? c.Value : 0);
        // 77 % on an axis from 75 to 100.7 %
        Assert.InRange(deepest, axisBottom - 216 * (77 - 75) / 25.7 - 1, axisBottom);
    }

    [Fact]
    public void Figures_of_nothing_are_empty_and_not_broken()
    {
        var none = HandMade.Section([null, null, null]) with { SpO2 = null };
        Assert.Equal("", Reports.Figures.Overview(none));
        Assert.Equal("", Reports.Figures.NightStrip(none));
        Assert.Equal("", Reports.Figures.WorstEvents(none));
        Assert.Equal("", Reports.Figures.Falls(none));
        Assert.Equal("", Reports.Figures.Loads([]));
        Assert.Equal("", Reports.Figures.HourStrip([], new RecordingStart.Unknown()));
        Assert.Equal("", Reports.Figures.Front(HandMade.SettingsSection(null)));
        Assert.Equal("", Reports.Figures.Contributors(new WardSection { Patients = [], PresentSignalsPerDay = null }));
        Assert.Equal("", Reports.Figures.SettingsMap(HandMade.Map() with { Valid = Duration.Zero }, null));
    }

    private static StripView WholeNight => new(InventedStrip.Whole, 1000, 640);

    private static string Svg(string name) => All().Single(f => f.Name == name).Draw();

    private static IEnumerable<(string Name, Func<string> Draw)> All()
    {
        yield return ("overview", () => Reports.Figures.Overview(InventedReports.Adults.Recordings[0]));
        yield return ("overview-by-hand", () => Reports.Figures.Overview(HandMade.Section(HandMade.Night()) with { PresentSignals = [], PresentSettings = null }));
        yield return ("night-strip", () => Reports.Figures.NightStrip(InventedReports.Adults.Recordings[0]));
        yield return ("histogram", () => Reports.Figures.ExposureHistogram(InventedReports.Adults.Recordings[0].Review!.Exposure, InventedReports.Adults.Recordings[0].PresentSettings));
        yield return ("hours", () => Reports.Figures.HourStrip(InventedReports.Adults.Recordings[0].Review!.Hours, InventedReports.Adults.Recordings[0].Recording.Start));
        yield return ("hours-of-two-days", () => Reports.Figures.HourStrip(HandMade.Section(HandMade.Night(40 * 3600)).Review!.Hours, new RecordingStart.Unknown()));
        yield return ("events", () => Reports.Figures.WorstEvents(InventedReports.Adults.Recordings[0]));
        yield return ("falls", () => Reports.Figures.Falls(InventedReports.Adults.Recordings[0]));
        yield return ("map-delay", () => Reports.Figures.SettingsMap(InventedReports.Adults.Settings[0].MapByDelay!, InventedReports.Adults.Settings[0].Proposal));
        yield return ("map-area", () => Reports.Figures.SettingsMap(InventedReports.Adults.Settings[0].MapByArea!, InventedReports.Adults.Settings[0].Proposal));
        yield return ("map-by-hand", () => Reports.Figures.SettingsMap(HandMade.Map(), HandMade.Proposal(HandMade.Evidence(HandMade.Settings(88, 20), 11), HandMade.Evidence(HandMade.Settings(90, 10), 38))));
        yield return ("loads", () => Reports.Figures.Loads([new LoadRow("Present", "SpO2 below 90 %", new(38, 30, 47)), new LoadRow("Other", new string('w', 90), new(0, null, null))]));
        yield return ("front", () => Reports.Figures.Front(HandMade.SettingsSection(HandMade.Proposal(HandMade.Evidence(HandMade.Settings(88, 15), 11), HandMade.Evidence(HandMade.Settings(90, 10), 38)))));
        yield return ("light-overview", () => Reports.Figures.LightOverview(InventedLight.Section()));
        yield return ("light-detail", () => Reports.Figures.LightDetail(InventedLight.Section()));
        yield return ("light-of-one-pleth", () => Reports.Figures.LightOverview(InventedLight.Section(4000, red: false)));
        yield return ("rehearsal", () => Reports.Figures.Rehearsal(InventedRun.Restless.Run, InventedRun.Restless.Signals));
        yield return ("rehearsal-of-a-preterm", () => Reports.Figures.Rehearsal(InventedRun.Preterm.Run, []));
        yield return ("strip", () => Reports.Figures.Strip(InventedStrip.Model(WholeNight), WholeNight));
        yield return ("contributors", () => Reports.Figures.Contributors(InventedReports.Ward.Ward!));
    }
}
