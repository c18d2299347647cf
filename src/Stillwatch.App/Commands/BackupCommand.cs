using System.CommandLine;
using System.Text.Json;
using Stillwatch.App.Json;
using Stillwatch.App.Pages;
using Stillwatch.App.Terminal;
using Stillwatch.Storage;
using Stillwatch.Storage.Backup;

namespace Stillwatch.App.Commands;

/// <summary><c>backup --to FILE</c></summary>
internal static class BackupCommand
{
    private static readonly Lesson Lesson = new(
        "How do I keep a copy of the library that is whole, and can be put back anywhere?",
        "Writes the whole store (recordings, review marks, settings and their history, reports, the audit) into one archive, as it is at one moment; the workbench may "
        + "go on meanwhile. Every part has its hash in the archive's manifest. The archive is restored into a data folder or into PostgreSQL alike, wherever it came from. "
        + "A file of that name is never written over, and a store whose audit does not fit is not backed up as if it were whole. What was read from a file and does not fit its checksum is "
        + "written as it stands and said, and the command ends with exit code 3.",
        [("stillwatch backup --to library.zip", "the store of the usual data folder"),
         ("stillwatch backup --to unit-b.zip --data /srv/unit-b", "another library")],
        [("SHA-256", "of the archive: written down elsewhere, it shows later that the archive is still the same"),
         ("last hash", "of the audit's last line: written down elsewhere, it shows later that no line was cut off")],
        ["The archive holds what the library holds, in the clear: keep it where patients' data may be kept."]);

    public static Command Create(Screen screen)
    {
        var store = new StoreOptions();
        var to = new Option<string>("--to") { HelpName = "FILE", Required = true, Description = "The archive to write; a name that is free" };
        var json = SharedOptions.Json();
        var command = new Command("backup", "Write the whole library into one archive") { to };
        store.AddTo(command);
        command.Options.Add(json);
        TeachingHelp.Attach(command, Lesson, screen);
        command.SetAction(async (parsed, cancellation) =>
        {
            BackupSummary summary;
            await using (var opened = await store.OpenExistingAsync(parsed, TimeProvider.System, cancellation))
            {
                using var progress = new ProgressLine(screen);
                progress.Report("writing the backup", 0, 0);
                summary = await opened.BackupAsync(parsed.GetRequiredValue(to), Actor.Local, cancellation);
            }

            if (parsed.GetValue(json)) JsonPage.Write(screen.Out, writer => Write(writer, summary));
            else Write(new Page(screen), "What went into the backup?", summary);
            return (int)Outcome(summary);
        });
        return command;
    }

    /// <summary>Exit code 3 where something in the backup is damaged, although all of it was written or restored.</summary>
    public static ExitCode Outcome(BackupSummary summary) => summary.DamagedRecordings > 0 ? ExitCode.Unreadable : ExitCode.Done;

    /// <summary>The page of <c>backup</c> and of <c>restore</c>.</summary>
    public static void Write(Page page, string question, BackupSummary summary)
    {
        page.Question(question);
        page.Answer(
            $"{summary.File}: {Say.Count(summary.Recordings, "recording", "recordings")}, {Say.Count(summary.Marks, "review mark", "review marks")}, "
            + $"{Say.Count(summary.Settings, "line", "lines")} of settings history, {Say.Count(summary.Reports, "report", "reports")}; {Say.Count(summary.Bytes, "byte", "bytes")}.");
        page.Text($"Made {summary.MadeAt:yyyy-MM-dd HH:mm:ss} UTC.");
        page.Text($"SHA-256: {summary.Sha256}");
        page.Text($"Audit: {Say.Count(summary.AuditEntries, "line", "lines")}, whole; last hash {summary.AuditLastHash}");
        if (summary.DamagedRecordings > 0)
        {
            page.Text(
                $"DAMAGED: {Say.Count(summary.DamagedRecordings, "recording has", "recordings have")} facts, samples or annotations that do not fit their checksums: the disk, or a change from outside. They are in the "
                + "backup as they stand, and are refused when they are opened. Look for them in an earlier backup before those are gone, or import their files again.");
        }

        page.Caution();
    }

    /// <summary>The JSON of <c>backup</c> and of <c>restore</c>.</summary>
    public static void Write(Utf8JsonWriter json, BackupSummary summary)
    {
        json.WriteString("file", summary.File);
        json.WriteNumber("bytes", summary.Bytes);
        json.WriteString("sha256", summary.Sha256);
        json.WriteString("madeAt", summary.MadeAt.UtcDateTime);
        json.Object("counts", () =>
        {
            json.WriteNumber("recordings", summary.Recordings);
            json.WriteNumber("marks", summary.Marks);
            json.WriteNumber("settings", summary.Settings);
            json.WriteNumber("reports", summary.Reports);
            json.WriteNumber("auditLines", summary.AuditEntries);
            json.WriteNumber("damagedRecordings", summary.DamagedRecordings);
        });
        json.WriteString("auditLastHash", summary.AuditLastHash);
    }
}
