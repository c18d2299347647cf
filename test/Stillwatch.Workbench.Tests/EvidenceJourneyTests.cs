using System.Globalization;
using System.Text.RegularExpressions;
using Microsoft.Playwright;
using Stillwatch.Storage.Recordings;
using Stillwatch.Storage.Settings;
using Stillwatch.Workbench.Tests.Browsing;

namespace Stillwatch.Workbench.Tests;

/// <summary>A newcomer goes the whole way: from recordings to settings that somebody accepted, on paper, with who did what.</summary>
public sealed partial class EvidenceJourneyTests(DemoWorkbench demo)
{
    private const string Why = "Long dips are kept, short ones recover alone";

    [Fact]
    public async Task From_the_demo_ward_to_a_decision_on_paper_that_the_audit_tells_of()
    {
        await using var workbench = await demo.CopyAsync();
        var page = await demo.OpenAsync(workbench, "/", Screen.Desk);
        await GoAsync(page, "Settings evidence");
        await Assertions.Expect(page.GetByRole(AriaRole.Heading, new() { Name = "Side by side" })).ToBeVisibleAsync(new() { Timeout = 60_000 });
        await TenPointsAreInViewAsync(page);

        string unit = Assert.Single((await workbench.Store.Recordings.FindAsync(new RecordingFilter(), TestContext.Current.CancellationToken)).Select(r => r.Description.Unit).Distinct()) ?? "";
        await DecideAsync(page, DateTime.Today.AddDays(30));
        string[] links = await page.Locator(".note a.button").EvaluateAllAsync<string[]>("all => all.map(a => a.getAttribute('href'))");
        Assert.Equal(3, links.Length);
        string card = await PaperPages.WordsAsync(page, links[0]), report = await PaperPages.WordsAsync(page, links[1]);
        string until = DateTime.Today.AddDays(30).ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);
        Assert.All([card, report], words =>
        {
            Assert.Contains("Sister A.", words, StringComparison.Ordinal);
            Assert.Contains(Why, words, StringComparison.Ordinal);
            Assert.Contains(until, words, StringComparison.Ordinal);
            Assert.Contains("Invented", words, StringComparison.OrdinalIgnoreCase);
            Assert.Contains("licensed clinicians", words, StringComparison.Ordinal);
        });
        Assert.Contains("must-catch", report, StringComparison.OrdinalIgnoreCase);
        Assert.Contains("SHA-256", report, StringComparison.Ordinal);

        await GoAsync(page, "Reports");
        await Assertions.Expect(page.GetByText("3 reports kept")).ToBeVisibleAsync();
        foreach (string link in links) await Assertions.Expect(page.Locator($"table a[href='{link}']")).ToBeVisibleAsync();
        await Accessible.CheckAsync(page);

        await GoAsync(page, "Audit");
        await page.GetByRole(AriaRole.Button, new() { Name = "Verify every line" }).ClickAsync();
        await Assertions.Expect(page.GetByText("each fits the one before")).ToContainTextAsync("Whole:");
        var latest = await workbench.Store.Audit.LatestAsync(4, TestContext.Current.CancellationToken);
        foreach (var line in latest)
            await Assertions.Expect(page.Locator("tbody tr").Filter(new() { Has = page.GetByRole(AriaRole.Cell, new() { Name = $"{line.Number}", Exact = true }) })).ToContainTextAsync([line.Action]);
        Assert.All(latest, line => Assert.Equal(Stillwatch.Storage.Actor.Local, line.By));
