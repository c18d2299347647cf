using System.CommandLine;
using System.Text.Json;
using Stillwatch.App.Files;
using Stillwatch.App.Jobs;
using Stillwatch.App.Json;
using Stillwatch.App.Pages;
using Stillwatch.App.Terminal;
using Stillwatch.App.Workbench.Imports;
using Stillwatch.Signals;

namespace Stillwatch.App.Commands;

/// <summary><c>import FILE|FOLDER...</c></summary>
internal static class ImportCommand
{
    private static readonly Lesson Lesson = new(
        "How do many files get into the library at once?",
        "Reads each file, all of its channels, and stores it in the library that stillwatch serve shows; what ward.json beside it knows goes along, with its alarm log. "
        + "Each recording is stored whole or not at all, and the same bytes are the same recording: an import that was broken off can be run again. A file that is in doubt "
        + "(several columns of SpO2, none, or dates whose day and month can be exchanged) is not stored before that is decided: by --map, --channel or --date-order, or by --as-read. "
        + "The files are only read.",
        [("stillwatch import stillwatch-demo --present stillwatch-demo/present-settings.json", "the invented ward (after stillwatch demo)"),
         ("stillwatch import nights/*.csv --unit B2 --data /srv/unit-b", "many files of one unit into another library")],
        [("stored", "it is in the library, durably"),
         ("there already", "the same bytes were in the library before; nothing was changed"),
         ("in doubt", "not stored, for a person has to say how it is to be read")],
        ["Pseudonyms only: no name of a patient belongs into --patient."]);

    public static Command Create(Screen screen)
    {
        var paths = SharedOptions.Paths("files", "FILE|FOLDER");
        var reading = new ReadingOptions(forRules: true);
        var store = new StoreOptions();
        var patient = new Option<string?>("--patient") { HelpName = "NAME", Description = "The patient's pseudonym, where ward.json says none; all files are then of this patient" };
        var unit = new Option<string?>("--unit") { HelpName = "NAME", Description = "The ward or unit" };
        var asRead = new Option<bool>("--as-read") { Description = "Store what is in doubt as it was read" };
        var present = SharedOptions.Present();
        var json = SharedOptions.Json();
        var command = new Command("import", "Take recordings into the library that serve shows") { paths };
        store.AddTo(command);
        reading.AddTo(command);
        foreach (var option in new Option[] { patient, unit, present, asRead, json }) command.Options.Add(option);
        TeachingHelp.Attach(command, Lesson, screen);
        command.SetAction(async (parsed, cancellation) =>
        {
            var batch = new ImportBatch(reading.Of(parsed) with { Wanted = ImportBatch.Everything }, parsed.GetValue(patient), parsed.GetValue(unit), parsed.GetValue(asRead),
                parsed.GetValue(present) is { } settings ? SettingsFile.Read(settings) : null);
            IReadOnlyList<ImportedFile> done;
            await using (var opened = await store.OpenAsync(parsed, TimeProvider.System, cancellation))
            {
                using var progress = new ProgressLine(screen);
                done = await batch.RunAsync(parsed.GetRequiredValue(paths), new ImportService(opened), progress, cancellation);
            }

            if (parsed.GetValue(json)) JsonPage.Write(screen.Out, writer => Write(writer, done));
            else Write(new Page(screen), done);
            return (int)Outcome.Of([.. done.Where(d => d.Trouble is not null).Select(d => new UnreadableFile(d.Path, d.Trouble!))], screen);
        });
        return command;
    }

    private static void Write(Page page, IReadOnlyList<ImportedFile> done)
    {
        page.Question("What was taken into the library?");
        page.Answer($"{Count(done, ImportState.Stored)} stored, {Count(done, ImportState.ThereAlready)} there already, {Count(done, ImportState.InDoubt)} in doubt, {Count(done, ImportState.NotRead)} not stored.");
        var table = Page.TableOf(("File", false), ("State", false), ("Patient", false), ("SpO2 from", false), ("Doubts", true));
        foreach (var file in done)
            Page.Row(table, Path.GetFileName(file.Path), file.State.InWords(), file.Patient ?? Say.Nothing, file.Preview?.SpO2?.Label ?? Say.Nothing, $"{file.Preview?.Issues.Count(i => i.Severity >= IssueSeverity.Doubt) ?? 0}");
        if (done.Count > 0) page.Show(table);
        foreach (var file in done.Where(d => d.Trouble is not null)) page.Bullet($"{Path.GetFileName(file.Path)}: found {file.Trouble!.Found}; expected {file.Trouble.Expected}. Likely cause: {file.Trouble.LikelyCause}.");
        if (done.Any(d => d.Preview is { IsInvented: true })) page.Text("Data marked as invented show no real patient and are no evidence about any.");
        page.Caution();
    }

    private static void Write(Utf8JsonWriter json, IReadOnlyList<ImportedFile> done) => json.List("files", done, file => json.Object(() =>
    {
        json.WriteString("file", file.Path);
        json.WriteString("state", Shapes.Name(file.State));
        json.WriteString("recording", file.Preview?.Id.Text);
        json.WriteString("patient", file.Patient);
        json.WriteBoolean("invented", file.Preview?.IsInvented ?? false);
        json.WriteString("spo2Channel", file.Preview?.SpO2?.Label);
        if (file.Preview is { } preview) json.Issues(preview.Issues);
        if (file.Trouble is not { } trouble) return;
        json.WriteString("found", trouble.Found);
        json.WriteString("expected", trouble.Expected);
        json.WriteString("where", trouble.Where);
        json.WriteString("likelyCause", trouble.LikelyCause);
    }));

    private static int Count(IReadOnlyList<ImportedFile> done, ImportState state) => done.Count(d => d.State == state);
}
