using Microsoft.Playwright;

namespace Stillwatch.Workbench.Tests.Browsing;

/// <summary>How files are brought in on the page of recordings.</summary>
internal static class Arriving
{
    /// <summary>Chooses files as through the system's own window, wherever the page stands.</summary>
    public static async Task ChooseAsync(IPage page, params string[] paths)
    {
        await Assertions.Expect(page.GetByRole(AriaRole.Heading, new() { Name = "Recordings", Level = 1 })).ToBeVisibleAsync();
        await page.Locator(".file-input").WaitForAsync(new() { State = WaitForSelectorState.Attached });
        var bring = page.GetByRole(AriaRole.Button, new() { Name = "Bring recordings in" });
        if (await bring.IsVisibleAsync()) await bring.ClickAsync();
        await page.Locator(".file-input").SetInputFilesAsync(paths);
    }
}
