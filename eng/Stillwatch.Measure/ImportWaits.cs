namespace Stillwatch.Measure;

/// <summary>The demo ward taken in: twenty-four nights of eight hours, a row a second, invented, written, read, looked at and stored.</summary>
internal static class ImportWaits
{
    private const int MostRounds = 3;

    public static async Task<IReadOnlyList<Wait>> MeasureAsync(MeasuringBrowser browser, int rounds, TextWriter progress)
    {
        var times = new List<double>();
        for (int i = 0; i < Math.Min(rounds, MostRounds); i++)
        {
            await progress.WriteLineAsync($"measure: the demo ward, {i + 1} of {Math.Min(rounds, MostRounds)}");
            await using var workbench = await MeasuredWorkbench.StartAsync();
            var page = await browser.OpenAsync(workbench.Address);
            await page.GetByText("Drop files here").WaitForAsync();
            times.Add(await MeasuringBrowser.TimeAsync(
                page,
                "[...document.querySelectorAll('button')].find(b => b.textContent.includes('invented demo ward')).click()",
                "document.body.innerText.includes('24 recordings were stored.')"));
            await page.Context.CloseAsync();
        }

        return [new Wait("24 nights of the demo ward invented, read and stored, after one click", "", times)];
    }
}
