using System.Text.RegularExpressions;
using System.Xml.Linq;
using Stillwatch.Reports.Model;
using Stillwatch.Reports.Tests.Samples;
using Stillwatch.Signals;
using Stillwatch.Time;
using Stillwatch.Tuning.Proposals;

namespace Stillwatch.Reports.Tests.Page;

public sealed partial class HtmlReportTests
{
    public static TheoryData<string> Names => [.. All.Keys];

    private static readonly Dictionary<string, Func<ReportModel>> All = new()
    {
        ["night"] = () => InventedReports.Night,
        ["adults"] = () => InventedReports.Adults,
        ["ward"] = () => InventedReports.Ward,
        ["by hand"] = () => HandMade.Report(HandMade.Section(HandMade.Night())),
        ["nothing read"] = () => HandMade.Report(),
        ["one sample"] = () => HandMade.Report(HandMade.Section([93])),
        ["no number at all"] = () => HandMade.Report(HandMade.Section([null, null, null, null])),
        ["one a minute"] = () => HandMade.Report(HandMade.Section(HandMade.Night(300), periodSeconds: 60)),
        ["no SpO2"] = () => HandMade.Report(HandMade.Section([93]) with { SpO2 = null, Review = null, MustCatch = [] }),
        ["never valid"] = () => HandMade.Report(HandMade.Section([0, 0, 0, 250, 0])),
    };

    [Theory]
    [MemberData(nameof(Names))]
    public void Each_page_is_well_formed(string name) => Assert.NotNull(PageReader.Page(All[name]()).Root);

    [Theory]
    [MemberData(nameof(Names))]
    public void Each_page_needs_nothing_from_outside_and_runs_nothing(string name)
    {
        string text = PageReader.Write(All[name]());
        Assert.DoesNotContain("<script", text, StringComparison.OrdinalIgnoreCase);
        Assert.DoesNotContain(" src=", text, StringComparison.OrdinalIgnoreCase);
        Assert.DoesNotContain("@import", text, StringComparison.OrdinalIgnoreCase);
        Assert.DoesNotContain("javascript:", text, StringComparison.OrdinalIgnoreCase);
        Assert.All(Outside().Matches(text), m => Assert.StartsWith("http://www.w3.org/2000/svg\"", text[m.Index..]));
        var page = PageReader.Parse(text);
        Assert.All(page.Descendants().Attributes("href"), h => Assert.StartsWith("#", h.Value));
        Assert.All(Url().Matches(text), m => Assert.StartsWith("url(#", m.Value));
        Assert.All(page.Descendants().Attributes(), a => Assert.False(a.Name.LocalName.StartsWith("on", StringComparison.Ordinal), $"{a.Parent!.Name} has {a.Name}"));
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void Names_within_a_page_are_unique_and_every_link_leads_somewhere(string name)
    {
        var page = PageReader.Page(All[name]());
        var ids = page.Descendants().Attributes("id").Select(i => i.Value).ToList();
        Assert.Equal(ids.Count, ids.Distinct().Count());
        Assert.All(page.Descendants().Attributes("href"), h => Assert.Contains(h.Value[1..], ids));
        Assert.All(Url().Matches(page.ToString()), m => Assert.Contains(m.Value[5..^1], ids));
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void Every_figure_has_a_title_and_every_table_a_caption(string name)
    {
        var page = PageReader.Page(All[name]());
        Assert.All(page.Descendants(PageReader.Svg + "svg"), s => Assert.False(string.IsNullOrWhiteSpace(s.Element(PageReader.Svg + "title")!.Value)));
        Assert.All(page.Descendants("table"), t => Assert.False(string.IsNullOrWhiteSpace(t.Element("caption")!.Value)));
        foreach (var table in page.Descendants("table"))
        {
            int heads = table.Element("thead")!.Element("tr")!.Elements().Count();
            Assert.All(table.Element("tbody")!.Elements("tr"), r => Assert.Equal(heads, r.Elements().Count()));
        }
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void The_answer_stands_before_any_evidence_and_the_cautions_on_every_page(string name)
    {
        string text = PageReader.Write(All[name]());
        int answer = text.IndexOf("id=\"answer\"", StringComparison.Ordinal), figure = text.IndexOf("<svg", StringComparison.Ordinal);
        Assert.True(answer > 0 && (figure < 0 || answer < figure));
        Assert.Contains("not a primary alarm and not for diagnosis", text);
        Assert.Contains("Local policy, the prescription and licensed clinicians decide", text);
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void No_page_prints_a_number_that_is_none(string name)
    {
        string text = PageReader.TextOf(PageReader.Page(All[name]()).Root!);
        Assert.DoesNotContain("NaN", text);
        Assert.DoesNotContain("∞", text);
        Assert.DoesNotContain("Infinity", text);
        Assert.DoesNotContain("-0 ", text);
    }

    [Fact]
    public void The_same_model_gives_the_same_bytes() => Assert.Equal(PageReader.Write(InventedReports.Night), PageReader.Write(InventedReports.Night));

    [Fact]
    public void Invented_data_say_so_and_real_data_do_not()
    {
        var real = HandMade.Report(HandMade.Section(HandMade.Night()));
        Assert.DoesNotContain("Invented", PageReader.Write(real), StringComparison.OrdinalIgnoreCase);
        Assert.Contains("Invented data. No patient", PageReader.Write(real with { IsInvented = true }));
    }

    [Theory]
    [InlineData("<script>alert(1)</script>")]
    [InlineData("\"><img src=x onerror=alert(1)>")]
    [InlineData("' onmouseover='x")]
    [InlineData("</title></style></svg><b>")]
    [InlineData("&lt;already&gt; & co")]
    [InlineData("a\u0001b\ud800c")]
    public void Hostile_names_and_texts_stay_texts(string hostile)
    {
        var section = HandMade.Section(HandMade.Night(), name: hostile) with
        {
            Issues = [new ReadIssue(IssueSeverity.Doubt, hostile, hostile, hostile, hostile, hostile, 3)],
        };
        var model = HandMade.Report(section) with
        {
            Title = hostile,
            Settings = [HandMade.SettingsSection(HandMade.Proposal(HandMade.Evidence(HandMade.Settings(88, 15), 9), null, hostile)) with { Group = hostile, Category = PatientCategory.Unknown }],
            Ward = new WardSection { Patients = [new PatientLoad(hostile, PatientCategory.Adult, 1, Duration.FromHours(8), Duration.FromHours(8), 5, 3, 1, 0)], PresentSignalsPerDay = 15 },
            Provenance = new Provenance { Software = hostile, Inputs = [new InputFile(hostile, hostile, 3, hostile)], Command = hostile, MadeAt = hostile, Notes = [hostile] },
        };
        string text = PageReader.Write(model);
        var page = PageReader.Parse(text);
        string[] known = ["html", "head", "meta", "title", "style", "body", "main", "header", "h1", "h2", "h3", "h4", "p", "a", "strong", "section", "div", "span", "nav", "figure", "figcaption", "details", "summary", "table", "caption", "thead", "tbody", "tr", "th", "td", "ul", "li", "dl", "dt", "dd", "footer"];
        Assert.All(page.Descendants().Where(e => e.Name.Namespace != PageReader.Svg), e => Assert.Contains(e.Name.LocalName, known));
        Assert.DoesNotContain(page.Descendants().Attributes(), a => a.Name.LocalName.StartsWith("on", StringComparison.Ordinal));
        string shown = hostile.Replace('\u0001', '\ufffd').Replace('\ud800', '\ufffd');
        Assert.Equal(shown, page.Descendants("h1").Single().Value);
        Assert.Contains(page.Descendants("tr"), r => r.Elements().First().Value == shown);
    }

    [Fact]
    public void A_refusal_says_so_with_its_reasons_and_names_no_settings_as_proposed()
    {
        var answer = Answer(InventedReports.Night);
        Assert.True(InventedReports.Night.Settings[0].Proposal!.IsRefused, "the invented night of one patient must be refused, or this test says nothing");
        Assert.Contains("No other settings are proposed.", answer);
        Assert.Contains("One patient only", answer);
        Assert.DoesNotContain("R14", answer);
        Assert.DoesNotContain("Which settings are proposed?", answer);
    }

    [Fact]
    public void A_proposal_says_what_it_changes_and_what_could_still_be_missed()
    {
        var model = HandMade.Report(HandMade.Section(HandMade.Night())) with
        {
            Settings = [HandMade.SettingsSection(HandMade.Proposal(HandMade.Evidence(HandMade.Settings(88, 15), 11.4), HandMade.Evidence(HandMade.Settings(90, 10), 38)))],
        };
        string answer = Answer(model);
        Assert.Contains("On these recordings the present settings (SpO2 below 90 % for more than 10 s) give 38 signals per patient-day (32 min of signal a day) and signal all 12 must-catch events in time.", answer);
        Assert.Contains("The proposed settings would give 11 signals per patient-day (32 min of signal a day), 70 % fewer, and signal all 12 must-catch events in time; the slowest signal comes 24 s after the event begins.", answer);
        Assert.Contains("SpO2 below 88 % for more than 15 s; no backstop; no averaging of ours.", answer);
        Assert.Contains("The evidence is from one ward.", answer);
        Assert.Contains("≤ 22.1 %", PageReader.TextOf(PageReader.Page(model).Root!));
    }

    [Fact]
    public void Present_settings_that_miss_are_not_praised()
    {
        var section = HandMade.SettingsSection(HandMade.Proposal(null, HandMade.Evidence(HandMade.Settings(85, 60), 4, events: 5, missed: 2, late: 1), "R14.1: too few."));
        Assert.Contains("of 5 must-catch events miss 2 and signal 1 of them late", Answer(HandMade.Report() with { Settings = [section] }));
    }

    [Fact]
    public void Averaging_coverage_definitions_files_and_hashes_are_printed()
    {
        string text = PageReader.TextOf(PageReader.Page(HandMade.Report(HandMade.Section(HandMade.Night()))).Root!);
        Assert.Contains("Averaging by the monitor", text);
        Assert.Contains("not known", text);
        Assert.Contains("by-hand.csv", text);
        Assert.Contains(new string('a', 64), text);
        Assert.Contains("Stillwatch 0.1.0", text);
        Assert.Contains("Coverage", text);
    }

    [Theory]
    [InlineData("nothing read", "No recording could be read, so nothing can be said.")]
    [InlineData("no number at all", "holds no valid SpO2 value, so nothing can be said about oxygenation.")]
    [InlineData("never valid", "holds no valid SpO2 value, so nothing can be said about oxygenation.")]
    [InlineData("no SpO2", "The recording has no SpO2, so there is nothing to look back over.")]
    [InlineData("one sample", "SpO2 was never below 90 %, lowest 93 %")]
    [InlineData("one a minute", "Falls could not be counted")]
    public void Recordings_with_little_in_them_get_a_sensible_answer(string name, string expected) => Assert.Contains(expected, Answer(All[name]()));

    [Fact]
    public void A_ward_names_each_group_and_refuses_or_proposes_for_each_apart()
    {
        var page = PageReader.Page(InventedReports.Ward);
        var rows = PageReader.Table(page, "Signals per patient-day on these recordings");
        Assert.Equal(InventedReports.Ward.Settings.Count + 1, rows.Count);
        Assert.All(InventedReports.Ward.Settings.Zip(rows.Skip(1)), pair => Assert.Equal(pair.First.Proposal!.Chosen is null, pair.Second[3] == "no change"));
        Assert.Equal(InventedReports.Ward.Recordings.Count, page.Descendants("details").Count(d => d.Attribute("class")?.Value == "recording"));
    }

    private static string Answer(ReportModel model) =>
        PageReader.TextOf(PageReader.Page(model).Descendants("section").Single(s => s.Attribute("id")?.Value == "answer"));

    [GeneratedRegex("https?://|//www")]
    private static partial Regex Outside();

    [GeneratedRegex(@"url\([^)]*\)")]
    private static partial Regex Url();
}
