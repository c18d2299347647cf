using System.Text;
using System.Text.Json;
using Stillwatch.App.Files;
using Stillwatch.App.Tests.Running;
using Stillwatch.App.Workbench.Evidence;
using Stillwatch.App.Workbench.Library;
using Stillwatch.App.Workbench.ReportList;
using Stillwatch.Storage.Settings;
using Stillwatch.Time;
using Stillwatch.Tuning.Proposals;
using Xunit;

namespace Stillwatch.App.Tests.Evidence;

/// <summary>A decision is written down with its evidence, gives its pages, and changes nothing else.</summary>
public class DecisionDeskTests
{
    private static readonly DateOnly Today = new(2026, 3, 10);

    [Fact]
    public async Task A_decision_for_the_unit_stands_in_its_history_with_evidence_report_and_card()
    {
        await using var library = await SmallLibrary.OfAsync(3);
        var group = (await library.EvidenceAsync()).Groups[0];
        var typed = Typed(group, patient: null) with { Until = Today.AddDays(90) };
        Assert.Empty(DecisionDesk.Missing(typed, Today));
        var kept = await Desk(library).KeepAsync(group, typed, TestContext.Current.CancellationToken);

        var last = await library.Store.Settings.LastAsync(SettingsScope.UnitDefault, "adult", SmallLibrary.Unit, null, TestContext.Current.CancellationToken);
        Assert.Equal(kept.Entry.Number, last!.Number);
        Assert.Equal(("ward lead", "fewer signals", Today.AddDays(90)), (last.Content.AcceptedBy, last.Content.Why, DateOnly.FromDateTime(last.Content.ValidUntil!.Value.Date)));
        var written = SettingsFile.OfText("a test", last.Content.SettingsJson).Sets[0].Settings;
        Assert.Equal(typed.Asked.Settings.SpO2Low, written.SpO2Low);
        Assert.Equal(group.Present!.Set.Settings.PulseRateLow, written.PulseRateLow); // what was not decided on stays
        using var evidence = JsonDocument.Parse(last.Content.EvidenceJson!);
        Assert.Equal(typed.Asked.Evidence!.MustCatchEvents, evidence.RootElement.GetProperty("decided").GetProperty("mustCatchEvents").GetInt32());
        Assert.Equal(6, evidence.RootElement.GetProperty("recordings").GetArrayLength());

        var reports = await library.Store.Reports.ListAsync(TestContext.Current.CancellationToken);
        Assert.Equal(["settings card", "decision", "decision"], reports.Select(r => r.Kind));
        string html = Encoding.UTF8.GetString((await library.Store.Reports.ContentAsync(kept.ReportAsHtml.Number, TestContext.Current.CancellationToken))!);
        Assert.Contains("ward lead", html, StringComparison.Ordinal);
        Assert.StartsWith("%PDF-", Encoding.ASCII.GetString((await library.Store.Reports.ContentAsync(kept.Card.Number, TestContext.Current.CancellationToken))!), StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_report_judges_the_settings_that_were_decided_on_one_page_and_not_those_the_search_looked_for()
    {
        await using var library = await SmallLibrary.OfAsync(3);
        var group = (await library.EvidenceAsync()).Groups[0];
        var asked = group.Desk.Ask(FarOut);
        Assert.NotEqual(group.Proposal.Best?.Settings, asked.Settings);
        Assert.True(asked.Evidence!.Missed > 0);
        Assert.Equal(0, group.Proposal.Best!.Missed);
        var kept = await Desk(library).KeepAsync(group, new DecisionAsTyped(asked, "Candidate A", null, "ward lead", null, "a test"), TestContext.Current.CancellationToken);
        string html = System.Net.WebUtility.HtmlDecode(Encoding.UTF8.GetString((await library.Store.Reports.ContentAsync(kept.ReportAsHtml.Number, TestContext.Current.CancellationToken))!)).Replace('\u00a0', ' ');
        Assert.Contains($"They miss {asked.Evidence.Missed} of {asked.Evidence.MustCatchEvents} must-catch events", html, StringComparison.Ordinal);
        Assert.Contains("They lie outside the bounds", html, StringComparison.Ordinal);
        Assert.Contains($"{asked.Evidence.Missed} missed of {asked.Evidence.MustCatchEvents} must-catch events, 0 allowed", html, StringComparison.Ordinal);
        Assert.Contains("not of those decided", html, StringComparison.Ordinal);
        using var pdf = PdfSharp.Pdf.IO.PdfReader.Open(new MemoryStream((await library.Store.Reports.ContentAsync(kept.Report.Number, TestContext.Current.CancellationToken))!), PdfSharp.Pdf.IO.PdfDocumentOpenMode.Import);
        Assert.Equal(1, pdf.PageCount);
    }

    [Fact]
    public async Task The_card_is_compared_with_the_default_of_before_and_says_its_end_and_what_the_evidence_had_against_it()
    {
        await using var library = await SmallLibrary.OfAsync(3);
        var group = (await library.EvidenceAsync()).Groups[0];
        var asked = group.Desk.Ask(FarOut);
        var typed = new DecisionAsTyped(asked, "Candidate A", null, "ward lead", Today.AddDays(90), "a test");
        var before = new StandardAtHand(group.UnitDefault);
        var kept = await Desk(library).KeepAsync(group, typed, TestContext.Current.CancellationToken);
        var card = Desk(library).Card(group with { Standard = before }, typed, DecisionDesk.Whole(group, asked.Settings), kept.Entry);
        Assert.Equal(("78 %", "90 %"), card.Lines.Where(l => l.Label == "SpO2 low limit").Select(l => (l.Value, l.UnitDefault!)).Single());
        Assert.Equal("2026-06-08", card.DeviationEnds);
        Assert.True(card.IsInvented);
        Assert.Contains("outside the bounds", card.Against);
        Assert.Contains($"{asked.Evidence!.Missed} of {asked.Evidence.MustCatchEvents} must-catch events missed", card.Against);
        Assert.Equal((false, true), (before.Now.IsWrittenDown, group.UnitDefault.IsWrittenDown)); // the page has the new default at once
        Assert.All((await library.EvidenceAsync()).Groups, g => Assert.Equal(group.UnitDefault, g.UnitDefault));
        var invented = await library.Finder.DefaultAsync(group.Group.Category, SmallLibrary.Unit, true, TestContext.Current.CancellationToken);
        Assert.Contains("; decided on invented data; against the evidence: ", invented.From, StringComparison.Ordinal);
        Assert.False((await library.Finder.DefaultAsync(group.Group.Category, SmallLibrary.Unit, false, TestContext.Current.CancellationToken)).IsWrittenDown);
    }

    [Fact]
    public async Task A_decision_for_patients_whom_nobody_called_adults_says_so_on_card_and_report_and_wherever_it_is_used()
    {
        await using var library = await SmallLibrary.OfAsync(3, (said, _) => said with { Category = null });
        var group = (await library.EvidenceAsync()).Groups[0];
        var kept = await Desk(library).KeepAsync(group, Typed(group, null), TestContext.Current.CancellationToken);
        string html = Encoding.UTF8.GetString((await library.Store.Reports.ContentAsync(kept.ReportAsHtml.Number, TestContext.Current.CancellationToken))!);
        Assert.Contains("an adult was assumed", html, StringComparison.OrdinalIgnoreCase);
        Assert.Contains("the category was assumed, nobody named it", DecisionGrounds.Of(kept.Entry).Against);
        var used = await library.Finder.DefaultAsync(group.Group.Category, SmallLibrary.Unit, true, TestContext.Current.CancellationToken);
        Assert.Contains("the category was assumed, nobody named it", used.From, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_decision_for_one_patient_leaves_the_units_default_alone()
    {
        await using var library = await SmallLibrary.OfAsync(2);
        var group = (await library.EvidenceAsync()).Groups[0];
        await Desk(library).KeepAsync(group, Typed(group, "patient-01"), TestContext.Current.CancellationToken);
        Assert.Null(await library.Store.Settings.LastAsync(SettingsScope.UnitDefault, "adult", SmallLibrary.Unit, null, TestContext.Current.CancellationToken));
        Assert.NotNull(await library.Store.Settings.LastAsync(SettingsScope.Patient, "adult", SmallLibrary.Unit, "patient-01", TestContext.Current.CancellationToken));
        Assert.False((await library.Finder.DefaultAsync(group.Group.Category, SmallLibrary.Unit, TestContext.Current.CancellationToken)).IsWrittenDown);
    }

    [Fact]
    public async Task What_is_missing_is_said_and_nothing_is_guessed()
    {
        await using var library = await SmallLibrary.OfAsync(1);
        var group = (await library.EvidenceAsync()).Groups[0];
        var cannotBe = group.Desk.Ask(new CandidateDraft { Limit = 79, HasBackstop = true, BackstopLimit = 80 }.ToSettings());
        var missing = DecisionDesk.Missing(new DecisionAsTyped(cannotBe, "Candidate A", " ", "", Today.AddDays(-1), ""), Today);
        Assert.Equal(5, missing.Count);
        Assert.StartsWith("These settings cannot be: Backstop", missing[0]);
        Assert.Contains("It would have ended before it began: until 2026-03-09, and today is 2026-03-10.", missing);
    }

    /// <summary>Far outside the bounds: it hardly ever signals.</summary>
    private static CandidateSettings FarOut => new CandidateDraft { Limit = 78, DelaySeconds = 60, HasBackstop = true, BackstopLimit = 74 }.ToSettings();

    private static DecisionDesk Desk(SmallLibrary library) => new(library.Store, new ReportKeeper(library.Store, library.Clock), library.Finder, library.Clock);

    private static DecisionAsTyped Typed(GroupAtHand group, string? patient) =>
        new(group.Desk.Ask(group.Present!.Low! with { Averaging = Duration.FromSeconds(8) }), "Candidate A", patient, "ward lead", null, "fewer signals");
}
