using Microsoft.Playwright;
using Stillwatch.Storage.Recordings;
using Stillwatch.Workbench.Tests.Browsing;

namespace Stillwatch.Workbench.Tests;

/// <summary>The program is ended and started again on the same folder: what a person did before is there.</summary>
public sealed class RestartTests(DemoWorkbench demo)
{
    [Fact]
    public async Task Recordings_marks_and_decisions_are_there_again()
    {
        await using var workbench = await demo.CopyAsync();
        var night = Assert.Single(await workbench.Store.Recordings.FindAsync(new RecordingFilter("patient-07-night-2.csv"), TestContext.Current.CancellationToken));
        var page = await demo.OpenAsync(workbench, $"/recordings/{night.Id}", Screen.Desk);
        await Assertions.Expect(page.Locator(".strip-exact svg")).ToBeVisibleAsync(new() { Timeout = 60_000 });
        await SayWhoAsync(page);
        await page.GetByRole(AriaRole.Button, new() { Name = "Next event" }).ClickAsync();
        await page.Keyboard.PressAsync("3");
        await Assertions.Expect(page.Locator("tr.chosen")).ToContainTextAsync("artefact");
        string marked = await page.Locator("tr.chosen").InnerTextAsync();

        await page.GotoAsync(workbench.Address + "/prepare");
        await page.GetByLabel("Patient (a pseudonym)").FillAsync("bed-3");
        await page.GetByLabel("Accepted by").FillAsync("Sister B.");
        await page.GetByLabel("Why", new() { Exact = true }).FillAsync("As usual on this ward");
        await page.GetByLabel("Deviation ends").FillAsync(StandingClock.InDays(1));
        await page.GetByRole(AriaRole.Button, new() { Name = "Write it down" }).ClickAsync();
        await Assertions.Expect(page.GetByText("Written down as entry")).ToBeVisibleAsync();
        await page.Context.CloseAsync();

        await workbench.RestartAsync();
        page = await demo.OpenAsync(workbench, "/", Screen.Desk);
        await Assertions.Expect(page.GetByText("24 recordings").First).ToBeVisibleAsync();
        await page.GotoAsync($"{workbench.Address}/recordings/{night.Id}");
        await Assertions.Expect(page.Locator(".strip-exact svg")).ToBeVisibleAsync(new() { Timeout = 60_000 });
        await SayWhoAsync(page);
        await page.GetByRole(AriaRole.Button, new() { Name = "Next event" }).ClickAsync();
        await Assertions.Expect(page.Locator("tr.chosen")).ToContainTextAsync("artefact");
        Assert.Equal(marked, await page.Locator("tr.chosen").InnerTextAsync());
        await page.GotoAsync(workbench.Address + "/reports");
        await Assertions.Expect(page.GetByText("1 report kept")).ToBeVisibleAsync();
        var entry = Assert.Single(await workbench.Store.Settings.HistoryAsync(TestContext.Current.CancellationToken));
        Assert.Equal(("bed-3", "Sister B."), (entry.Content.Patient, entry.Content.AcceptedBy));
        Assert.True((await workbench.Store.Audit.VerifyAsync(TestContext.Current.CancellationToken)).IsWhole);
    }

    private static async Task SayWhoAsync(IPage page)
    {
        var name = page.GetByLabel("You are (name or initials)");
        await name.FillAsync("GH");
        await name.BlurAsync();
    }
}
