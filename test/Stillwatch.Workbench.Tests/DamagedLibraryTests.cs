using Microsoft.Data.Sqlite;
using Microsoft.Playwright;
using Stillwatch.Storage.Recordings;
using Stillwatch.Workbench.Tests.Browsing;

namespace Stillwatch.Workbench.Tests;

/// <summary>A disk that fails takes one night, and not the library.</summary>
public sealed class DamagedLibraryTests(DemoWorkbench demo)
{
    [Fact]
    public async Task One_recording_that_cannot_be_read_is_named_counts_nowhere_and_can_be_taken_out()
    {
        await using var workbench = await demo.CopyAsync();
        await workbench.StopAsync();
        await using (var database = new SqliteConnection($"Data Source={Path.Combine(workbench.Folder, "stillwatch.db")};Pooling=False"))
        {
            await database.OpenAsync(TestContext.Current.CancellationToken);
            await using var damage = database.CreateCommand();
            damage.CommandText = "UPDATE recordings SET start_text = 'yesterday' WHERE name = 'patient-02-night-1.csv'";
            Assert.Equal(1, await damage.ExecuteNonQueryAsync(TestContext.Current.CancellationToken));
        }

        await workbench.RestartAsync();
        var page = await demo.OpenAsync(workbench, "/", Screen.Desk);
        var trouble = page.GetByRole(AriaRole.Alert);
        await Assertions.Expect(trouble).ToContainTextAsync("1 recording cannot be read, and counts nowhere.");
        await Assertions.Expect(trouble).ToContainTextAsync("patient-02-night-1.csv");
        await Assertions.Expect(page.Locator(".answer").First).ToContainTextAsync("23 recordings");
        await Accessible.CheckAsync(page);

        await page.Locator("header.frame").GetByRole(AriaRole.Link, new() { Name = "Alarm load" }).ClickAsync();
        await Assertions.Expect(page.GetByText("1 recording of the library cannot be read and is counted nowhere")).ToBeVisibleAsync();
        await Assertions.Expect(page.GetByRole(AriaRole.Heading, new() { Name = "Who causes it" })).ToBeVisibleAsync(new() { Timeout = 60_000 });

        await page.Locator("header.frame").GetByRole(AriaRole.Link, new() { Name = "Recordings" }).ClickAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Take it out: patient-02-night-1.csv" }).ClickAsync();
        await Assertions.Expect(trouble).ToHaveCountAsync(0);
        Assert.Empty((await workbench.Store.Recordings.LookAsync(TestContext.Current.CancellationToken)).Damaged);
        Assert.Equal(23, (await workbench.Store.Recordings.FindAsync(new RecordingFilter(), TestContext.Current.CancellationToken)).Count);
        Assert.Equal("recording.removed", (await workbench.Store.Audit.LatestAsync(1, TestContext.Current.CancellationToken))[0].Action);
    }
}
