using Stillwatch.App.Commands;
using Stillwatch.App.Files;
using Stillwatch.App.Terminal;
using Stillwatch.Formats;
using Stillwatch.Formats.Csv;
using Stillwatch.Formats.Exports;
using Stillwatch.Oximetry;
using Stillwatch.Rehearsal;
using Stillwatch.Signals;
using Stillwatch.Time;
using Stillwatch.Tuning.Proposals;

namespace Stillwatch.App.Jobs;

/// <summary>How recordings are to be read, for one command.</summary>
/// <param name="Map">Columns named with --map.</param>
/// <param name="Channel">The SpO2 column named with --channel; null: the reader chooses.</param>
/// <param name="Category">Named with --category; null: ward.json's, else adult, assumed.</param>
/// <param name="Period">Declared with --period; null: from the file's times.</param>
/// <param name="Rate">Rows a second, likewise.</param>
/// <param name="DateOrder">Told with --date-order.</param>
/// <param name="Wanted">The kinds of channel to hold; null: all.</param>
/// <param name="Progress">Called now and then with the bytes of a file read so far, on the thread that reads it; an exception of it ends the reading.</param>
public sealed record ReadingChoices(
    ColumnMap Map, string? Channel, CategoryChoice? Category, Duration? Period = null, SampleRate? Rate = null, DateOrder DateOrder = DateOrder.Ask, IReadOnlySet<ChannelKind>? Wanted = null, Action<long>? Progress = null);

/// <summary>What was read of the files that were named.</summary>
/// <param name="Recordings">In the order of the command line; a folder's by name.</param>
/// <param name="Unreadable">The files that could not be read; a command that has any ends with exit code 3.</param>
/// <param name="LeftOut">Recordings in a folder that its ward.json does not name.</param>
/// <param name="Notes">What the manifests say of themselves, such as that the data are invented.</param>
public sealed record LoadedSet(
    IReadOnlyList<LoadedRecording> Recordings,
    IReadOnlyList<UnreadableFile> Unreadable,
    IReadOnlyList<string> LeftOut,
    IReadOnlyList<string> Notes)
{
    /// <summary>Every file that was, or could not be, read.</summary>
    public IReadOnlyCollection<string> Paths => [.. Recordings.Select(r => r.File.Path), .. Unreadable.Select(u => u.Path), .. Recordings.Select(r => r.AlarmLog?.OnDisk).OfType<string>()];
}

/// <summary>Reads recordings from files and folders, several at once, and joins to them what ward.json knows.</summary>
internal sealed class RecordingLoader(ReadingChoices choices, ProgressLine progress)
{
    private readonly Dictionary<string, WardManifest?> manifests = [];

    /// <summary>One recording, for a command that takes no more.</summary>
    /// <exception cref="StopException">Exit code 3.</exception>
    public LoadedRecording LoadFile(string path)
    {
        progress.Report("reading", 0, 0);
        return LoadOne(path);
    }

    /// <summary>The recordings of a folder.</summary>
    /// <exception cref="StopException">Exit code 3: it is none, or holds none.</exception>
    public LoadedSet LoadFolder(string path) => Directory.Exists(path)
        ? Load([path])
        : throw StopException.Unreadable(new Trouble($"cannot read {path}", File.Exists(path) ? "a file" : "no such folder", "a folder of recordings", path, "for single files use tune or review"));

    /// <exception cref="StopException">Exit code 3: a path is neither file nor folder, a folder holds no recording, or a manifest is wrong.</exception>
    public LoadedSet Load(IReadOnlyList<string> paths)
    {
        var leftOut = new List<string>();
        var files = paths.SelectMany(p => Expand(p, leftOut)).DistinctBy(Path.GetFullPath).ToList();
        foreach (string file in files) ManifestBeside(file); // before reading in parallel: errors in it come first
        var results = new object[files.Count];
        int done = 0;
        progress.Report("reading", 0, files.Count);
        Parallel.For(0, files.Count, i =>
        {
            try
            {
                results[i] = LoadOne(files[i]);
            }
            catch (StopException e)
            {
                results[i] = new UnreadableFile(files[i], e.Trouble);
            }

            progress.Report("reading", Interlocked.Increment(ref done), files.Count);
        });
        string[] notes = [.. manifests.Values.Select(m => m?.Note).OfType<string>().Distinct()];
        return new LoadedSet([.. results.OfType<LoadedRecording>()], [.. results.OfType<UnreadableFile>()], leftOut, notes);
    }

    /// <exception cref="StopException">Exit code 3.</exception>
    private LoadedRecording LoadOne(string path)
    {
        var file = InputFile.Of(path);
        var manifest = ManifestBeside(path);
        var entry = manifest?.Find(file.Name);
        string folderPath = Path.GetDirectoryName(Path.GetFullPath(path))!;
        var folder = new NotingFolder(folderPath);
        var result = Read(path, new RecordingSource(file.Name, folder), entry?.SourceAveraging ?? SourceAveraging.Unknown);
        file = file with { Parts = [.. folder.Opened.Where(n => n != file.Name).Select(n => InputFile.Of(Path.Combine(folderPath, n)))] };
        var (exported, isSaidToBeInvented) = ExportedFrom.Of(new RecordingSource(file.Name, new DiskFolder(folderPath)), file.Sha256);
        file = file with { ExportOf = exported.Count > 0 ? string.Join(' ', exported) : null };
        if (result.Recording is null)
        {
            var worst = result.Issues.Count > 0 ? result.Issues[0] : null;
            throw StopException.Unreadable(new Trouble(
                $"cannot read {path}",
                worst?.Found ?? "no row that could be used",
                worst?.Expected ?? "a table with a time and numbers",
                worst is null ? path : worst.Place.StartsWith(file.Name, StringComparison.Ordinal) ? path + worst.Place[file.Name.Length..] : $"{path}, {worst.Place}",
                worst is { Severity: IssueSeverity.Failure } ? $"nothing else of the file could be read: {worst.Assumed}" : "the file is no recording, or its columns need --map"));
        }

        var category = choices.Category ?? entry?.Category ?? CategoryChoice.AssumedAdult;
        bool isInvented = isSaidToBeInvented || (manifest is { IsInvented: true } && entry is not null) || InventedData.SaysSo(result.Recording);
        return new LoadedRecording(file, result.Recording, IssuesOf(result, path), entry?.Patient ?? file.Name, category, entry?.Oxygen ?? OxygenStatus.Unknown, entry is not null, isInvented, result.Format)
        {
            AlarmLog = entry?.AlarmLog is { } log ? new AlarmLogFile(Path.Combine(folderPath, log)) : null,
        };
    }

    // Numbers of ours are judged by the same rules as a monitor's, but nobody may take them for those.
    private static IReadOnlyList<ReadIssue> IssuesOf(ReadResult result, string path) => !DerivedNumerics.IsDerived(result.Recording!) ? result.Issues :
    [
        new ReadIssue(IssueSeverity.Doubt, "recording.derived", Path.GetFileName(path), "numbers that Stillwatch derived from light", "the monitor's own numbers",
            "judged by the same rules; they are not what a monitor showed, and no evidence of what it would have signalled"),
        .. result.Issues,
    ];

    private ReadResult Read(string path, RecordingSource source, SourceAveraging averaging)
    {
        var options = CsvReadOptions.Default with
        {
            Map = choices.Map,
            Channel = choices.Channel,
            DeclaredPeriod = choices.Period,
            DeclaredRate = choices.Rate,
            DateOrder = choices.DateOrder,
            Wanted = choices.Wanted,
            Progress = choices.Progress,
            SourceAveraging = averaging,
        };
        try
        {
            return RecordingReaders.Read(source, options);
        }
        catch (UnreadableFileException e)
        {
            throw StopException.Unreadable(new Trouble($"cannot read {path}", e.Found, e.Expected, e.Where, e.LikelyCause), e);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw StopException.Unreadable(InputFile.WhyNotOpened(path, e), e);
        }
    }

    private string[] Expand(string path, List<string> leftOut)
    {
        if (!Directory.Exists(path)) return [path];
        var names = Directory.EnumerateFiles(path).Select(f => Path.GetFileName(f)!).Order(StringComparer.Ordinal);
        string[] found = [.. RecordingReaders.RecordingsAmong(new DiskFolder(path), names).Select(n => Path.Combine(path, n))];
        if (ManifestBeside(Path.Combine(path, WardManifest.FileName)) is { } manifest)
        {
            leftOut.AddRange(found.Where(f => manifest.Find(Path.GetFileName(f)) is null && manifest.Recordings.All(r => r.AlarmLog != Path.GetFileName(f))));
            found = [.. manifest.Recordings.Select(r => Path.Combine(path, r.File))];
        }

        return found.Length > 0
            ? found
            : throw StopException.Unreadable(new Trouble($"no recording in {path}", "no file ending in " + string.Join(", ", RecordingReaders.Extensions), "at least one recording", path, "another folder is meant; folders inside it are not searched"));
    }

    private WardManifest? ManifestBeside(string file)
    {
        string folder = Path.GetDirectoryName(Path.GetFullPath(file)) ?? ".";
        lock (manifests)
        {
            if (!manifests.TryGetValue(folder, out var manifest)) manifests[folder] = manifest = WardManifest.OfFolder(folder);
            return manifest;
        }
    }
}
