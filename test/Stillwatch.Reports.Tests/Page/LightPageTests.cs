using System.Text.RegularExpressions;
using System.Xml.Linq;
using Stillwatch.Oximetry;
using Stillwatch.Reports.Tests.Samples;
using Stillwatch.Signals;

namespace Stillwatch.Reports.Tests.Page;

/// <summary>Pages about derived numbers and about rehearsals: as safe and as plain as the report of a night.</summary>
public sealed partial class LightPageTests
{
    private static readonly Dictionary<string, Func<string>> All = new()
    {
        ["light"] = () => Light(InventedLight.Page()),
        ["pleth"] = () => Light(InventedLight.Page(red: false)),
        ["three seconds"] = () => Light(InventedLight.Page(3)),
        ["nothing"] = () => Light(Nothing()),
        ["rehearsal"] = () => Rehearsal(InventedRun.Restless),
        ["preterm"] = () => Rehearsal(InventedRun.Preterm),
    };

    public static TheoryData<string> Names => [.. All.Keys];

    [Theory]
    [MemberData(nameof(Names))]
    public void Each_page_is_well_formed_runs_nothing_and_needs_nothing_from_outside(string name)
    {
        string text = All[name]();
        var page = PageReader.Parse(text);
        Assert.DoesNotContain("<script", text, StringComparison.OrdinalIgnoreCase);
        Assert.All(page.Descendants().Attributes("href"), h => Assert.StartsWith("#", h.Value));
        Assert.All(Url().Matches(text), m => Assert.StartsWith("url(#", m.Value));
        var ids = page.Descendants().Attributes("id").Select(i => i.Value).ToList();
        Assert.Equal(ids.Count, ids.Distinct().Count());
        Assert.All(page.Descendants().Attributes("href"), h => Assert.Contains(h.Value[1..], ids));
        Assert.All(Url().Matches(text), m => Assert.Contains(m.Value[5..^1], ids));
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void Every_table_has_a_caption_and_rows_as_wide_as_its_heads_and_no_number_is_none(string name)
    {
        var page = PageReader.Parse(All[name]());
        foreach (var table in page.Descendants("table"))
        {
            Assert.False(string.IsNullOrWhiteSpace(table.Element("caption")!.Value));
            int heads = table.Element("thead")!.Element("tr")!.Elements().Count();
            Assert.All(table.Element("tbody")!.Elements("tr"), r => Assert.Equal(heads, r.Elements().Count()));
        }

        string text = PageReader.TextOf(page.Root!);
        Assert.DoesNotContain("NaN", text);
        Assert.DoesNotContain("∞", text);
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void The_answer_stands_before_any_figure_and_the_cautions_on_every_page(string name)
    {
        string text = All[name]();
        int answer = text.IndexOf("id=\"answer\"", StringComparison.Ordinal), figure = text.IndexOf("<svg", StringComparison.Ordinal);
        Assert.True(answer > 0 && (figure < 0 || answer < figure));
        Assert.Contains("not a primary alarm and not for diagnosis", text);
        Assert.Contains("Local policy, the prescription and licensed clinicians decide", text);
        Assert.Contains("Invented data. No patient", text);
    }

    [Theory]
    [InlineData("light")]
    [InlineData("pleth")]
    public void A_page_about_derived_numbers_says_by_which_curve_and_that_no_monitor_gave_them(string name)
    {
        string text = PageReader.TextOf(PageReader.Parse(All[name]()).Root!);
        Assert.Contains("not the monitor's reading", text);
        Assert.Contains(name == "light" ? "textbook approximation 110 − 25·R" : "None, and so no SpO2: there is one light only", text);
        Assert.Contains("These are states of the measurement and say nothing of the patient", text);
    }

    [Fact]
    public void The_tables_behind_the_figures_hold_the_beats_the_minutes_and_the_states()
    {
        var page = PageReader.Parse(All["light"]());
        Assert.True(PageReader.Table(page, "Beats").Count > 10);
        Assert.Equal(60 + 1, PageReader.Table(page, "Medians over each 10\u00a0s").Count);
        var states = PageReader.Table(page, "Stretches without numbers");
        Assert.Contains(states, r => r[1] == "sensor off" && r[2] == "30 s");
        Assert.Contains(PageReader.Table(page, "Respiratory rate, window by window"), r => r[1] == "–");
    }

    [Fact]
    public void A_teaching_page_lists_the_learning_points_the_truth_and_the_signals()
    {
        var page = PageReader.Parse(All["rehearsal"]());
        string text = PageReader.TextOf(page.Root!);
        Assert.All(InventedRun.Restless.Run.Scenario.LearningPoints, p => Assert.Contains(p, text));
        Assert.Contains("Only the first 25 min of 40 min are here", text);
        Assert.Contains(PageReader.Table(page, "What truly happened"), r => r[1] == "true saturation low");
        Assert.Equal(InventedRun.Restless.Signals.Count + 1, PageReader.Table(page, "Signals of the starting settings").Count);
    }

    [Theory]
    [InlineData("<script>alert(1)</script>")]
    [InlineData("\"><img src=x onerror=alert(1)>")]
    [InlineData("</title></style></svg><b>")]
    [InlineData("a\u0001b\ud800c")]
    public void Hostile_labels_and_texts_stay_texts(string hostile)
    {
        var model = InventedLight.Page(60);
        var plan = model.Light.Derived.Plan with { PulseLabel = hostile, Candidates = [new ChannelCandidate(hostile, 0.5, true, hostile)] };
        model = model with
        {
            Title = hostile,
            Light = model.Light with
            {
                Derived = model.Light.Derived with { Plan = plan },
                Recording = model.Light.Recording with { Name = hostile, Channels = [.. model.Light.Recording.Channels.Select(c => new Channel(hostile, c.Kind, hostile, c.Times, c.Counts!))] },
                Issues = [new ReadIssue(IssueSeverity.Doubt, hostile, hostile, hostile, hostile, hostile, 3)],
            },
        };
        var page = PageReader.Parse(Light(model));
        Assert.DoesNotContain(page.Descendants(), e => e.Name.LocalName is "script" or "img" or "b");
        Assert.DoesNotContain(page.Descendants().Attributes(), a => a.Name.LocalName.StartsWith("on", StringComparison.Ordinal));
        Assert.Equal(hostile.Replace('\u0001', '\ufffd').Replace('\ud800', '\ufffd'), page.Descendants("h1").Single().Value);
    }

    [Fact]
    public void The_same_model_gives_the_same_bytes()
    {
        Assert.Equal(All["light"](), All["light"]());
        Assert.Equal(All["rehearsal"](), All["rehearsal"]());
    }

    private static Reports.Model.LightReportModel Nothing()
    {
        var model = InventedLight.Page(1);
        var derived = model.Light.Derived with { Seconds = [], Beats = [], Breathing = [] };
        return model with { Light = model.Light with { Derived = derived, Summary = DerivedSummary.Of(derived) } };
    }

    private static string Light(Reports.Model.LightReportModel model)
    {
        using var writer = new StringWriter();
        LightReport.Write(model, writer);
        return writer.ToString();
    }

    private static string Rehearsal(Reports.Model.RehearsalReportModel model)
    {
        using var writer = new StringWriter();
        RehearsalReport.Write(model, writer);
        return writer.ToString();
    }

    [GeneratedRegex(@"url\([^)]*\)")]
    private static partial Regex Url();
}
