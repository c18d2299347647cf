using Stillwatch.Alarms;
using Stillwatch.App.Commands;
using Stillwatch.App.Files;
using Stillwatch.App.Jobs;
using Stillwatch.App.Terminal;
using Stillwatch.App.Workbench.Review;
using Stillwatch.Signals;
using Stillwatch.Storage;
using Stillwatch.Storage.Recordings;

namespace Stillwatch.App.Workbench.Imports;

/// <summary>What became of a file that was to be taken in.</summary>
public enum ImportState
{
    Stored,
    ThereAlready,

    /// <summary>Not stored: a person has to say how it is to be read.</summary>
    InDoubt,

    /// <summary>Not stored: it cannot be read or kept.</summary>
    NotRead,
}

/// <summary>One file after an import.</summary>
/// <param name="Path">As it was named.</param>
/// <param name="State">What became of it.</param>
/// <param name="Preview">What is in it; null: it could not be read.</param>
/// <param name="Patient">The pseudonym it was stored under; null: none.</param>
/// <param name="Trouble">Why it was not stored.</param>
internal sealed record ImportedFile(string Path, ImportState State, ImportPreview? Preview = null, string? Patient = null, Trouble? Trouble = null);

/// <summary>Takes files and folders in without a person looking at each: whatever is in doubt stays out unless that is wanted.</summary>
/// <param name="choices">How they are to be read.</param>
/// <param name="patient">A pseudonym for all that have none; null: not known.</param>
/// <param name="unit">The unit of all; null: not known.</param>
/// <param name="asRead">Store what is in doubt as it was read.</param>
/// <param name="present">The settings that were in force, a set for each category; null: not known.</param>
internal sealed class ImportBatch(ReadingChoices choices, string? patient, string? unit, bool asRead, SettingsFile? present = null)
{
    /// <summary>All kinds of channel: nothing of a file is lost in the library.</summary>
    public static readonly IReadOnlySet<ChannelKind> Everything = Enum.GetValues<ChannelKind>().ToHashSet();

    /// <exception cref="StopException">Exit code 3: a folder's ward.json is wrong, or a folder holds no recording.</exception>
    public async Task<IReadOnlyList<ImportedFile>> RunAsync(IReadOnlyList<string> paths, ImportService service, ProgressLine progress, CancellationToken cancellation)
    {
        var files = paths.SelectMany(Expand).DistinctBy(Path.GetFullPath).ToList();
        var done = new List<ImportedFile>(files.Count);
        foreach (string file in files)
        {
            progress.Report("importing", done.Count, files.Count);
            cancellation.ThrowIfCancellationRequested();
            done.Add(await OneAsync(file, service, cancellation));
        }

        return done;
    }

    private async Task<ImportedFile> OneAsync(string path, ImportService service, CancellationToken cancellation)
    {
        ImportPreview? preview = null;
        try
        {
            preview = ImportService.Preview(path, choices);
            if (preview.Questions.Count > 0 && !asRead) return new ImportedFile(path, ImportState.InDoubt, preview, Trouble: DoubtOf(path, preview));
            var description = preview.Known with { Patient = preview.Known.Patient ?? patient, Unit = unit, SettingsInForceJson = InForceFor(preview.Known.Category) };
            string? log = preview.AlarmLog is { } name ? Path.Combine(Path.GetDirectoryName(Path.GetFullPath(path))!, name) : null;
            var outcome = await service.StoreAsync(new ImportRequest(path, choices, description, log), Actor.Local, progress: null, cancellation);
            return new ImportedFile(path, outcome == StoreOutcome.Stored ? ImportState.Stored : ImportState.ThereAlready, preview, description.Patient);
        }
        catch (StopException e)
        {
            return new ImportedFile(path, ImportState.NotRead, preview, Trouble: e.Trouble);
        }
        catch (StoreException e)
        {
            return new ImportedFile(path, ImportState.NotRead, preview, Trouble: new Trouble($"cannot store {path}", e.Found, e.Expected, e.Where, e.LikelyCause));
        }
    }

    /// <exception cref="StopException">Exit code 3: the settings file has no set for the category.</exception>
    private string? InForceFor(string? categoryName)
    {
        if (present is null) return null;
        var category = categoryName is not null && CategoryPresets.TryParse(categoryName, out var preset) ? new CategoryChoice(preset!) : CategoryChoice.AssumedAdult;
        return SettingsForm.JsonOf(SideFiles.SetFor(present, category));
    }

    private static IEnumerable<string> Expand(string path)
    {
        if (!Directory.Exists(path)) return [path];
        var found = ImportService.RecordingsIn(path, Directory.EnumerateFiles(path).Select(f => Path.GetFileName(f)!));
        return found.Count > 0
            ? found.Select(n => Path.Combine(path, n))
            : throw StopException.Unreadable(new Trouble($"no recording in {path}", "no file that looks like one", "at least one recording", path, "another folder is meant; folders inside it are not searched"));
    }

    private static Trouble DoubtOf(string path, ImportPreview preview)
    {
        string title = $"not stored: {path} is in doubt";
        return preview.Questions[0] switch
        {
            ImportQuestion.WhichSpO2 => new Trouble(title, $"several columns of SpO2, of which \"{preview.SpO2!.Label}\" would be used", "one, or the word which to use", path, "the file has several sensors: --channel NAME, or --as-read"),
            ImportQuestion.IsThereSpO2 => new Trouble(title, "no column that is SpO2", "one", path, "it has another name: --map spo2=NAME; or there is none: --as-read"),
            _ => new Trouble(title, "dates whose day and month can be exchanged", "the order of day and month", path, "the file does not tell: --date-order dmy (or mdy), or --as-read"),
        };
    }
}

internal static class ImportStates
{
    public static string InWords(this ImportState state) => state switch
    {
        ImportState.Stored => "stored",
        ImportState.ThereAlready => "there already",
        ImportState.InDoubt => "in doubt",
        _ => "not stored",
    };
}
