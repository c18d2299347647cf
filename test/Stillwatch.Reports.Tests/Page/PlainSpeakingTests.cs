using Stillwatch.Quantities;
using Stillwatch.Replay;
using Stillwatch.Reports.Model;
using Stillwatch.Reports.Tests.Samples;
using Stillwatch.Time;
using Stillwatch.Tuning.MustCatch;
using Stillwatch.Tuning.Proposals;

namespace Stillwatch.Reports.Tests.Page;

/// <summary>What a page must say of where its numbers come from, and what it must not say when there are none.</summary>
public sealed class PlainSpeakingTests
{
    private const string Caution = "an adult was assumed. Not to be used for a child, a neonate or a patient with a lower prescribed target.";

    private static readonly RecordingSection Night = HandMade.Section(HandMade.Night());

    private static readonly RecordingSection WithoutSettings = Night with { PresentSettings = null, PresentSignals = null, MustCatch = [.. Night.MustCatch.Select(m => m with { Present = null })] };

    [Fact]
    public void An_assumed_adult_is_said_in_the_header_and_again_with_the_definitions()
    {
        string text = PageReader.Write(HandMade.Report(Night with { IsCategoryAssumed = true }));
        int header = text.IndexOf("Category not given: " + Caution, StringComparison.Ordinal), answer = text.IndexOf("id=\"answer\"", StringComparison.Ordinal);
        int definitions = text.IndexOf("<h3>Definitions</h3>", StringComparison.Ordinal), again = text.LastIndexOf("Category not given: " + Caution, StringComparison.Ordinal);
        Assert.True(header >= 0 && header < answer, "the header does not say it");
        Assert.True(again > definitions, "the definitions do not say it");
        Assert.DoesNotContain("assumed", PageReader.Write(HandMade.Report(Night)));
    }

    [Fact]
    public void Of_many_recordings_it_is_said_for_how_many_an_adult_was_assumed()
    {
        var model = HandMade.Report(Night with { IsCategoryAssumed = true }, Night, Night);
        Assert.Contains("Category not given for 1 of 3 recordings: " + Caution, TextOf(model));
        Assert.Contains("adult, assumed", TextOf(model));
    }

    [Fact]
    public void Settings_that_were_only_tried_are_called_by_their_name_and_never_present()
    {
        Assert.NotNull(Night.PresentSettings?.SpO2Low);
        var model = HandMade.Report(Night with { ReplayedName = "Night idea B" });
        var page = PageReader.Page(model);
        Assert.DoesNotContain("present settings", page.ToString(), StringComparison.OrdinalIgnoreCase);
        Assert.DoesNotContain("present low limit", page.ToString(), StringComparison.OrdinalIgnoreCase);
        Assert.Contains("replayed settings “Night idea B”", TextOf(model));
        Assert.Contains(page.Descendants(PageReader.Svg + "text"), t => PageReader.TextOf(t) == "Signals, replayed settings “Night idea B”");
        Assert.Contains(page.Descendants(PageReader.Svg + "text"), t => PageReader.TextOf(t) == "low limit of the replayed settings “Night idea B”");
        Assert.NotEmpty(PageReader.Table(page, "Alarm signals under replayed settings “Night idea B”"));
        Assert.Equal("Replayed settings “Night idea B”", PageReader.Table(page, "Must-catch events")[0][5]);
    }

    [Fact]
    public void Settings_in_force_are_called_present() => Assert.Contains("present settings", TextOf(HandMade.Report(Night)));

    [Fact]
    public void A_ward_says_under_which_settings_its_load_was_counted()
    {
        var ward = new WardSection { Patients = [new PatientLoad("p", Signals.PatientCategory.Adult, 1, Duration.FromHours(8), Duration.FromHours(8), 5, null, 1, 0)], PresentSignalsPerDay = 15, SettingsInWords = "preset settings of each category" };
        var model = HandMade.Report(WithoutSettings, WithoutSettings, WithoutSettings) with { Ward = ward };
        Assert.Contains("The preset settings of each category give 15 physiological signals per patient-day", TextOf(model));
        Assert.DoesNotContain("present settings", TextOf(model));
    }

    [Fact]
    public void Settings_asked_about_stand_in_the_sentence_the_bars_and_the_columns()
    {
        var asked = new NamedEvidence("Night idea", HandMade.Evidence(HandMade.Settings(86, 10), 25, missed: 1));
        var model = HandMade.Report(Night) with { Settings = [HandMade.SettingsSection(HandMade.Proposal(HandMade.Evidence(HandMade.Settings(88, 20), 11), null, "R14.8: one patient only.")) with { AskedAbout = [asked] }] };
        var page = PageReader.Page(model);
        Assert.Contains("No present settings were given, and none are proposed. The settings “Night idea” (SpO2 below 86 % for more than 10 s) would give 25 signals per patient-day", TextOf(model));
        Assert.Equal(["Settings “Night idea”"], PageReader.Table(page, "Alarm load").Skip(1).Select(r => r[0]));
        var columns = PageReader.Table(page, "On the same recordings");
        Assert.Equal(["What", "Settings “Night idea”", "Looked at, not good enough"], columns[0]);
        Assert.Contains(columns, r => r[0] == "Must-catch events" && r[1] == "11 in time, 0 late, 1 missed");
    }

    [Fact]
    public void A_refused_proposal_has_no_bar_no_mark_and_no_dot_of_its_own()
    {
        var model = HandMade.Report(Night) with { Settings = [HandMade.SettingsSection(HandMade.Proposal(HandMade.Evidence(HandMade.Settings(88, 20), 11), HandMade.Evidence(HandMade.Settings(90, 10), 38), "R14.8: one patient only."))] };
        var texts = PageReader.Page(model).Descendants(PageReader.Svg + "text").Select(PageReader.TextOf).ToList();
        Assert.Contains("present: 90 %, 10 s", texts);
        Assert.DoesNotContain(texts, t => t.Contains("88 %, 20 s", StringComparison.Ordinal) || t.Contains("roposed", StringComparison.Ordinal));
    }

    [Fact]
    public void Without_settings_nothing_is_said_of_limits_or_signals()
    {
        string text = TextOf(HandMade.Report(WithoutSettings));
        Assert.Contains("The worst events", text);
        foreach (string leftover in new[] { "Darker bars", "low limit", "Beneath: the alarm signals", "Every alarm signal as a table", "resent settings" })
            Assert.DoesNotContain(leftover, text);
    }

    [Fact]
    public void Settings_without_a_signal_have_no_empty_table()
    {
        var page = PageReader.Page(HandMade.Report(Night with { PresentSignals = [] }));
        Assert.All(page.Descendants("tbody"), b => Assert.NotEmpty(b.Elements()));
        Assert.DoesNotContain("Every alarm signal as a table", PageReader.TextOf(page.Root!));
    }

    [Fact]
    public void A_front_of_one_dot_is_no_front()
    {
        var proposal = HandMade.Proposal(HandMade.Evidence(HandMade.Settings(88, 20), 11), HandMade.Evidence(HandMade.Settings(90, 10), 38));
        Assert.NotEqual("", Reports.Figures.Front(HandMade.SettingsSection(proposal with { Front = [.. proposal.Front.Take(2)] })));
        Assert.Equal("", Reports.Figures.Front(HandMade.SettingsSection(proposal with { Front = [proposal.Front[0]] })));
    }

    [Fact]
    public void Tables_that_are_cut_say_of_how_many_rows()
    {
        var one = new MustCatchOutcome(new MustCatchEvent(default, SampleTime.FromSeconds(60), Percent.Of(80), []));
        var hours = Enumerable.Range(0, 201).Select(_ => Night.Review!.Hours[0]).ToList();
        var page = PageReader.Page(HandMade.Report(Night with { MustCatch = [.. Enumerable.Repeat(one, 201)], Review = Night.Review! with { Hours = hours } }));
        Assert.Equal(201, PageReader.Table(page, "Must-catch events; the first 200 of 201").Count);
        Assert.Equal(201, PageReader.Table(page, "Each hour from the first row on; the first 200 of 201").Count);
        Assert.DoesNotContain("the first 200", TextOf(HandMade.Report(Night)));
    }

    [Fact]
    public void Definitions_are_a_list_with_one_item_each_and_none_of_what_is_not_shown()
    {
        string definition = Night.Review!.Definition;
        Assert.Contains("Δ index:", definition); // or this test says nothing
        var page = PageReader.Page(HandMade.Report(Night));
        string[] starts = ["Channel", "Averaging:", "Validity:", "A value holds", "Rounding:", "Everything", "A percentile", "Target", "Desaturation event:", "Cluster of dips:", "For looking back only;"];
        var items = page.Descendants("h3").Single(h => h.Value == "Definitions").ElementsAfterSelf("ul").First().Elements("li").Select(PageReader.TextOf).ToList();
        Assert.Equal(starts.Length, items.Count(i => !i.StartsWith("The patient's own start", StringComparison.Ordinal)));
        Assert.All(starts, s => Assert.Contains(items, i => i.StartsWith(s, StringComparison.Ordinal)));
        Assert.DoesNotContain("Δ index", PageReader.TextOf(page.Root!));
    }

    [Fact]
    public void A_scaled_up_load_says_from_how_little()
    {
        var section = HandMade.SettingsSection(HandMade.Proposal(HandMade.Evidence(HandMade.Settings(88, 20), 79), null));
        Assert.Contains("These recordings hold only 18 min: one signal in them stands for 80 a day.", TextOf(HandMade.Report() with { Settings = [section with { Valid = Duration.FromSeconds(18 * 60) }] }));
        Assert.DoesNotContain("stands for", TextOf(HandMade.Report() with { Settings = [section] }));
    }

    private static string TextOf(ReportModel model) => PageReader.TextOf(PageReader.Page(model).Root!);
}
