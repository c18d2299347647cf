using Microsoft.Playwright;
using Stillwatch.Storage.Recordings;
using Stillwatch.Workbench.Tests.Browsing;

namespace Stillwatch.Workbench.Tests;

/// <summary>Whoever uses no mouse reaches everything, sees where they are, and comes to a decision on paper.</summary>
public sealed class KeyboardTests(DemoWorkbench demo)
{
    // Marks what has the focus; says what can be pressed or typed into and was never there, and what was there unseen.
    private const string Reach = """
        () => {
          const seen = e => e.getClientRects().length > 0 && getComputedStyle(e).visibility !== 'hidden';
          return [...document.querySelectorAll('a[href], button:not(:disabled), input:not([type=hidden]), select, textarea, summary, [tabindex="0"]')]
            .filter(e => seen(e) && !e.dataset.reached && !e.closest('[hidden]'))
            .map(e => e.outerHTML.slice(0, 140));
        }
        """;

    private const string Here = """
        () => {
          const e = document.activeElement;
          if (!e || e === document.body) return '';
          e.dataset.reached = '1';
          const style = getComputedStyle(e);
          return style.outlineStyle === 'none' || parseFloat(style.outlineWidth) === 0 ? `no outline: ${e.outerHTML.slice(0, 140)}` : 'seen';
        }
        """;

    [Theory]
    [InlineData("/", "The library")]
    [InlineData("/recordings/{night}", "Review marks")]
    [InlineData("/recordings/{night}/about", "What is said of it")]
    [InlineData("/evidence", "Write a decision down")]
    [InlineData("/load", "Who causes it")]
    [InlineData("/prepare", "Write it down for this patient")]
    [InlineData("/summary", "Look at the recording")]
    [InlineData("/reports", "No report was kept yet.")]
    [InlineData("/audit", "recording imported")]
    public async Task The_tab_key_reaches_everything_that_can_be_pressed_or_typed_into_and_shows_where_it_is(string path, string present)
    {
        var night = (await demo.Running.Store.Recordings.FindAsync(new RecordingFilter(), TestContext.Current.CancellationToken))[0];
        var page = await demo.OpenAsync(path.Replace("{night}", night.Id.Text, StringComparison.Ordinal), Screen.Desk);
        await Assertions.Expect(page.GetByText(present).First).ToBeVisibleAsync(new() { Timeout = 60_000 });
        await page.WaitForLoadStateAsync(LoadState.NetworkIdle);
        await page.EvaluateAsync("document.querySelectorAll('details').forEach(d => d.open = true)");
        await page.Locator("a.skip").FocusAsync();
        int most = (await page.EvaluateAsync<string[]>(Reach)).Length + 20; // the focus comes round to the page's start sooner
        var unseen = new List<string>();
        for (int i = 0; i < most; i++)
        {
            string here = await page.EvaluateAsync<string>(Here);
            if (here.StartsWith("no outline", StringComparison.Ordinal)) unseen.Add(here);
            await page.Keyboard.PressAsync("Tab");
        }

        string[] never = await page.EvaluateAsync<string[]>(Reach);
        Assert.True(never.Length == 0, $"{path}: the Tab key never came to\n{string.Join('\n', never)}");
        Assert.True(unseen.Count == 0, $"{path}: the focus is not seen on\n{string.Join('\n', unseen.Distinct())}");
        await page.Context.CloseAsync();
    }

    [Fact]
    public async Task From_the_library_to_a_decision_on_paper_without_a_mouse()
    {
        await using var workbench = await demo.CopyAsync();
        var page = await demo.OpenAsync(workbench, "/", Screen.Desk);
        await Assertions.Expect(page.GetByText("The library")).ToBeVisibleAsync();
        await page.Locator("a.skip").FocusAsync();
        await TabToAsync(page, page.Locator("header.frame").GetByRole(AriaRole.Link, new() { Name = "Settings evidence" }));
        await page.Keyboard.PressAsync("Enter");
        var write = page.GetByRole(AriaRole.Button, new() { Name = "Write the decision down" });
        await Assertions.Expect(write).ToBeVisibleAsync(new() { Timeout = 60_000 });

        await TabToAsync(page, page.GetByLabel("Low limit, %", new() { Exact = true }));
        string before = await page.Locator(".live .big").First.InnerTextAsync();
        for (int i = 0; i < 3; i++) await page.Keyboard.PressAsync("ArrowUp");
        await Assertions.Expect(page.Locator(".live .big").First).Not.ToHaveTextAsync(before);

        await TabToAsync(page, page.GetByLabel("Accepted by"));
        await page.Keyboard.TypeAsync("Sister C.");
        await TabToAsync(page, page.GetByLabel("Why", new() { Exact = true }));
        await page.Keyboard.TypeAsync("tried by the keyboard");
        await TabToAsync(page, write);
        await page.Keyboard.PressAsync("Enter");
        await Assertions.Expect(page.GetByText("Written down as entry")).ToBeVisibleAsync(new() { Timeout = 60_000 });
        var card = page.GetByRole(AriaRole.Link, new() { Name = "Print the settings card (PDF)" });
        await TabToAsync(page, card, most: 3); // what was written down has the focus, and its pages come next
        string words = await PaperPages.WordsAsync(page, (await card.GetAttributeAsync("href"))!);
        Assert.Contains("Sister C.", words, StringComparison.Ordinal);
    }

    private static async Task TabToAsync(IPage page, ILocator wanted, int most = 200)
    {
        for (int i = 0; i < most; i++)
        {
            if (await wanted.EvaluateAsync<bool>("e => e === document.activeElement")) return;
            await page.Keyboard.PressAsync("Tab");
        }

        Assert.True(await wanted.EvaluateAsync<bool>("e => e === document.activeElement"), $"The Tab key did not come to {wanted} in {most} steps.");
    }
}
