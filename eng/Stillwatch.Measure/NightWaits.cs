using System.Globalization;
using System.Text;
using Microsoft.Playwright;
using Stillwatch.Storage.Recordings;

namespace Stillwatch.Measure;

/// <summary>A night of 72 h at a value a second: opened from the library, brought nearer, moved.</summary>
internal static class NightWaits
{
    private const int Seconds = 72 * 3600;
    private const string Drawn = "document.querySelector('.strip-exact svg') && document.querySelector('.strip-exact svg') !== before.exact && document.querySelector('.strip-moving').hidden";
    private const string Moved = "!document.querySelector('.strip-moving').hidden || " + Drawn;

    public static async Task<IReadOnlyList<Wait>> MeasureAsync(MeasuringBrowser browser, int rounds, TextWriter progress)
    {
        await progress.WriteLineAsync("measure: a night of 72 h");
        await using var workbench = await MeasuredWorkbench.StartAsync();
        string path = Path.Combine(workbench.Folder, "three-days.csv");
        await File.WriteAllTextAsync(path, Text());
        await workbench.StoreAsync(path, RecordingDescription.Nothing);
        var page = await browser.OpenAsync(workbench.Address);
        var opened = new List<double>();
        for (int i = 0; i < rounds; i++)
        {
            await page.Locator("header.frame nav a").First.ClickAsync();
            await page.Locator("main a.row-open").First.WaitForAsync();
            opened.Add(await MeasuringBrowser.TimeAsync(page, "element.click()", "document.querySelector('.strip-exact svg')", "main a.row-open"));
            await RestAsync(page);
        }

        var zoomed = await StepsAsync(page, rounds, ["+", "+", "+", "-", "-", "-"]);
        var panned = await StepsAsync(page, rounds, ["ArrowRight", "ArrowRight", "ArrowLeft", "ArrowLeft"]);
        await page.Context.CloseAsync();
        return
        [
            new Wait("72 h at a value a second: from the click in the library to the first drawing", "< 1 s", opened),
            new Wait("the same, a step nearer or farther: the picture at hand moves", "", zoomed.Moved),
            new Wait("the same: the picture that fits stands there (the hand has rested 140 ms)", "", zoomed.Drawn),
            new Wait("the same, a step earlier or later: the picture at hand moves", "", panned.Moved),
            new Wait("the same: the picture that fits stands there (the hand has rested 140 ms)", "", panned.Drawn),
        ];
    }

    private static async Task<(List<double> Moved, List<double> Drawn)> StepsAsync(IPage page, int rounds, string[] keys)
    {
        List<double> moved = [], drawn = [];
        for (int i = 0; i < rounds; i++)
        {
            string act = $"element.dispatchEvent(new KeyboardEvent('keydown', {{ key: '{keys[i % keys.Length]}', bubbles: true, cancelable: true }}))";
            moved.Add(await MeasuringBrowser.TimeAsync(page, act, Moved, ".strip-detail"));
            await RestAsync(page);
            drawn.Add(await MeasuringBrowser.TimeAsync(page, act, Drawn, ".strip-detail"));
            await RestAsync(page);
        }

        return (moved, drawn);
    }

    /// <summary>Until nothing is fetched any more: the wider picture for the next move has come.</summary>
    private static async Task RestAsync(IPage page)
    {
        await page.Locator(".strip-exact svg").WaitForAsync();
        await page.EvaluateAsync("""
            () => new Promise(resolve => {
              let count = -1, quiet = 0;
              const look = () => {
                const now = performance.getEntriesByType('resource').length;
                quiet = now === count ? quiet + 1 : 0;
                count = now;
                if (now > 200) performance.clearResourceTimings();
                if (quiet > 40) resolve(); else requestAnimationFrame(look);
              };
              look();
            })
            """);
    }

    // A long deep fall every six hours, short ones between.
    private static string Text()
    {
        var text = new StringBuilder("Time,SpO2,Pulse\n");
        var start = new DateTime(2026, 3, 2, 20, 0, 0, DateTimeKind.Unspecified);
        for (int t = 0; t < Seconds; t++)
        {
            int spO2 = t % 21_600 is >= 7200 and < 7320 ? 78 : t % 300 is >= 100 and < 120 ? 86 : 94 + t / 60 % 3;
            text.Append(start.AddSeconds(t).ToString("yyyy-MM-ddTHH:mm:ss", CultureInfo.InvariantCulture)).Append(',').Append(spO2).Append(',').Append(66 + t / 600 % 12).Append('\n');
        }

        return text.ToString();
    }
}
