using Microsoft.Playwright;

namespace Stillwatch.Workbench.Tests.Browsing;

/// <summary>One real browser for all tests of the project. Where none is installed tests are skipped on a laptop and fail on a build agent.</summary>
public sealed class Browser : IAsyncLifetime
{
    private static readonly string[] Known = ["/usr/bin/chromium", "/usr/bin/chromium-browser", "/usr/bin/google-chrome"];

    private readonly List<(string? Test, IBrowserContext Context)> open = [];
    private IPlaywright? playwright;
    private IBrowser? browser;

    public bool IsThere => browser is not null;

    public async ValueTask InitializeAsync()
    {
        if (Executable() is not { } path) return;
        playwright = await Playwright.CreateAsync();
        browser = await playwright.Chromium.LaunchAsync(new BrowserTypeLaunchOptions
        {
            ExecutablePath = path,
            Args = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync"],
        });
    }

    /// <summary>A page of a person who has never been here: nothing stored, of one size, with reduced motion so that pictures stand still.</summary>
    public async Task<IPage> NewPageAsync(Screen screen, bool isDark = false)
    {
        if (browser is null)
        {
            if (Environment.GetEnvironmentVariable("CI") == "true") Assert.Fail($"No browser: found none of {string.Join(", ", Known)}; ./check installs chromium on a build agent.");
            Assert.Skip("No chromium on this machine (STILLWATCH_BROWSER names another).");
        }

        await CloseWhatEarlierTestsLeftAsync();
        var context = await browser!.NewContextAsync(new BrowserNewContextOptions
        {
            ViewportSize = new ViewportSize { Width = screen.Width, Height = screen.Height },
            ColorScheme = isDark ? ColorScheme.Dark : ColorScheme.Light,
            ReducedMotion = ReducedMotion.Reduce,
            AcceptDownloads = true,
            Locale = "en-GB",
        });
        if (TestContext.Current.Test is { } test) open.Add((test.UniqueID, context));
        return await context.NewPageAsync();
    }

    /// <summary>Tests run one after another here: pages of any other test are done with, and each would go on drawing.</summary>
    private async Task CloseWhatEarlierTestsLeftAsync()
    {
        string? now = TestContext.Current.Test?.UniqueID;
        foreach (var (test, context) in open.Where(o => o.Test != now).ToList())
        {
            open.Remove((test, context));
            await context.CloseAsync();
        }
    }

    public async ValueTask DisposeAsync()
    {
        if (browser is not null) await browser.DisposeAsync();
        playwright?.Dispose();
    }

    private static string? Executable() =>
        Environment.GetEnvironmentVariable("STILLWATCH_BROWSER") is { Length: > 0 } told ? told : Known.FirstOrDefault(File.Exists);
}

/// <summary>A size that pages are looked at in.</summary>
public sealed record Screen(string Name, int Width, int Height)
{
    public static readonly Screen Desk = new("desk", 1280, 800);

    /// <summary>A tablet held upright.</summary>
    public static readonly Screen Tablet = new("tablet", 800, 1280);
}
