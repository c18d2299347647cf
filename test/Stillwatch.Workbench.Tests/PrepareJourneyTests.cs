using System.Globalization;
using Microsoft.Playwright;
using Stillwatch.Storage.Settings;
using Stillwatch.Workbench.Tests.Browsing;

namespace Stillwatch.Workbench.Tests;

/// <summary>Before monitoring begins: from what is known of a patient to numbers with reasons, and a card on paper.</summary>
public sealed class PrepareJourneyTests(DemoWorkbench demo)
{
    [Fact]
    public async Task From_category_and_prescription_to_numbers_with_reasons_and_a_card()
    {
        await using var workbench = await RunningWorkbench.StartAsync();
        var page = await demo.OpenAsync(workbench, "/prepare", Screen.Desk);
        await page.GetByLabel("Category").SelectOptionAsync("adult at risk of hypercapnic failure");
        await page.GetByLabel("Breathing").SelectOptionAsync("added oxygen");
        await TypeAsync(page, "Prescribed range from, %", "90");
        await Assertions.Expect(page.GetByText("give both ends, or neither")).ToBeVisibleAsync();
        await TypeAsync(page, "to, %", "94");
        await Assertions.Expect(Row(page, "SpO2 low limit")).ToContainTextAsync("below the prescribed 90");
        await Assertions.Expect(Row(page, "SpO2 high limit")).ToContainTextAsync("above the prescribed 90");
        string[] reasons = [.. (await page.Locator("table.sourced tbody td:last-child").AllInnerTextsAsync())];
        Assert.All(reasons, reason => Assert.NotEqual("", reason.Trim()));
        string low = (await Row(page, "SpO2 low limit").Locator("td").First.InnerTextAsync()).Trim();
        await Accessible.CheckAsync(page);

        await page.GetByRole(AriaRole.Button, new() { Name = "Write it down" }).ClickAsync();
        await Assertions.Expect(page.GetByText("Which patient is not named.")).ToBeVisibleAsync();
        string until = StandingClock.InDays(2);
        await TypeAsync(page, "Patient (a pseudonym)", "bed-7");
        await TypeAsync(page, "Accepted by", "Dr Q.");
        await TypeAsync(page, "Deviation ends", until);
        await TypeAsync(page, "Why", "Prescribed on the round");
        await page.GetByRole(AriaRole.Button, new() { Name = "Write it down" }).ClickAsync();
        var card = page.GetByRole(AriaRole.Link, new() { Name = "Print the settings card (PDF)" });
        await Assertions.Expect(card).ToBeVisibleAsync();

        await Assertions.Expect(card).ToBeInViewportAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Write it down" }).ClickAsync();
        await Assertions.Expect(page.GetByText("This is written down already")).ToBeVisibleAsync();

        string words = await PaperPages.WordsAsync(page, (await card.GetAttributeAsync("href"))!);
        Assert.All(new[] { "bed-7", "Dr Q.", until, low, "prescribed 90", "Nothing was set on any monitor" }, word => Assert.Contains(word, words, StringComparison.Ordinal));
        var entry = Assert.Single(await workbench.Store.Settings.HistoryAsync(TestContext.Current.CancellationToken));
        Assert.Equal((SettingsScope.Patient, "bed-7", "Prescribed on the round"), (entry.Content.Scope, entry.Content.Patient, entry.Content.Why));
    }

    [Fact]
    public async Task The_answer_tells_of_an_area_threshold_and_of_what_is_off_and_a_card_goes_when_a_number_is_changed()
    {
        await using var workbench = await RunningWorkbench.StartAsync();
        var page = await demo.OpenAsync(workbench, "/prepare", Screen.Desk);
        await page.GetByRole(AriaRole.Button, new() { Name = "Make a card, not yet decided" }).ClickAsync();
        var card = page.GetByRole(AriaRole.Link, new() { Name = "Print the settings card (PDF)" });
        await Assertions.Expect(card).ToBeVisibleAsync();
        await page.GetByText("Change a number").ClickAsync();
        await page.Locator("#p-set-area").FillAsync("60");
        await page.Locator("#p-set-area").BlurAsync();
        await Assertions.Expect(page.Locator(".answer")).ToContainTextAsync("once its area passes 60 %·s");
        await Assertions.Expect(card).ToHaveCountAsync(0);
        await page.Locator("#p-set-backstop").FillAsync("");
        await page.Locator("#p-set-backstop").BlurAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Make a card, not yet decided" }).ClickAsync(); // its delay stands there still
        await Assertions.Expect(page.GetByText("Nothing was written:")).ToBeVisibleAsync();
        await Assertions.Expect(card).ToHaveCountAsync(0);
        await page.Locator("#p-set-backstop-delay").FillAsync("");
        await page.Locator("#p-set-backstop-delay").BlurAsync();
        await Assertions.Expect(page.Locator(".answer")).ToContainTextAsync("without a backstop");
    }

    [Fact]
    public async Task A_child_has_no_numbers_until_its_age_is_known()
    {
        var page = await demo.OpenAsync("/prepare", Screen.Tablet);
        await page.GetByLabel("Category").SelectOptionAsync("child, by age");
        await Assertions.Expect(page.GetByText("A child's limits go by age: give it.")).ToBeVisibleAsync();
        await Assertions.Expect(page.Locator("table.sourced")).ToHaveCountAsync(0);
        await TypeAsync(page, "Age", "4");
        var fastest = Row(page, "Pulse rate high limit").Locator("td").First;
        await Assertions.Expect(fastest).ToHaveTextAsync("131 /min");
        await page.GetByLabel("in", new() { Exact = true }).SelectOptionAsync("months");
        await Assertions.Expect(fastest).Not.ToHaveTextAsync("131 /min"); // four months are not four years
    }

    private static ILocator Row(IPage page, string name) => page.Locator("table.sourced tbody tr").Filter(new() { Has = page.GetByRole(AriaRole.Rowheader, new() { Name = name, Exact = true }) });

    private static async Task TypeAsync(IPage page, string label, string text)
    {
        var field = page.GetByLabel(label, new() { Exact = true });
        await field.FillAsync(text);
        await field.BlurAsync();
    }
}
