using System.Globalization;

namespace Stillwatch.Measure;

/// <summary>
/// The one command that measures how long the workbench lets a person wait. It judges nothing: a machine that is busy is slow. Exit codes: 0 all was measured, 2 the
/// command cannot be understood, 3 there is no browser.
/// </summary>
internal static class MeasureCommand
{
    private const string Page = "bench/results/workbench.md";
    private const int UsualRounds = 15;
    private const string Usage = """
        eng/measure               measures and prints the table
        eng/measure --write-docs  writes bench/results/workbench.md
        eng/measure --rounds N    so many times each step [15]; what stores files is done three times at most

        Exit code: 0 all was measured, 2 not understood, 3 no browser (STILLWATCH_BROWSER names one).
        """;

    public static async Task<int> RunAsync(string[] args, TextWriter output, TextWriter errors)
    {
        int rounds = UsualRounds;
        bool writes = false;
        for (int i = 0; i < args.Length; i++)
        {
            if (args[i] == "--help")
            {
                await output.WriteLineAsync(Usage);
                return 0;
            }

            if (args[i] == "--write-docs") writes = true;
            else if (args[i] != "--rounds" || ++i == args.Length || !int.TryParse(args[i], NumberStyles.None, CultureInfo.InvariantCulture, out rounds) || rounds is < 1 or > 200)
            {
                await errors.WriteLineAsync($"measure: found {string.Join(' ', args)}, expected one of these, with 1 to 200 rounds:\n{Usage}");
                return 2;
            }
        }

        await using var browser = await MeasuringBrowser.StartAsync();
        if (browser is null)
        {
            await errors.WriteLineAsync($"measure: found no browser, expected one of {string.Join(", ", MeasuringBrowser.Known)}; on Debian, as root: apt-get install chromium.");
            return 3;
        }

        var waits = new List<Wait>();
        foreach (var measure in new Func<MeasuringBrowser, int, TextWriter, Task<IReadOnlyList<Wait>>>[] { ImportWaits.MeasureAsync, NightWaits.MeasureAsync, EvidenceWaits.MeasureAsync })
            waits.AddRange(await measure(browser, rounds, errors));
        string machine = $"{Machine.Words}, {browser.Name}";
        await output.WriteAsync(WaitTable.Terminal(machine, waits));
        if (!writes) return 0;
        await File.WriteAllTextAsync(Page, WaitTable.Markdown(machine, waits));
        await output.WriteLineAsync($"Written: {Page}");
        return 0;
    }
}
