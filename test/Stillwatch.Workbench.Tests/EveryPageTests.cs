using Microsoft.Playwright;
using Stillwatch.Storage.Recordings;
using Stillwatch.Workbench.Tests.Browsing;

namespace Stillwatch.Workbench.Tests;

/// <summary>What holds for every page: it opens, says its question, can be reached and read by everyone, and fits the screen.</summary>
public sealed class EveryPageTests(DemoWorkbench demo)
{
    // path | heading | what stands on it once it is there. {night} is a night of the demo ward.
    private const string Pages = """
        /                       | Recordings        | The library
        /recordings/{night}     | {name}            | What happened in this recording?
        /evidence               | Settings evidence | Side by side
        /load                   | Alarm load        | Who causes it
        /prepare                | Prepare           | Write it down for this patient
        /summary                | Shift summary     | Look at the recording
        /reports                | Reports           | No report was kept yet.
        /audit                  | Audit             | recording imported
        /not-found              | There is no such page | Back to the recordings
        """;

    // What reaches beyond the screen, unless it scrolls inside a part of its own; empty where the page fits.
    private const string SticksOut = """
        () => {
          const width = document.documentElement.clientWidth;
          if (document.documentElement.scrollWidth <= width) return [];
          return [...document.querySelectorAll('main *')]
            .filter(e => e.getBoundingClientRect().right > width + 0.5 && !e.closest('.scroll, svg'))
            .map(e => `${Math.round(e.getBoundingClientRect().right - width)} px: ${e.outerHTML.slice(0, 120)}`).concat(['(the page itself)']);
        }
        """;

    public static TheoryData<string, string, string, bool> Looks
    {
        get
        {
            var looks = new TheoryData<string, string, string, bool>();
            foreach (string[] cells in Pages.Split('\n').Select(line => line.Split('|', StringSplitOptions.TrimEntries)))
            {
                looks.Add(cells[0], cells[2], Screen.Desk.Name, false);
                looks.Add(cells[0], cells[2], Screen.Tablet.Name, true);
            }

            return looks;
        }
    }

    [Theory]
    [MemberData(nameof(Looks))]
    public async Task Every_page_is_accessible_fits_the_screen_says_what_it_is_not_and_looks_as_it_did(string path, string present, string screenName, bool isDark)
    {
        var screen = screenName == Screen.Desk.Name ? Screen.Desk : Screen.Tablet;
        var page = await demo.OpenAsync(await WithNightAsync(path), screen, isDark);
        await Assertions.Expect(page.GetByText(present).First).ToBeVisibleAsync(new() { Timeout = 60_000 });
        if (path.Contains("{night}", StringComparison.Ordinal)) await Assertions.Expect(page.Locator(".strip-exact svg")).ToBeVisibleAsync();
        await page.WaitForLoadStateAsync(LoadState.NetworkIdle);

        await Accessible.CheckAsync(page);
        Assert.Equal(1, await page.Locator("h1").CountAsync());
        await Assertions.Expect(page.GetByText("not a primary alarm, not a bedside monitor, not for diagnosis")).ToBeVisibleAsync();
        string[] sticksOut = await page.EvaluateAsync<string[]>(SticksOut);
        Assert.True(sticksOut.Length == 0, $"{path} on a {screen.Name} is wider than the screen; a page scrolls down, never sideways:\n{string.Join('\n', sticksOut)}");
        await Pictures.CheckAsync(page, PictureOf(path, screen));
        await page.Context.CloseAsync();
    }

    [Fact]
    public void The_pictures_are_so_different_that_no_page_is_taken_for_another()
    {
        foreach (var screen in new[] { Screen.Desk, Screen.Tablet })
        {
            var pictures = Looks.Select(l => l.Data).Where(d => d.Item3 == screen.Name).Select(d => PictureOf(d.Item1, screen)).ToList();
            foreach (var (one, other) in pictures.SelectMany((one, i) => pictures.Skip(i + 1).Select(other => (one, other))))
            {
                using SkiaSharp.SKBitmap a = Pictures.Kept(one), b = Pictures.Kept(other);
                var (mean, part, _) = Pictures.Difference(a, b);
                Assert.True(mean > Pictures.MostMean || part > Pictures.MostPart, $"{one} could be taken for {other}: {mean:0.0} over all, {part:0.0} in the worst part");
            }
        }
    }

    [Fact]
    public async Task The_keyboard_reaches_every_page_from_every_page()
    {
        var page = await demo.OpenAsync("/", Screen.Desk);
        await Assertions.Expect(page.GetByText("The library")).ToBeVisibleAsync();
        await Assertions.Expect(page.Locator("h1")).ToBeFocusedAsync(); // where every arrival begins
        await page.Locator("a.skip").FocusAsync();
        foreach (string name in new[] { "Stillwatch", "Recordings", "Settings evidence", "Alarm load", "Prepare", "Shift summary", "Reports", "Audit" })
        {
            await page.Keyboard.PressAsync("Tab");
            await Assertions.Expect(page.Locator("header.frame").GetByRole(AriaRole.Link, new() { Name = name, Exact = true })).ToBeFocusedAsync();
        }

        await page.Keyboard.PressAsync("Enter");
        await Assertions.Expect(page.GetByRole(AriaRole.Heading, new() { Name = "Audit", Level = 1 })).ToBeVisibleAsync();
    }

    [Fact]
    public async Task Light_or_dark_is_what_the_person_chose_and_stays_so()
    {
        var page = await demo.OpenAsync("/audit", Screen.Desk, isDark: true);
        string Theme() => page.EvaluateAsync<string>("document.documentElement.dataset.theme").GetAwaiter().GetResult();
        Assert.Equal("dark", Theme());
        await page.GetByRole(AriaRole.Button, new() { Name = "Light or dark" }).ClickAsync();
        Assert.Equal("light", Theme());
        await page.ReloadAsync();
        Assert.Equal("light", Theme());
    }

    [Fact]
    public async Task Nothing_is_asked_of_any_other_machine()
    {
        var page = await demo.OpenAsync("/", Screen.Desk);
        var asked = new List<string>();
        page.Request += (_, request) => asked.Add(request.Url);
        foreach (string path in new[] { "/evidence", "/load", "/prepare", "/summary", "/reports", "/audit", "/" })
        {
            await page.GotoAsync(demo.Running.Address + path);
            await page.WaitForLoadStateAsync(LoadState.NetworkIdle);
        }

        Assert.NotEmpty(asked);
        Assert.All(asked, url => Assert.StartsWith(demo.Running.Address, url));
    }

    // A page and the script that it waits for; on a slow line a person goes on before that has come.
    [Theory]
    [InlineData("/", "arrivals.js", "The library")]
    [InlineData("/recordings/{night}", "strip.js", "What happened in this recording?")]
    [InlineData("/evidence", "evidence.js", "Side by side")]
    public async Task Whoever_leaves_a_page_before_it_is_ready_finds_the_next_one_alive(string path, string script, string present)
    {
        var page = await demo.Browser.NewPageAsync(Screen.Desk);
        var left = new TaskCompletionSource();
        await page.RouteAsync($"**/{script}", async route =>
        {
            await left.Task;
            await route.ContinueAsync();
        });
        var asked = page.WaitForRequestAsync($"**/{script}", new() { Timeout = 60_000 });
        await page.GotoAsync(demo.Running.Address + await WithNightAsync(path), new() { WaitUntil = WaitUntilState.Commit });
        await Assertions.Expect(page.GetByText(present).First).ToBeVisibleAsync(new() { Timeout = 60_000 });
        await asked;
        await page.Locator("header.frame").GetByRole(AriaRole.Link, new() { Name = "Audit", Exact = true }).ClickAsync();
        await Assertions.Expect(page.GetByRole(AriaRole.Heading, new() { Name = "Audit", Level = 1 })).ToBeVisibleAsync();
        var came = page.WaitForResponseAsync($"**/{script}");
        left.SetResult();
        await (await came).FinishedAsync();

        await page.GetByRole(AriaRole.Button, new() { Name = "Verify every line" }).ClickAsync();
        await Assertions.Expect(page.GetByText("each fits the one before")).ToBeVisibleAsync();
        await Assertions.Expect(page.Locator("#blazor-error-ui")).ToBeHiddenAsync();
        await page.Context.CloseAsync();
    }

    private static string PictureOf(string path, Screen screen) => $"{(path.Contains("night", StringComparison.Ordinal) ? "night" : path.Trim('/') is { Length: > 0 } name ? name : "recordings")}-{screen.Name}";

    private async Task<string> WithNightAsync(string path)
    {
        if (!path.Contains('{', StringComparison.Ordinal)) return path;
        var all = await demo.Running.Store.Recordings.FindAsync(new RecordingFilter(), TestContext.Current.CancellationToken);
        return path.Replace("{night}", all[0].Id.Text, StringComparison.Ordinal);
    }
}
