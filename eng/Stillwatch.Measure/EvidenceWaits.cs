using Stillwatch.App.Jobs;
using Stillwatch.Rehearsal;
using Stillwatch.Storage.Recordings;

namespace Stillwatch.Measure;

/// <summary>Thirty nights of adults, of invented patients of their own: a control moves, and the numbers follow.</summary>
internal static class EvidenceWaits
{
    private const int Nights = 30;

    public static async Task<IReadOnlyList<Wait>> MeasureAsync(MeasuringBrowser browser, int rounds, TextWriter progress)
    {
        await progress.WriteLineAsync($"measure: {Nights} nights");
        await using var workbench = await MeasuredWorkbench.StartAsync();
        await StoreAsync(workbench);
        var page = await browser.OpenAsync(workbench.Address);
        await page.GetByText("The library").WaitForAsync();
        double opened = await MeasuringBrowser.TimeAsync(page, "element.click()", "document.querySelector('.live .big')", "header.frame a[href='evidence']");
        List<double> limit = [], area = [];
        for (int i = 0; i < rounds; i++)
        {
            int percent = i % 2 == 0 ? 85 - i % 5 : 93 - i % 3, threshold = (i % 2 == 0 ? 20 : 150) + 5 * (i % 7);
            limit.Add(await MeasuringBrowser.TimeAsync(page, Move(percent), Says("SpO2 low limit", $"{percent} %"), "#c-limit"));
            area.Add(await MeasuringBrowser.TimeAsync(page, Move(threshold), Says("Area threshold", $"{threshold} %·s"), "#c-area"));
        }

        // Delay and area together have no cell on any map: the engine runs over all nights.
        List<double> both = [];
        for (int i = 0; i < rounds; i++) both.Add(await MeasuringBrowser.TimeAsync(page, Move(5 + i), Says("Delay", $"{5 + i} s"), "#c-delay"));
        await page.Context.CloseAsync();
        return
        [
            new Wait($"settings evidence over {Nights} nights: from the click to the first answer, with the whole search for a proposal", "", [opened]),
            new Wait("the same: the limit is moved, and the numbers follow", "≤ 100 ms", limit),
            new Wait("the same: the area threshold is moved, and the numbers follow", "≤ 100 ms", area),
            new Wait("the same: a delay beside an area threshold is moved, from the first time on in this program", "≤ 100 ms", both),
        ];
    }

    private static string Move(int to) => $"element.value = '{to}'; element.dispatchEvent(new Event('input', {{ bubbles: true }}))";

    /// <summary>The numbers side by side are those of the settings asked for: their line says so, and the whole answer comes at once.</summary>
    private static string Says(string line, string words) => $"[...document.querySelectorAll('table.side tr')].find(r => r.firstElementChild.textContent === '{line}')?.querySelector('td.active')?.textContent === '{words}'";

    private static async Task StoreAsync(MeasuredWorkbench workbench)
    {
        int stored = 0;
        for (ulong seed = DemoWard.DefaultSeed; stored < Nights; seed++)
        {
            var ward = DemoWard.Compose(seed);
            string folder = Path.Combine(workbench.Folder, $"ward-{seed}");
            DemoWriter.Write(ward, folder);
            foreach (var patient in ward.Patients.Where(p => p.Profile.CategoryName == "adult"))
            {
                foreach (var night in patient.Nights.Take(Nights - stored))
                {
                    await workbench.StoreAsync(Path.Combine(folder, night.Recording.Name + ".csv"), RecordingDescription.Nothing with { Patient = $"{patient.Key}-{seed}", Category = "adult" });
                    stored++;
                }
            }
        }
    }
}
