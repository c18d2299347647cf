using Microsoft.Playwright;

namespace Stillwatch.Measure;

/// <summary>A browser that measures from an act to the frame that shows its answer.</summary>
internal sealed class MeasuringBrowser : IAsyncDisposable
{
    public static readonly string[] Known = ["/usr/bin/chromium", "/usr/bin/chromium-browser", "/usr/bin/google-chrome"];

    // Runs the act, looks at every frame whether its answer stands there, and tells the time from the one to the other.
    private const string Stopwatch = """
        ([act, seen, selector]) => new Promise((resolve, reject) => {
          const element = selector ? document.querySelector(selector) : document.body;
          const before = { exact: document.querySelector('.strip-exact svg') };
          const isSeen = new Function('before', `return ${seen}`), from = performance.now();
          new Function('element', act)(element);
          const look = () => {
            if (isSeen(before)) resolve(performance.now() - from);
            else if (performance.now() - from > 120000) reject(new Error(`never seen: ${seen}`));
            else requestAnimationFrame(look);
          };
          requestAnimationFrame(look);
        })
        """;

    private readonly IPlaywright playwright;
    private readonly IBrowser browser;

    private MeasuringBrowser(IPlaywright playwright, IBrowser browser)
    {
        this.playwright = playwright;
        this.browser = browser;
    }

    public string Name => $"Chromium {browser.Version}";

    /// <summary>Null: there is none on this machine.</summary>
    public static async Task<MeasuringBrowser?> StartAsync()
    {
        string? path = Environment.GetEnvironmentVariable("STILLWATCH_BROWSER") is { Length: > 0 } told ? told : Known.FirstOrDefault(File.Exists);
        if (path is null) return null;
        var playwright = await Playwright.CreateAsync();
        var browser = await playwright.Chromium.LaunchAsync(new() { ExecutablePath = path, Args = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync"] });
        return new MeasuringBrowser(playwright, browser);
    }

    public async Task<IPage> OpenAsync(string address)
    {
        var context = await browser.NewContextAsync(new() { ViewportSize = new() { Width = 1280, Height = 800 }, Locale = "en-GB" });
        var page = await context.NewPageAsync();
        page.SetDefaultTimeout(300_000);
        await page.GotoAsync(address);
        return page;
    }

    /// <param name="page">Where.</param>
    /// <param name="act">What is done with <c>element</c>, as script.</param>
    /// <param name="seen">When its answer stands there, as script; <c>before</c> holds what stood there.</param>
    /// <param name="selector">The element; null: the page.</param>
    /// <returns>Milliseconds.</returns>
    public static Task<double> TimeAsync(IPage page, string act, string seen, string? selector = null) => page.EvaluateAsync<double>(Stopwatch, new object?[] { act, seen, selector });

    public async ValueTask DisposeAsync()
    {
        await browser.DisposeAsync();
        playwright.Dispose();
    }
}
