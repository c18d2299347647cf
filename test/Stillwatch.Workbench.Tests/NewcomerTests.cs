using Microsoft.Playwright;
using Stillwatch.Storage.Recordings;
using Stillwatch.Workbench.Tests.Browsing;

namespace Stillwatch.Workbench.Tests;

/// <summary>Whoever does not know the program does things in an order of their own; nothing is stored, decided or taken back that they did not mean.</summary>
public sealed class NewcomerTests(DemoWorkbench demo)
{
    private const string TwoColumns = "Time,SpO2 left,SpO2 right\n2026-03-02T22:00:00,97,91\n2026-03-02T22:00:01,96,90\n2026-03-02T22:00:02,96,90\n";
    private const string Plain = "Time,SpO2\n2026-03-02T22:00:00,97\n2026-03-02T22:00:01,96\n2026-03-02T22:00:02,96\n";

    [Fact]
    public async Task A_column_chosen_after_the_look_is_read_and_shown_before_it_can_be_stored()
    {
        await using var workbench = await RunningWorkbench.StartAsync();
        var page = await demo.OpenAsync(workbench, "/", Screen.Desk);
        await Arriving.ChooseAsync(page, Written(workbench, "two.csv", TwoColumns), Written(workbench, "plain.csv", Plain));
        await Assertions.Expect(page.GetByRole(AriaRole.Heading, new() { Name = "Are these read as they should be?" })).ToBeFocusedAsync(new() { Timeout = 60_000 });
        await Assertions.Expect(page.GetByText("1 can be stored, 1 needs a word from you.")).ToBeVisibleAsync();
        string text = await page.Locator("section.arrivals").InnerTextAsync();
        Assert.DoesNotContain("--", text, StringComparison.Ordinal); // fields, not options of a command

        var two = page.GetByRole(AriaRole.Article, new() { Name = "two.csv" });
        await two.GetByLabel("SpO2 is the column").SelectOptionAsync("SpO2 right");
        await two.GetByLabel("I have looked: it is read as it should be").CheckAsync();
        await Assertions.Expect(two.Locator(".state")).ToHaveTextAsync("to be read again");
        await page.GetByRole(AriaRole.Button, new() { Name = "Store 1 recording" }).ClickAsync();
        await Assertions.Expect(page.GetByText("What is left needs a word from you")).ToBeVisibleAsync(new() { Timeout = 60_000 });
        await Assertions.Expect(page.GetByRole(AriaRole.Button, new() { Name = "plain.csv" })).ToHaveAttributeAsync("aria-expanded", "false");

        await two.GetByRole(AriaRole.Button, new() { Name = "Read again so" }).ClickAsync();
        await Assertions.Expect(two.Locator("tr.chosen")).ToContainTextAsync("SpO2 right");
        await page.GetByRole(AriaRole.Button, new() { Name = "Store 1 recording" }).ClickAsync();
        await Assertions.Expect(page.GetByText("2 recordings were stored.")).ToBeFocusedAsync(new() { Timeout = 60_000 });
        Assert.Equal(2, (await workbench.Store.Recordings.FindAsync(new RecordingFilter(), TestContext.Current.CancellationToken)).Count);
    }

    [Fact]
    public async Task Files_of_one_name_from_two_folders_are_both_told_of_and_none_takes_the_others_place()
    {
        await using var workbench = await RunningWorkbench.StartAsync();
        var page = await demo.OpenAsync(workbench, "/", Screen.Desk);
        await Arriving.ChooseAsync(page, Written(workbench, "bed-1/night.csv", Plain), Written(workbench, "bed-2/night.csv", Plain.Replace("97", "88", StringComparison.Ordinal)));
        await Assertions.Expect(page.GetByText("Cannot take a second night.csv in")).ToBeVisibleAsync(new() { Timeout = 60_000 });
        await Assertions.Expect(page.GetByRole(AriaRole.Article, new() { Name = "night.csv" }).GetByText("97")).ToBeVisibleAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Store 1 recording" }).ClickAsync();
        await Assertions.Expect(page.GetByText("1 recording was stored.")).ToBeVisibleAsync(new() { Timeout = 60_000 });
        await Assertions.Expect(page.GetByText("Cannot take a second night.csv in")).ToBeVisibleAsync(); // still not forgotten
    }

    [Fact]
    public async Task What_is_decided_is_the_candidate_looked_at_last_it_is_shown_at_once_and_written_down_once()
    {
        await using var workbench = await demo.CopyAsync();
        var page = await demo.OpenAsync(workbench, "/evidence", Screen.Desk);
        await page.GetByRole(AriaRole.Button, new() { Name = "Add a candidate" }).ClickAsync(new() { Timeout = 60_000 });
        await page.GetByLabel("Low limit, %, as a number").FillAsync("86");
        await page.GetByLabel("Low limit, %, as a number").BlurAsync();
        var what = page.GetByLabel("What is decided");
        await Assertions.Expect(what.Locator("option:checked")).ToContainTextAsync("Candidate B: below 86 %");
        await page.GetByLabel("Accepted by").FillAsync("Sister A.");
        await page.GetByLabel("Why", new() { Exact = true }).FillAsync("A trial");
        var write = page.GetByRole(AriaRole.Button, new() { Name = "Write the decision down" });
        await write.ClickAsync();
        await Assertions.Expect(page.GetByText("Written down as entry")).ToBeInViewportAsync(new() { Timeout = 60_000 });
        await write.ClickAsync();
        await Assertions.Expect(page.GetByText("This decision is written down already")).ToBeVisibleAsync();
        Assert.Single(await workbench.Store.Settings.HistoryAsync(TestContext.Current.CancellationToken));

        // Said by hand, it stays so whatever is moved afterwards.
        await what.SelectOptionAsync("Unit's default");
        await page.GetByRole(AriaRole.Button, new() { Name = "Candidate A", Exact = true }).ClickAsync();
        await Assertions.Expect(what.Locator("option:checked")).ToContainTextAsync("Unit's default");
    }

    [Fact]
    public async Task Whoever_goes_back_from_a_recording_finds_the_list_as_it_was_chosen()
    {
        var page = await demo.OpenAsync("/", Screen.Desk);
        await page.GetByLabel("Search names, patients, units, notes").PressSequentiallyAsync("patient-04");
        await Assertions.Expect(page.GetByText("2 of 24 recordings")).ToBeVisibleAsync();
        await Assertions.Expect(page.GetByLabel("Search names, patients, units, notes")).ToBeFocusedAsync();
        await page.GetByRole(AriaRole.Link, new() { Name = "patient-04-night-1.csv", Exact = true }).ClickAsync();
        await Assertions.Expect(page.Locator(".strip-exact svg")).ToBeVisibleAsync(new() { Timeout = 60_000 });
        await page.GoBackAsync();
        await Assertions.Expect(page.GetByText("2 of 24 recordings")).ToBeVisibleAsync();
        await Assertions.Expect(page.GetByLabel("Search names, patients, units, notes")).ToHaveValueAsync("patient-04");
        await page.GetByRole(AriaRole.Button, new() { Name = "Show all" }).ClickAsync();
        await Assertions.Expect(page.GetByText("24 recordings. A start")).ToBeVisibleAsync();
    }

    [Fact]
    public async Task Undo_at_one_machine_takes_no_mark_of_the_reviewer_before()
    {
        await using var workbench = await demo.CopyAsync();
        var night = Assert.Single(await workbench.Store.Recordings.FindAsync(new RecordingFilter("patient-04-night-1.csv"), TestContext.Current.CancellationToken));
        var page = await demo.OpenAsync(workbench, $"/recordings/{night.Id}", Screen.Desk);
        await Assertions.Expect(page.Locator(".strip-exact svg")).ToBeVisibleAsync(new() { Timeout = 60_000 });
        await SayWhoAsync(page, "AB");
        await page.GetByRole(AriaRole.Button, new() { Name = "Next event" }).ClickAsync();
        await page.Keyboard.PressAsync("1");
        await Assertions.Expect(page.Locator("tr.chosen")).ToContainTextAsync("significant");
        await SayWhoAsync(page, "CD");
        await page.Locator("h1").ClickAsync();
        await page.Keyboard.PressAsync("u");
        await Assertions.Expect(page.GetByText("There is no mark of yours from this sitting to take back.")).ToBeVisibleAsync();
        Assert.Single(await workbench.Store.Marks.OfAsync(night.Id, TestContext.Current.CancellationToken), m => m.Stands);
    }

    [Fact]
    public async Task Going_to_a_clock_time_is_seen_to_happen_where_the_whole_recording_was_in_view()
    {
        await using var workbench = await RunningWorkbench.StartAsync();
        var page = await demo.OpenAsync(workbench, "/", Screen.Desk);
        string rows = string.Concat(Enumerable.Range(0, 1200).Select(i => $"2026-03-02T22:{i / 60:00}:{i % 60:00},{95 + i % 3}\n"));
        await Arriving.ChooseAsync(page, Written(workbench, "short.csv", "Time,SpO2\n" + rows));
        await page.GetByRole(AriaRole.Button, new() { Name = "Store 1 recording" }).ClickAsync(new() { Timeout = 60_000 });
        await page.GetByRole(AriaRole.Link, new() { Name = "short.csv", Exact = true }).ClickAsync();
        var window = page.Locator(".window.number");
        await Assertions.Expect(window).ToContainTextAsync("20 min", new() { Timeout = 60_000 });
        await page.GetByLabel("Go to", new() { Exact = true }).FillAsync("22:10");
        await page.GetByRole(AriaRole.Button, new() { Name = "Go", Exact = true }).ClickAsync();
        await Assertions.Expect(window).ToHaveTextAsync("22:08:00 – 22:12:00, 4 min 00 s");
        await page.GetByLabel("Go to", new() { Exact = true }).FillAsync("10 past ten");
        await page.GetByRole(AriaRole.Button, new() { Name = "Go", Exact = true }).ClickAsync();
        await Assertions.Expect(page.GetByText("Found \"10 past ten\", expected a time such as 03:10")).ToBeVisibleAsync();
    }

    [Fact]
    public async Task The_load_under_settings_that_nobody_said_were_in_force_says_so_in_plain_view()
    {
        await using var workbench = await RunningWorkbench.StartAsync();
        var page = await demo.OpenAsync(workbench, "/", Screen.Desk);
        await Arriving.ChooseAsync(page, Written(workbench, "plain.csv", Plain));
        await page.GetByRole(AriaRole.Button, new() { Name = "Store 1 recording" }).ClickAsync(new() { Timeout = 60_000 });
        await Assertions.Expect(page.GetByText("1 recording was stored.")).ToBeVisibleAsync(new() { Timeout = 60_000 });
        await page.GotoAsync(workbench.Address + "/load");
        await Assertions.Expect(page.GetByText("nobody said which settings were in force during this recording")).ToBeVisibleAsync(new() { Timeout = 60_000 });
        await Assertions.Expect(page.GetByText("present settings")).ToHaveCountAsync(0);
    }

    [Fact]
    public async Task A_program_that_was_ended_is_said_in_words_and_the_page_is_there_again_with_it()
    {
        await using var workbench = await RunningWorkbench.StartAsync();
        var page = await demo.OpenAsync(workbench, "/audit", Screen.Tablet, isDark: true);
        await Assertions.Expect(page.GetByRole(AriaRole.Button, new() { Name = "Verify every line" })).ToBeVisibleAsync();
        await workbench.StopAsync();
        await Assertions.Expect(page.GetByText("The program does not answer")).ToBeVisibleAsync(new() { Timeout = 60_000 });
        await Accessible.CheckAsync(page);
        await page.GetByRole(AriaRole.Button, new() { Name = "Load it again" }).ClickAsync();
        await Assertions.Expect(page.GetByText("It does not answer yet.")).ToBeVisibleAsync(); // and the page is still there to be read
        await workbench.RestartAsync();
        await Assertions.Expect(page.GetByText("The program does not answer")).ToBeHiddenAsync(new() { Timeout = 120_000 });
        await page.GetByRole(AriaRole.Button, new() { Name = "Verify every line" }).ClickAsync();
        await Assertions.Expect(page.GetByText("each fits the one before")).ToBeVisibleAsync();
    }

    private static string Written(RunningWorkbench workbench, string name, string text)
    {
        string path = Path.Combine(workbench.Folder, "brought", name);
        Directory.CreateDirectory(Path.GetDirectoryName(path)!);
        File.WriteAllText(path, text);
        return path;
    }

    private static async Task SayWhoAsync(IPage page, string reviewer)
    {
        var name = page.GetByLabel("You are (name or initials)");
        await name.FillAsync(reviewer);
        await name.BlurAsync();
    }
}
