using System.Globalization;
using System.Text.Json;
using Microsoft.Playwright;
using Stillwatch.App.Commands;
using Stillwatch.App.Jobs;
using Stillwatch.App.Workbench.Recordings;
using Stillwatch.Rehearsal;
using Stillwatch.Workbench.Tests.Browsing;

namespace Stillwatch.Workbench.Tests;

/// <summary>A page and a command that answer the same question over the same files say the same.</summary>
public sealed class SameNumbersTests(DemoWorkbench demo) : IDisposable
{
    private readonly string folder = Directory.CreateTempSubdirectory("stillwatch-same-").FullName;

    public void Dispose() => Directory.Delete(folder, recursive: true);

    [Fact]
    public async Task The_load_page_says_what_the_ward_command_says()
    {
        var files = Files();
        var ward = Run("ward", folder, "--present", files.Present, "--json");
        var page = await demo.OpenAsync("/load", Screen.Desk);
        await Assertions.Expect(page.Locator(".tile .value").First).ToBeVisibleAsync(new() { Timeout = 60_000 });

        var load = ward.GetProperty("load");
        Assert.Equal(One(load.GetProperty("load")), await TileAsync(page, "Physiological signals a patient-day"));
        Assert.Equal(One(load.GetProperty("technicalLoad")), await TileAsync(page, "Technical signals a day connected"));
        Assert.Equal(One(ward.GetProperty("medianPatientLoad")), await TileAsync(page, "The middle patient"));
        await page.GetByText("By patient, as a table").ClickAsync();
        var rows = page.GetByRole(AriaRole.Region, new() { Name = "Load by patient" }).Locator("tbody tr");
        string[] shown = [.. (await rows.AllInnerTextsAsync()).Select(r => string.Join(' ', r.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries)))];
        string[] told = [.. ward.GetProperty("patients").EnumerateArray().Select(p => $"{p.GetProperty("patient")} {RecordingLine.CategoryWords(p.GetProperty("category").GetString()!)} {p.GetProperty("recordings")} {p.GetProperty("signals")} {One(p.GetProperty("load"))} ")];
        Assert.Equal(told.Length, shown.Length);
        Assert.All(told.Zip(shown), pair => Assert.StartsWith(pair.First, pair.Second, StringComparison.Ordinal));

        string[] conditions = [.. ward.GetProperty("conditions").EnumerateArray().Select(c => $"{(c.GetProperty("physiological").GetBoolean() ? "physiological" : "technical")} {c.GetProperty("signals")}")];
        var causes = page.Locator("table.bars").First.Locator("tbody tr");
        string[] kinds = [.. await causes.Locator("td:nth-child(2)").AllInnerTextsAsync()], counts = [.. await causes.Locator("td:nth-child(3)").AllInnerTextsAsync()];
        Assert.NotEmpty(conditions);
        Assert.Equal(conditions, kinds.Zip(counts, (kind, count) => $"{kind} {count}"));
    }

    [Fact]
    public async Task The_shift_summary_says_of_each_patient_what_the_review_command_says()
    {
        var files = Files();
        var page = await demo.OpenAsync("/summary", Screen.Desk);
        await Assertions.Expect(page.Locator("section.sheet").First).ToBeVisibleAsync(new() { Timeout = 60_000 });
        var nights = files.Recordings.Where(f => f.Contains("night-2", StringComparison.Ordinal)).ToList();
        Assert.NotEmpty(nights);
        foreach (string night in nights)
        {
            var review = Run("review", Path.Combine(folder, night), "--settings", files.Present, "--json");
            var sheet = page.Locator($"section.sheet[aria-label='{night[..10]}']");
            int events = review.GetProperty("mustCatch").GetArrayLength();
            int physiological = review.GetProperty("signals").EnumerateArray().Count(s => s.GetProperty("physiological").GetBoolean());
            await Assertions.Expect(sheet).ToContainTextAsync($"would have given {physiological} physiological signal");
            if (events > 0) await Assertions.Expect(sheet).ToContainTextAsync($"{events} must-catch event");
        }
    }

    /// <summary>The files of the demo ward as the page takes them in: without definitions of its own for must-catch events.</summary>
    private DemoFiles Files()
    {
        var files = DemoWriter.Write(DemoWard.Compose(), folder);
        File.Delete(files.MustCatch);
        return files;
    }

    private static JsonElement Run(params string[] command)
    {
        using StringWriter output = new(), error = new();
        Assert.Equal(ExitCode.Done, StillwatchProgram.Run(command, App.Terminal.Screen.Plain(output, error)));
        using var document = JsonDocument.Parse(output.ToString());
        return document.RootElement.Clone();
    }

    private static async Task<string> TileAsync(IPage page, string label) => await page.Locator(".tile").Filter(new() { HasText = label }).Locator(".value").InnerTextAsync();

    private static string One(JsonElement number) => number.GetDouble().ToString("0.0", CultureInfo.InvariantCulture);
}
