using System.CommandLine;
using Stillwatch.App.Json;
using Stillwatch.App.Pages;
using Stillwatch.App.Terminal;
using Stillwatch.Storage;
using Stillwatch.Storage.Backup;

namespace Stillwatch.App.Commands;

/// <summary><c>restore FILE</c></summary>
internal static class RestoreCommand
{
    private static readonly Lesson Lesson = new(
        "How does a backup become a library again, here or in another database?",
        "Puts a backup into an empty store: that of a data folder, or a PostgreSQL database. Every part is compared with its hash and the audit is read line by line; "
        + "all of it is there afterwards, or nothing. A store that holds something is refused: backups are never mixed into a library. A backup of an earlier Stillwatch goes where no "
        + "store has been, and becomes a store of this one. The audit goes on with a line that says so.",
        [("stillwatch restore library.zip --data /srv/library-2", "into a new data folder"),
         ("stillwatch restore library.zip --database \"Host=db;Database=stillwatch;Username=unit\"", "into PostgreSQL, wherever the backup came from")],
        [("SHA-256", "of the archive: compare it with what was written down when the backup was made"),
         ("last hash", "of the audit's last line when the backup was made")],
        ["Whether that is the newest backup, only whoever keeps them can tell."]);

    public static Command Create(Screen screen)
    {
        var store = new StoreOptions();
        var file = SharedOptions.SinglePath("file", "FILE");
        var json = SharedOptions.Json();
        var command = new Command("restore", "Put a backup into an empty library") { file };
        store.AddTo(command);
        command.Options.Add(json);
        TeachingHelp.Attach(command, Lesson, screen);
        command.SetAction(async (parsed, cancellation) =>
        {
            BackupSummary summary;
            using (var progress = new ProgressLine(screen))
            {
                progress.Report("restoring", 0, 0);
                summary = await WorkbenchStore.RestoreAsync(store.PlaceOf(parsed), parsed.GetRequiredValue(file), Actor.Local, TimeProvider.System, cancellation);
            }

            if (parsed.GetValue(json)) JsonPage.Write(screen.Out, writer => BackupCommand.Write(writer, summary));
            else BackupCommand.Write(new Page(screen), "What was restored?", summary);
            return (int)BackupCommand.Outcome(summary);
        });
        return command;
    }
}
