using Stillwatch.Accuracy.Page;
using Stillwatch.Accuracy.Recordings;
using Stillwatch.Accuracy.Rows;

namespace Stillwatch.Accuracy;

/// <summary>
/// The one command that measures and prints the accuracy table. Exit codes: 0 every row was measured and reaches what it should (with --verify: the page agrees),
/// 1 a figure is missed (with --verify: the page does not agree), 2 the command cannot be understood or the page is not there, 3 a row's data are not on this machine.
/// </summary>
internal static class AccuracyCommand
{
    private const string Page = "docs/accuracy.md";
    private const string Usage = """
        eng/accuracy               measures every row and prints the table
        eng/accuracy --json        the same for programs
        eng/accuracy --write-docs  writes docs/accuracy.md
        eng/accuracy --verify      compares docs/accuracy.md with a new measurement
        eng/accuracy --only TEXT   the rows whose key holds the text, printed only

        Exit code: 0 all measured and met (--verify: the page agrees), 1 a figure is missed (--verify: it does not agree), 2 not understood,
        3 data of a row are not on this machine.
        """;

    public static int Run(string[] args, OpenData data, TextWriter output, TextWriter errors)
    {
        string[] plain = ["--json", "--write-docs", "--verify", "--help", "--only"];
        int only = Array.IndexOf(args, "--only");
        var others = args.Where((_, i) => only < 0 || i != only + 1).ToList();
        if (others.FirstOrDefault(a => !plain.Contains(a)) is { } unknown || (only >= 0 && only + 1 >= args.Length))
        {
            errors.WriteLine($"accuracy: found {string.Join(' ', args)}, expected one of these:\n{Usage}");
            return 2;
        }

        if (args.Contains("--help"))
        {
            output.WriteLine(Usage);
            return 0;
        }

        if (only >= 0 && (args.Contains("--write-docs") || args.Contains("--verify")))
        {
            errors.WriteLine("accuracy: found --only beside --write-docs or --verify; the page holds all rows or none.");
            return 2;
        }

        var rows = AccuracyRows.Measure(data, only >= 0 ? args[only + 1] : "");
        if (args.Contains("--verify")) return Verify(rows, output, errors);
        if (args.Contains("--write-docs")) return Write(rows, output, errors);
        if (rows.Count == 0)
        {
            errors.WriteLine($"accuracy: found no row whose key holds '{args[only + 1]}'; expected a part of one of: {string.Join(", ", AccuracyRows.Keys)}.");
            return 2;
        }

        output.Write(args.Contains("--json") ? RowsAsJson.Write(rows) + "\n" : PageText.Terminal(rows));
        return rows.Any(r => r.IsMissed) ? 1 : rows.Any(r => r.NotMeasured is not null) ? 3 : 0;
    }

    private static int Verify(IReadOnlyList<AccuracyRow> rows, TextWriter output, TextWriter errors)
    {
        if (!File.Exists(Page))
        {
            errors.WriteLine($"accuracy: found no {Page} in {Directory.GetCurrentDirectory()}, expected it in the checkout's root; eng/accuracy --write-docs writes it.");
            return 2;
        }

        var missing = rows.Where(r => r.NotMeasured is not null).Select(r => r.Key).ToList();
        if (missing.Count > 0) output.WriteLine($"Not compared, for {OpenRows.Missing}: {string.Join(", ", missing)}");
        var differences = PageComparison.Differences(File.ReadAllText(Page), PageText.Markdown(rows), missing);
        foreach (string difference in differences) output.WriteLine(difference);
        output.WriteLine(differences.Count == 0
            ? $"{Page} agrees with what was measured now."
            : $"{Page} does not agree in {differences.Count} lines. A figure that got worse is a defect; where the change is meant, eng/accuracy --write-docs writes the page anew.");
        return differences.Count > 0 ? 1 : missing.Count > 0 ? 3 : 0;
    }

    private static int Write(IReadOnlyList<AccuracyRow> rows, TextWriter output, TextWriter errors)
    {
        if (rows.FirstOrDefault(r => r.NotMeasured is not null) is { } missing)
        {
            errors.WriteLine($"accuracy: the page is not written, for {missing.Key} could not be measured: {missing.NotMeasured}. Put them beside the checkout, or name their folder in STILLWATCH_DATA.");
            return 3;
        }

        File.WriteAllText(Page, PageText.Markdown(rows));
        output.WriteLine($"Wrote {Page}.");
        return 0;
    }
}
