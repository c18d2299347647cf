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
        var saved = await page.RunAndWaitForDownloadAsync(() => page.GetByRole(AriaRole.Link, new() { Name = "Save these settings as a file" }).ClickAsync());
        Assert.Equal("stillwatch-adult-settings.json", saved.SuggestedFilename);
        await DecideAsync(page, StandingClock.InDays(30));
        string[] links = await page.Locator(".note a.button").EvaluateAllAsync<string[]>("all => all.map(a => a.getAttribute('href'))");
        Assert.Equal(3, links.Length);
        string card = await PaperPages.WordsAsync(page, links[0]), report = await PaperPages.WordsAsync(page, links[1]);
        string until = StandingClock.InDays(30);
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
        Assert.Equal(1, await PaperPages.PrintedAsync(page, links[2])); // the web page gives one sheet of paper too

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

        await GoAsync(page, "Shift summary");
        await Assertions.Expect(page.GetByText(Why).First).ToBeVisibleAsync(new() { Timeout = 60_000 });
        var entry = Assert.Single(await workbench.Store.Settings.HistoryAsync(TestContext.Current.CancellationToken));
        Assert.Equal(WithoutName(entry.Content.SettingsJson), WithoutName(await File.ReadAllTextAsync(await saved.PathAsync(), TestContext.Current.CancellationToken))); // the file is what was decided
        Assert.Equal((SettingsScope.UnitDefault, unit, "Sister A.", Why), (entry.Content.Scope, entry.Content.Unit ?? "", entry.Content.AcceptedBy, entry.Content.Why));
    }

    [Fact]
    public async Task A_control_that_is_moved_takes_the_numbers_and_the_changed_events_along()
    {
        var page = await demo.OpenAsync("/evidence", Screen.Desk);
        var live = page.Locator(".live .big").First;
        await Assertions.Expect(live).ToBeVisibleAsync(new() { Timeout = 60_000 });
        var limit = page.GetByLabel("Low limit, %, as a number");

        await TypeAsync(page.GetByLabel("Area threshold, %·s (0: none), as a number"), 0);
        await TypeAsync(limit, 95);
        await Assertions.Expect(Cell(page, "SpO2 low limit")).ToHaveTextAsync("95 %");
        double many = await SignalsAsync(page);
        await TypeAsync(limit, 84);
        await Assertions.Expect(Cell(page, "SpO2 low limit")).ToHaveTextAsync("84 %");
        double few = await SignalsAsync(page);
        Assert.True(few < many, $"below 84 %: {few} signals a patient-day, below 95 %: {many}; a lower limit gives fewer");

        // The slider: a minute is longer than most of what must be caught lasts, and what is no longer caught is said first.
        var delay = page.GetByLabel("Delay, s", new() { Exact = true });
        await delay.FillAsync("60");
        await Assertions.Expect(page.GetByLabel("Delay, s, as a number", new() { Exact = true })).ToHaveValueAsync("60");
        await Assertions.Expect(Cell(page, "Delay")).ToHaveTextAsync("60 s");
        Assert.True(await SignalsAsync(page) < few);
        var changes = page.GetByRole(AriaRole.Region, new() { Name = "Must-catch events that change" });
        await Assertions.Expect(changes.Locator("tbody tr").First.Locator("td.worse")).ToBeVisibleAsync();

        // Without the backstop nothing catches what the limit does not.
        await page.GetByLabel("Backstop on").UncheckAsync();
        await Assertions.Expect(Cell(page, "Backstop, its delay")).ToHaveTextAsync("off");
        string missed = (await Cell(page, "Missed, of all").InnerTextAsync()).Split(' ')[0];
        await Assertions.Expect(page.Locator(".live")).ToContainTextAsync($"{missed} missed");
        Assert.NotEqual("0", missed);

        // The map is drawn without a backstop and with this candidate's clear margin, so its cell now says the candidate's own number.
        await page.GetByRole(AriaRole.Button, new() { Name = "limit and delay" }).ClickAsync();
        await TypeAsync(page.GetByLabel("Clear margin, points above the limit, as a number"), 2);
        await Assertions.Expect(page.Locator("#map-here")).ToContainTextAsync("with a clear margin of 2 points");
        await Assertions.Expect(Cell(page, "Clear margin")).ToHaveTextAsync("2 points");
        await Assertions.Expect(page.Locator("#map-here")).ToContainTextAsync($"more than 60 s: {(await SignalsAsync(page)).ToString("0.0", CultureInfo.InvariantCulture)} signals a patient-day");
        await TypeAsync(page.GetByLabel("Clear margin, points above the limit, as a number"), 0);

        // The event opens beside this page, and what was tried out is still here after a reload.
        var opened = await page.Context.RunAndWaitForPageAsync(() => changes.Locator("tbody a").First.ClickAsync());
        await Assertions.Expect(opened.GetByText("What happened in this recording?")).ToBeVisibleAsync(new() { Timeout = 60_000 });
        await opened.CloseAsync();
        await TypeAsync(limit, 900);
        await Assertions.Expect(page.GetByText("Found 900, expected 50 to 100: 84 stays.")).ToBeVisibleAsync();
        await Assertions.Expect(limit).ToHaveValueAsync("84");
        await page.WaitForURLAsync(new Regex("[?&]A=84_60_"));
        await page.ReloadAsync();
        await Assertions.Expect(Cell(page, "Delay")).ToHaveTextAsync("60 s", new() { Timeout = 60_000 });
        await Assertions.Expect(Cell(page, "SpO2 low limit")).ToHaveTextAsync("84 %");
    }

    [Fact]
    public async Task From_real_files_to_a_refusal_in_full_view_and_a_report()
    {
        await using var workbench = await RunningWorkbench.StartAsync();
        var page = await demo.OpenAsync(workbench, "/", Screen.Desk);
        await Arriving.ChooseAsync(page, [.. Enumerable.Range(100001, 4).Select(n => OpenRecordings.Path($"controlled-desaturation/numerics/{n}.csv"))]);
        await Assertions.Expect(page.GetByText("4 need a word from you.")).ToBeVisibleAsync(new() { Timeout = 60_000 });
        foreach (var box in await page.GetByLabel("I have looked: it is read as it should be").AllAsync()) await box.CheckAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Store 4 recordings" }).ClickAsync();
        await Assertions.Expect(page.GetByText("4 recordings were stored.")).ToBeVisibleAsync(new() { Timeout = 60_000 });

        await page.GetByRole(AriaRole.Link, new() { NameRegex = new Regex("100001") }).First.ClickAsync();
        await Assertions.Expect(page.Locator(".strip-exact svg")).ToBeVisibleAsync(new() { Timeout = 60_000 });
        var name = page.GetByLabel("You are (name or initials)");
        await name.FillAsync("EF");
        await name.BlurAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Next event" }).ClickAsync();
        await Assertions.Expect(page.Locator("tr.chosen")).ToBeVisibleAsync();
        await page.Keyboard.PressAsync("1");
        await Assertions.Expect(page.Locator("tr.chosen")).ToContainTextAsync("significant");

        await GoAsync(page, "Settings evidence");
        await Assertions.Expect(page.GetByText("Refused for")).ToBeVisibleAsync(new() { Timeout = 60_000 });
        await TenPointsAreInViewAsync(page);
        await Assertions.Expect(page.Locator("td.state.refuses").First).ToBeVisibleAsync();
        await Assertions.Expect(page.GetByText("No category was given, so an adult was assumed").First).ToBeVisibleAsync();
        Assert.Equal(1, await page.GetByLabel("For whom").Locator("option").CountAsync()); // no file's name is a patient

        await GoAsync(page, "Reports");
        await page.GetByLabel("A report of one recording").SelectOptionAsync(new SelectOptionValue { Label = "no pseudonym: 100001.csv" });
        await page.GetByRole(AriaRole.Button, new() { Name = "Make the one page (PDF)" }).ClickAsync();
        var link = page.Locator("tr.chosen a").First;
        await Assertions.Expect(link).ToBeVisibleAsync(new() { Timeout = 60_000 });
        string words = await PaperPages.WordsAsync(page, (await link.GetAttributeAsync("href"))!);
        Assert.Contains("100001", words, StringComparison.Ordinal);
        Assert.Contains("EF", words, StringComparison.Ordinal);
        Assert.DoesNotContain("Invented", words, StringComparison.Ordinal);
        await page.GetByRole(AriaRole.Button, new() { Name = "The same (HTML)" }).ClickAsync();
        await Assertions.Expect(page.GetByText("2 reports kept")).ToBeVisibleAsync(new() { Timeout = 60_000 });
        Assert.Equal(1, await PaperPages.PrintedAsync(page, (await link.GetAttributeAsync("href"))!));
        await page.GetByRole(AriaRole.Button, new() { Name = "Its picture (PNG)" }).ClickAsync();
        await Assertions.Expect(page.GetByText("3 reports kept")).ToBeVisibleAsync(new() { Timeout = 60_000 });
        var picture = await page.APIRequest.GetAsync(new Uri(new Uri(page.Url), "/" + await link.GetAttributeAsync("href")).ToString());
        Assert.Equal(("image/png", "89504E47"), (picture.Headers["content-type"], Convert.ToHexString((await picture.BodyAsync())[..4])));
    }

    private static string WithoutName(string settingsJson)
    {
        var settings = System.Text.Json.Nodes.JsonNode.Parse(settingsJson)!.AsObject();
        settings["settings"]![0]!.AsObject().Remove("name");
        return settings.ToJsonString();
    }

    /// <summary>Nothing is written down until it is said who, and why; then it is.</summary>
    private static async Task DecideAsync(IPage page, string until)
    {
        var write = page.GetByRole(AriaRole.Button, new() { Name = "Write the decision down" });
        await write.ClickAsync();
        await Assertions.Expect(page.GetByText("Who accepts it is not named.")).ToBeVisibleAsync();
        await Assertions.Expect(page.GetByText("Why is not said.")).ToBeVisibleAsync();
        await page.GetByLabel("Accepted by").FillAsync("Sister A.");
        await page.GetByLabel("Holds until").FillAsync(until);
        await page.GetByLabel("Why", new() { Exact = true }).FillAsync(Why);
        await write.ClickAsync();
        await Assertions.Expect(page.GetByText("Written down as entry")).ToBeVisibleAsync(new() { Timeout = 60_000 });
    }

    private static async Task TenPointsAreInViewAsync(IPage page)
    {
        var rows = page.GetByRole(AriaRole.Region, new() { Name = "The ten points of the proposal" }).Locator("tbody tr");
        string[] numbers = [.. (await rows.Locator("th").AllInnerTextsAsync()).Distinct()];
        Assert.Equal(Enumerable.Range(1, 10).Select(n => n.ToString(CultureInfo.InvariantCulture)), numbers);
        Assert.All(await rows.Locator("td.state").AllInnerTextsAsync(), state => Assert.Contains(state, new[] { "nothing against it", "limits it", "refuses", "not reached" }));
    }

    private static async Task GoAsync(IPage page, string name)
    {
        await page.Locator("header.frame").GetByRole(AriaRole.Link, new() { Name = name, Exact = true }).ClickAsync();
        await Assertions.Expect(page.GetByRole(AriaRole.Heading, new() { Name = name, Level = 1 })).ToBeVisibleAsync();
    }

    private static async Task TypeAsync(ILocator field, int value)
    {
        await field.FillAsync($"{value}");
        await field.BlurAsync();
    }

    /// <summary>What the side-by-side table says of the candidate that is being moved.</summary>
    private static ILocator Cell(IPage page, string line) =>
        page.Locator("table.side tr").Filter(new() { Has = page.GetByRole(AriaRole.Rowheader, new() { Name = line, Exact = true }) }).Locator("td.active");

    /// <summary>The number beside the controls, which the table has to say too.</summary>
    private static async Task<double> SignalsAsync(IPage page)
    {
        string words = await page.Locator(".live .big").First.InnerTextAsync(), number = Number().Match(words).Value;
        Assert.StartsWith(number, await Cell(page, "Signals of SpO2 low a patient-day").InnerTextAsync(), StringComparison.Ordinal);
        return double.Parse(number, CultureInfo.InvariantCulture);
    }

    [GeneratedRegex(@"^[\d.]+")]
    private static partial Regex Number();
}
