using Microsoft.Playwright;
using Stillwatch.Storage.Recordings;
using Stillwatch.Workbench.Tests.Browsing;

namespace Stillwatch.Workbench.Tests;

/// <summary>Files come in as a newcomer brings them: real ones of several formats, wrong ones of every kind, the same ones twice.</summary>
public sealed class ImportJourneyTests(DemoWorkbench demo)
{
    [Fact]
    public async Task Real_files_are_looked_at_confirmed_where_in_doubt_and_stored_once()
    {
        await using var workbench = await RunningWorkbench.StartAsync();
        var page = await demo.Browser.NewPageAsync(Screen.Desk);
        await page.GotoAsync(workbench.Address);
        string four = OpenRecordings.Path("controlled-desaturation/numerics/100001.csv");
        string edf = OpenRecordings.Path("edf/pyedflib/test_subsecond.edf");

        await Arriving.ChooseAsync(page, four, edf);
        await Assertions.Expect(page.GetByText("2 need a word from you.")).ToBeVisibleAsync(new() { Timeout = 60_000 });
        await Assertions.Expect(page.GetByText("Several columns are SpO2")).ToBeVisibleAsync();
        await Assertions.Expect(page.GetByRole(AriaRole.Button, new() { Name = "Store 0 recordings" })).ToBeDisabledAsync();
        Assert.Empty(await workbench.Store.Recordings.FindAsync(new RecordingFilter(), TestContext.Current.CancellationToken));

        foreach (var box in await page.GetByLabel("I have looked: it is read as it should be").AllAsync()) await box.CheckAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Store 2 recordings" }).ClickAsync();
        await Assertions.Expect(page.GetByText("2 recordings were stored.")).ToBeVisibleAsync(new() { Timeout = 60_000 });

        await Arriving.ChooseAsync(page, four);
        await Assertions.Expect(page.GetByText("1 is in the library already")).ToBeVisibleAsync(new() { Timeout = 60_000 });
        Assert.Equal(2, (await workbench.Store.Recordings.FindAsync(new RecordingFilter(), TestContext.Current.CancellationToken)).Count);
    }

    // name | content | what the page must say of it
    private const string WrongFiles = """
        empty.csv     |                                           | empty
        words.csv     | this is a letter and no table             | cannot be read
        cut.edf       | 0       X X X X                           | cannot be read
        binary.bdf    | \u0001\u0002\u0003                        | cannot be read
        lone.hea      | lone 1 125 1000\nlone.dat 16 200 16 0 0 0 0 PLETH | cannot be read
        unicode.csv   | \u00ff\u00fe\u0000\u00d8\u0000               | cannot be read
        picture.csv   | \u0089PNG\r\n\u001a\n\u0000\u0000\u0000     | cannot be read
        <b>bold.csv   | no, table, here                           | cannot be read
        times.csv     | Time,SpO2\nmorning,97\nnoon,96           | cannot be read
        broken.json   | {"format":"stillwatch.recording/1",       | cannot be read
        """;

    [Fact]
    public async Task Wrong_files_of_every_kind_are_named_with_what_was_found_and_stop_no_other()
    {
        await using var workbench = await RunningWorkbench.StartAsync();
        var page = await demo.Browser.NewPageAsync(Screen.Desk);
        await page.GotoAsync(workbench.Address);
        string folder = Path.Combine(workbench.Folder, "wrong");
        Directory.CreateDirectory(folder);
        var rows = WrongFiles.Split('\n').Select(line => line.Split('|', StringSplitOptions.TrimEntries)).ToList();
        foreach (string[] row in rows) await File.WriteAllTextAsync(Path.Combine(folder, row[0]), System.Text.RegularExpressions.Regex.Unescape(row[1]), TestContext.Current.CancellationToken);
        string good = OpenRecordings.Path("controlled-desaturation/numerics/100002.csv");

        await Arriving.ChooseAsync(page, [.. rows.Select(r => Path.Combine(folder, r[0])), good]);
        await Assertions.Expect(page.GetByText("1 needs a word from you")).ToBeVisibleAsync(new() { Timeout = 60_000 });
        string text = await page.Locator("section.arrivals").InnerTextAsync();
        Assert.All(rows, row => Assert.Contains(row[0], text, StringComparison.Ordinal));
        Assert.Equal(rows.Count, await page.Locator("section.arrivals .trouble").CountAsync());
        Assert.All(await page.Locator("section.arrivals .trouble dt").AllInnerTextsAsync(), word => Assert.Contains(word, new[] { "Found", "Expected", "Where", "Likely cause" }));

        await page.GetByLabel("I have looked: it is read as it should be").CheckAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Store 1 recording" }).ClickAsync();
        await Assertions.Expect(page.GetByText("1 recording was stored")).ToBeVisibleAsync(new() { Timeout = 60_000 });
    }

    [Fact]
    public async Task What_is_put_aside_leaves_nothing_behind()
    {
        await using var workbench = await RunningWorkbench.StartAsync();
        var page = await demo.Browser.NewPageAsync(Screen.Desk);
        await page.GotoAsync(workbench.Address);
        await Arriving.ChooseAsync(page, OpenRecordings.Path("controlled-desaturation/numerics/100003.csv"));
        await page.GetByRole(AriaRole.Button, new() { Name = "Put them all aside" }).ClickAsync(new() { Timeout = 60_000 });
        await Assertions.Expect(page.GetByText("Drop files here")).ToBeVisibleAsync();

        Assert.Empty(await workbench.Store.Recordings.FindAsync(new RecordingFilter(), TestContext.Current.CancellationToken));
        string arrivals = Path.Combine(workbench.Folder, "arrivals");
        Assert.Empty(Directory.Exists(arrivals) ? Directory.EnumerateFiles(arrivals, "*", SearchOption.AllDirectories) : []);
    }
}
