using Microsoft.Playwright;
using Stillwatch.Storage.Recordings;
using Stillwatch.Tuning.MustCatch;
using Stillwatch.Workbench.Tests.Browsing;

namespace Stillwatch.Workbench.Tests;

/// <summary>One night is looked back over: by events, by clock, by keyboard; two reviewers mark it and are kept apart.</summary>
public sealed class ReviewJourneyTests(DemoWorkbench demo)
{
    [Fact]
    public async Task Two_reviewers_mark_by_keyboard_are_kept_apart_and_then_compared()
    {
        await using var workbench = await demo.CopyAsync();
        var id = await NightAsync("patient-04-night-1.csv");
        var first = await OpenAsync(id, workbench);
        await BeginAsync(first, "AB");
        await MarkAsync(first, "1", workbench, id, 1);
        await NextAsync(first, 2);
        await MarkAsync(first, "3", workbench, id, 2);
        await first.Keyboard.PressAsync("u");
        await EventuallyAsync(async () => (await workbench.Store.Marks.OfAsync(id)).Count(m => m.Stands) == 1);
        await MarkAsync(first, "3", workbench, id, 2);

        var second = await OpenAsync(id, workbench);
        await BeginAsync(second, "CD");
        await Assertions.Expect(second.GetByText("Their marks are hidden, so that yours stay your own.")).ToBeVisibleAsync();
        await MarkAsync(second, "1", workbench, id, 3);
        await NextAsync(second, 2);
        await MarkAsync(second, "1", workbench, id, 4);
        await second.GetByRole(AriaRole.Button, new() { Name = "Compare" }).ClickAsync();
        await Assertions.Expect(second.GetByText("alike on 1 of 2 events that both marked")).ToBeVisibleAsync();

        // Nothing was lost of what was taken back, and the audit holds every step.
        Assert.Single(await workbench.Store.Marks.OfAsync(id, TestContext.Current.CancellationToken), m => !m.Stands);
        Assert.True((await workbench.Store.Audit.VerifyAsync(TestContext.Current.CancellationToken)).IsWhole);
    }

    [Fact]
    public async Task Keys_that_come_faster_than_marks_are_kept_each_land_on_their_own_event()
    {
        await using var workbench = await demo.CopyAsync();
        var id = await NightAsync("patient-03-night-1.csv");
        var page = await OpenAsync(id, workbench);
        await BeginAsync(page, "EF");
        foreach (string key in new[] { "1", "j", "3", "j", "4", "j", "1", "k", "2" }) await page.Keyboard.PressAsync(key);
        await EventuallyAsync(async () => await workbench.Store.Marks.OfAsync(id) is { Count: 5 } all && all.Count(m => m.Stands) == 4);

        var standing = (await workbench.Store.Marks.OfAsync(id, TestContext.Current.CancellationToken)).Where(m => m.Stands).Select(m => m.Mark).OrderBy(m => m.Span.Start);
        Assert.Equal([MarkVerdict.RealAndSignificant, MarkVerdict.Artefact, MarkVerdict.RealButNotSignificant, MarkVerdict.RealAndSignificant], standing.Select(m => m.Verdict));
    }

    [Fact]
    public async Task The_picture_goes_to_a_clock_time_and_the_table_follows_it()
    {
        var page = await OpenAsync(await NightAsync("patient-05-night-1.csv"));
        await page.GetByLabel("Go to", new() { Exact = true }).FillAsync("03:10");
        await page.GetByRole(AriaRole.Button, new() { Name = "Go", Exact = true }).ClickAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "10 min", Exact = true }).ClickAsync();
        await Assertions.Expect(page.Locator(".window.number")).ToContainTextAsync("10 min");
        await page.GetByRole(AriaRole.Tab, new() { Name = "Trend table" }).ClickAsync();
        await Assertions.Expect(page.Locator("table.trend caption")).ToContainTextAsync("03:");
        await Assertions.Expect(page.Locator(".strip-exact svg")).ToBeVisibleAsync();
    }

    [Fact]
    public async Task The_picture_is_moved_and_brought_nearer_by_the_keyboard_alone()
    {
        var page = await OpenAsync(await NightAsync("patient-06-night-1.csv"));
        var words = page.Locator(".window.number");
        await Assertions.Expect(words).ToContainTextAsync("8 h");
        await page.Locator(".strip-detail").FocusAsync();
        await page.Keyboard.PressAsync("+");
        await Assertions.Expect(words).Not.ToContainTextAsync("8 h 00 min");
        string nearer = await words.InnerTextAsync();
        await page.Keyboard.PressAsync("ArrowRight");
        await Assertions.Expect(words).Not.ToHaveTextAsync(nearer);
        await page.Keyboard.PressAsync("End");
        await page.Keyboard.PressAsync("Home");
        await Assertions.Expect(page.Locator(".strip-exact svg")).ToBeVisibleAsync();
    }

    private async Task<IPage> OpenAsync(RecordingId id, RunningWorkbench? workbench = null)
    {
        var page = await demo.OpenAsync(workbench ?? demo.Running, $"/recordings/{id}", Screen.Desk);
        await Assertions.Expect(page.GetByText("What happened in this recording?")).ToBeVisibleAsync(new() { Timeout = 60_000 });
        await Assertions.Expect(page.Locator(".strip-exact svg")).ToBeVisibleAsync(new() { Timeout = 60_000 });
        return page;
    }

    private async Task<RecordingId> NightAsync(string name) =>
        Assert.Single(await demo.Running.Store.Recordings.FindAsync(new RecordingFilter(name), TestContext.Current.CancellationToken)).Id;

    /// <summary>A reviewer says who is looking, and goes to the first of the must-catch events.</summary>
    private static async Task BeginAsync(IPage page, string reviewer)
    {
        var name = page.GetByLabel("You are (name or initials)");
        await name.FillAsync(reviewer);
        await name.BlurAsync();
        await page.GetByLabel("Events", new() { Exact = true }).SelectOptionAsync("must-catch only");
        await Assertions.Expect(page.Locator(".event-table tbody tr").First).ToContainTextAsync("must-catch");
        await page.GetByRole(AriaRole.Button, new() { Name = "Next event" }).ClickAsync();
        await StandsAtAsync(page, 1);
    }

    private static async Task NextAsync(IPage page, int number)
    {
        await page.Keyboard.PressAsync("j");
        await StandsAtAsync(page, number);
    }

    private static Task StandsAtAsync(IPage page, int number) => Assertions.Expect(page.Locator(".events .actions .muted")).ToHaveTextAsync(new System.Text.RegularExpressions.Regex($"^{number} of "));

    private static async Task MarkAsync(IPage page, string key, RunningWorkbench workbench, RecordingId id, int expected)
    {
        await page.Keyboard.PressAsync(key);
        await EventuallyAsync(async () => (await workbench.Store.Marks.OfAsync(id)).Count(m => m.Stands) == expected);
    }

    /// <summary>Asks the store until it holds what the page was told; a page that lost a key press never gets there.</summary>
    private static async Task EventuallyAsync(Func<Task<bool>> holds)
    {
        var limit = TimeSpan.FromSeconds(20);
        long start = System.Diagnostics.Stopwatch.GetTimestamp();
        while (!await holds())
        {
            Assert.True(System.Diagnostics.Stopwatch.GetElapsedTime(start) < limit, "The store never held what was done on the page.");
            await Task.Yield();
        }
    }
}
