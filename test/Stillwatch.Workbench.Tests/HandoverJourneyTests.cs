using Microsoft.Playwright;
using Stillwatch.Workbench.Tests.Browsing;

namespace Stillwatch.Workbench.Tests;

/// <summary>At the end of a shift: from the ward's load to the patient who causes it, to a page to hand over, and back to the recording.</summary>
public sealed class HandoverJourneyTests(DemoWorkbench demo)
{
    [Fact]
    public async Task From_the_wards_load_to_a_patients_own_page_and_to_the_recording()
    {
        await using var workbench = await demo.CopyAsync();
        var page = await demo.OpenAsync(workbench, "/load", Screen.Desk);
        await Assertions.Expect(page.GetByRole(AriaRole.Heading, new() { Name = "Who causes it" })).ToBeVisibleAsync(new() { Timeout = 60_000 });
        await page.GetByText("By patient, as a table").ClickAsync();
        var first = page.GetByRole(AriaRole.Region, new() { Name = "Load by patient" }).Locator("tbody th a").First;
        string patient = await first.InnerTextAsync();
        await first.ClickAsync();

        await Assertions.Expect(page.GetByRole(AriaRole.Heading, new() { Name = "Shift summary", Level = 1 })).ToBeVisibleAsync();
        await Assertions.Expect(page.Locator("section.sheet")).ToHaveCountAsync(1, new() { Timeout = 60_000 });
        await Assertions.Expect(page.Locator("section.sheet h2")).ToContainTextAsync(patient);
        string words = await KeptAsync(page);
        Assert.Contains($"{patient}: ", words, StringComparison.Ordinal);
        Assert.Contains("Happened besides", words, StringComparison.Ordinal); // the patient's own page, with sentences

        await page.GetByRole(AriaRole.Link, new() { Name = $"Look at the recording of {patient}" }).ClickAsync();
        await Assertions.Expect(page.GetByText("What happened in this recording?")).ToBeVisibleAsync();
        await Assertions.Expect(page.GetByRole(AriaRole.Heading, new() { Level = 1 })).ToContainTextAsync(patient);
    }

    [Fact]
    public async Task The_summary_of_the_whole_ward_is_one_page_with_a_line_for_each_patient()
    {
        await using var workbench = await demo.CopyAsync();
        var page = await demo.OpenAsync(workbench, "/summary", Screen.Tablet);
        await Assertions.Expect(page.Locator("section.sheet").First).ToBeVisibleAsync(new() { Timeout = 60_000 });
        string[] patients = await page.Locator("section.sheet h2 a").EvaluateAllAsync<string[]>("all => all.map(a => a.getAttribute('aria-label').replace('Look at the recording of ', ''))");
        Assert.True(patients.Length >= 10);
        string words = await KeptAsync(page);
        Assert.All(patients, p => Assert.Contains($"{p}: ", words, StringComparison.Ordinal));
        Assert.DoesNotContain("Page 1 of", words, StringComparison.Ordinal); // pages are numbered where there are several
    }

    private static async Task<string> KeptAsync(IPage page)
    {
        await page.GetByRole(AriaRole.Button, new() { Name = "Make the summary as PDF" }).ClickAsync();
        var link = page.GetByRole(AriaRole.Link, new() { Name = "Open the PDF" });
        await Assertions.Expect(link).ToBeVisibleAsync(new() { Timeout = 60_000 });
        return await PaperPages.WordsAsync(page, (await link.GetAttributeAsync("href"))!);
    }
}
