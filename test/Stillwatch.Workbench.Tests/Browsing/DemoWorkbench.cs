using Microsoft.Playwright;
using Stillwatch.Workbench.Tests.Browsing;

[assembly: AssemblyFixture(typeof(DemoWorkbench))]

namespace Stillwatch.Workbench.Tests.Browsing;

/// <summary>
/// The invented demo ward, taken in once through the page as a person would. Tests that only look share one workbench; one that writes
/// gets a copy of its own.
/// </summary>
public sealed class DemoWorkbench : IAsyncLifetime
{
    private readonly string taken = Directory.CreateTempSubdirectory("stillwatch-demo-ward-").FullName;
    private RunningWorkbench? running;

    public Browser Browser { get; } = new();

    /// <summary>For looking alone.</summary>
    internal RunningWorkbench Running => running!;

    public async ValueTask InitializeAsync()
    {
        await Browser.InitializeAsync();
        await using (var first = await RunningWorkbench.StartAsync())
        {
            if (Browser.IsThere)
            {
                var page = await Browser.NewPageAsync(Screen.Desk);
                await page.GotoAsync(first.Address);
                await TakeDemoInAsync(page);
                await page.Context.CloseAsync();
            }

            await first.StopAsync();
            CopyFolder(first.Folder, taken);
        }

        running = await CopyAsync();
    }

    /// <summary>A workbench of the caller's own with the same library.</summary>
    internal async Task<RunningWorkbench> CopyAsync()
    {
        string folder = RunningWorkbench.NewFolder();
        CopyFolder(taken, folder);
        return await RunningWorkbench.StartAsync(folder);
    }

    /// <summary>The way of a newcomer: one click.</summary>
    private static async Task TakeDemoInAsync(IPage page)
    {
        await page.GetByRole(AriaRole.Button, new() { Name = "Take in the invented demo ward" }).ClickAsync();
        await Assertions.Expect(page.GetByText("24 recordings were stored.")).ToBeVisibleAsync(new() { Timeout = 180_000 });
    }

    /// <summary>A fresh person's page of the shared workbench, at a path, with the frame alive.</summary>
    internal Task<IPage> OpenAsync(string path, Screen screen, bool isDark = false) => OpenAsync(Running, path, screen, isDark);

    /// <summary>The same of another workbench.</summary>
    internal async Task<IPage> OpenAsync(RunningWorkbench workbench, string path, Screen screen, bool isDark = false)
    {
        var page = await Browser.NewPageAsync(screen, isDark);
        await page.GotoAsync(workbench.Address + path);
        return page;
    }

    public async ValueTask DisposeAsync()
    {
        if (running is not null) await running.DisposeAsync();
        await Browser.DisposeAsync();
        Directory.Delete(taken, recursive: true);
    }

    private static void CopyFolder(string from, string to)
    {
        foreach (string file in Directory.EnumerateFiles(from)) File.Copy(file, Path.Combine(to, Path.GetFileName(file)));
    }
}
