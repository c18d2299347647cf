using Microsoft.Playwright;

namespace Stillwatch.Workbench.Tests.Browsing;

/// <summary>A workbench that holds the invented demo ward, taken in once through the page as a person would, for all tests that only look.</summary>
public sealed class DemoWorkbench : IAsyncLifetime
{
    private readonly Browser browser = new();
    private RunningWorkbench? running;

    internal RunningWorkbench Running => running!;

    public async ValueTask InitializeAsync()
    {
        await browser.InitializeAsync();
        running = await RunningWorkbench.StartAsync();
        if (!browser.IsThere) return; // each test then says so
        var page = await browser.NewPageAsync(Screen.Desk);
        await page.GotoAsync(running.Address);
        await TakeDemoInAsync(page);
        await page.Context.CloseAsync();
    }

    /// <summary>The way of a newcomer: one click.</summary>
    public static async Task TakeDemoInAsync(IPage page)
    {
        await page.GetByRole(AriaRole.Button, new() { Name = "Take in the invented demo ward" }).ClickAsync();
        await Assertions.Expect(page.GetByText("24 recordings were stored.")).ToBeVisibleAsync(new() { Timeout = 180_000 });
    }

    /// <summary>A fresh person's page of this workbench, at a path, with the frame alive.</summary>
    internal async Task<IPage> OpenAsync(string path, Screen screen, bool isDark = false)
    {
        var page = await browser.NewPageAsync(screen, isDark);
        await page.GotoAsync(Running.Address + path);
        return page;
    }

    public async ValueTask DisposeAsync()
    {
        if (running is not null) await running.DisposeAsync();
        await browser.DisposeAsync();
    }
}
