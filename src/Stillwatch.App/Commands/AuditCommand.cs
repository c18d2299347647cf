using System.CommandLine;
using System.Globalization;
using System.Text.Json;
using Stillwatch.App.Json;
using Stillwatch.App.Pages;
using Stillwatch.App.Terminal;
using Stillwatch.Storage.Audit;

namespace Stillwatch.App.Commands;

/// <summary><c>audit verify|list</c></summary>
internal static class AuditCommand
{
    private const string Verify = "verify", List = "list";

    private const int UsualLast = 20;

    private const int MostLast = 1_000_000;

    private static readonly Lesson Lesson = new(
        "Who did what, when, and is that list still whole?",
        "Every change of the library writes a line: who, when, what, to what. Lines are only ever added, each with a hash over itself and the line before. "
        + "verify reads every line and its hash again and names the first that does not fit: changed, deleted, put in another's place or added from outside. It then compares "
        + "settings, marks, blind looks, reports, what was read of each recording's file and what is said of it with what their lines say. "
        + "list shows the last lines.",
        [("stillwatch audit verify", "exit code 3 where a line does not fit"),
         ("stillwatch audit list --last 50", "the last fifty lines, the newest first")],
        [("line", "one change; its number is also that of the mark, the settings or the report that came with it"),
         ("hash", "SHA-256 over the line and the hash of the line before (docs/files.md)"),
         ("last hash", "that of the last line: written down elsewhere, it shows later that no line was cut off at the end")],
        ["Whoever may write the database and takes the trouble can make a whole new chain: only a last hash that is kept elsewhere shows that.",
         "Samples and annotations are not in the audit: each chunk has a checksum, which is compared when it is read. That shows a failing disk, not a forger."]);

    public static Command Create(Screen screen)
    {
        var store = new StoreOptions();
        var what = new Argument<string>("what") { HelpName = $"{Verify}|{List}" };
        what.Validators.Add(result =>
        {
            string text = result.Tokens.Count > 0 ? result.Tokens[0].Value : "";
            if (text is not (Verify or List)) result.AddError($"found '{text}', expected {Verify} or {List}");
        });
        var last = new Option<int>("--last")
        {
            HelpName = "N",
            Description = $"How many lines list shows [1–{MostLast}; {UsualLast} unless given]",
            DefaultValueFactory = _ => UsualLast,
            CustomParser = result =>
            {
                string text = result.Tokens.Count > 0 ? result.Tokens[^1].Value : "";
                if (int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out int value) && value is >= 1 and <= MostLast) return value;
                result.AddError($"--last: found '{text}', expected a whole number from 1 to {MostLast}");
                return UsualLast;
            },
        };
        var json = SharedOptions.Json();
        var command = new Command("audit", "Who did what, when; and whether that list is whole") { what, last };
        store.AddTo(command);
        command.Options.Add(json);
        TeachingHelp.Attach(command, Lesson, screen);
        command.SetAction(async (parsed, cancellation) =>
        {
            await using var opened = await store.OpenExistingAsync(parsed, TimeProvider.System, cancellation);
            bool asJson = parsed.GetValue(json);
            if (parsed.GetRequiredValue(what) == List)
            {
                var lines = await opened.Audit.LatestAsync(parsed.GetValue(last), cancellation);
                if (asJson) JsonPage.Write(screen.Out, writer => Write(writer, lines));
                else Write(new Page(screen), lines);
                return (int)ExitCode.Done;
            }

            var verdict = await opened.Audit.VerifyAsync(cancellation);
            if (asJson) JsonPage.Write(screen.Out, writer => Write(writer, verdict));
            else Write(new Page(screen), verdict, opened.Where);
            return (int)(verdict.IsWhole ? ExitCode.Done : ExitCode.Unreadable);
        });
        return command;
    }

    private static void Write(Page page, AuditVerdict verdict, string where)
    {
        page.Question("Is the audit whole?");
        page.Subject(where);
        page.Answer(verdict.IsWhole
            ? $"Whole: {Say.Count(verdict.Entries, "line", "lines")}, each fits the one before, and what was written with them stands as they say."
            : $"NOT whole, from line {verdict.BrokenAt} on: {verdict.Why}.");
        page.Text(verdict.IsWhole ? $"Last hash: {verdict.LastHash}" : $"Last hash that fits: {verdict.LastHash}");
        if (!verdict.IsWhole) page.Text("Somebody changed the database outside the program, or the disk did. Copy it as it is before anything else, and compare it with the last backup.");
        page.Caution();
    }

    private static void Write(Page page, IReadOnlyList<AuditEntry> lines)
    {
        page.Question("Who did what, when?");
        page.Answer(lines.Count == 0 ? "Nothing was done yet." : $"The last {Say.Count(lines.Count, "line", "lines")}, the newest first.");
        var table = Page.TableOf(("Line", true), ("When (UTC)", false), ("Who", false), ("What", false), ("To what", false));
        foreach (var line in lines) Page.Row(table, $"{line.Number}", $"{line.At.UtcDateTime:yyyy-MM-dd HH:mm:ss}", line.By.Name, line.Action, line.Subject);
        if (lines.Count > 0) page.Show(table);
        page.Note("Details, and every line's hash: --json.");
        page.Caution();
    }

    private static void Write(Utf8JsonWriter json, AuditVerdict verdict)
    {
        json.WriteBoolean("whole", verdict.IsWhole);
        json.WriteNumber("auditLines", verdict.Entries);
        json.WriteString("auditLastHash", verdict.LastHash);
        if (verdict.BrokenAt is { } line) json.WriteNumber("brokenAt", line);
        else json.WriteNull("brokenAt");
        json.WriteString("because", verdict.Why);
    }

    private static void Write(Utf8JsonWriter json, IReadOnlyList<AuditEntry> lines) => json.List("lines", lines, line => json.Object(() =>
    {
        json.WriteNumber("number", line.Number);
        json.WriteString("at", line.At.UtcDateTime);
        json.WriteString("by", line.By.Name);
        json.WriteString("action", line.Action);
        json.WriteString("subject", line.Subject);
        json.WriteString("detailJson", line.DetailJson);
        json.WriteString("previousHash", line.PreviousHash);
        json.WriteString("hash", line.Hash);
    }));
}
