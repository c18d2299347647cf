using Stillwatch.App.Commands;
using Stillwatch.App.Files;
using Stillwatch.App.Jobs;
using Stillwatch.App.Terminal;
using Stillwatch.Formats;
using Stillwatch.Storage;
using Stillwatch.Storage.Recordings;

namespace Stillwatch.App.Workbench.Imports;

/// <summary>A file that is to be stored.</summary>
/// <param name="Path">Where it lies.</param>
/// <param name="Choices">How it is to be read.</param>
/// <param name="Description">What is said of it.</param>
/// <param name="AlarmLog">Path of the list of what the monitor itself signalled; null: none.</param>
internal sealed record ImportRequest(string Path, ReadingChoices Choices, RecordingDescription Description, string? AlarmLog);

/// <summary>From files to recordings of the library: the one road, for the page and for the command.</summary>
internal sealed class ImportService(IWorkbenchStore store)
{
    private const long LargestLog = 16 << 20;

    /// <summary>The recordings of a folder: what ward.json names, and what else looks like one and is no alarm log of those.</summary>
    /// <exception cref="StopException">Exit code 3: its ward.json is wrong.</exception>
    public static IReadOnlyList<string> RecordingsIn(string folder, IEnumerable<string> names)
    {
        string[] all = [.. names.Order(StringComparer.Ordinal)];
        var manifest = WardManifest.OfFolder(folder);
        var logs = manifest?.Recordings.Select(r => r.AlarmLog).OfType<string>().ToHashSet() ?? [];
        var named = manifest?.Recordings.Select(r => r.File).ToList() ?? [];
        var found = RecordingReaders.RecordingsAmong(new DiskFolder(folder), all).Where(n => !logs.Contains(n) && n != WardManifest.FileName);
        return [.. named.Concat(found).Distinct()];
    }

    /// <summary>Reads a file to be looked at. Nothing is stored.</summary>
    /// <exception cref="StopException">Exit code 3: it cannot be read.</exception>
    public static ImportPreview Preview(string path, ReadingChoices choices)
    {
        using var silent = Silent();
        return ImportPreview.Of(new RecordingLoader(choices, silent).LoadFile(path), choices.Channel is not null || choices.Map.Channels.ContainsKey(Signals.ChannelKind.SpO2));
    }

    /// <summary>Reads a file and stores it whole, or not at all.</summary>
    /// <exception cref="StopException">Exit code 3: it, or its alarm log, cannot be read.</exception>
    /// <exception cref="StoreException">It cannot be stored.</exception>
    public async Task<StoreOutcome> StoreAsync(ImportRequest request, Actor actor, IProgress<double>? progress = null, CancellationToken cancellation = default)
    {
        using var silent = Silent();
        var loaded = new RecordingLoader(request.Choices, silent).LoadFile(request.Path);
        cancellation.ThrowIfCancellationRequested();
        return await store.Recordings.StoreAsync(NewRecordingOf(loaded, request), actor, progress, cancellation);
    }

    private static NewRecording NewRecordingOf(LoadedRecording loaded, ImportRequest request) => new()
    {
        Id = RecordingId.OfIdentity(loaded.File.Identity),
        Recording = loaded.Recording,
        Files = [.. loaded.File.Parts.Prepend(loaded.File).Select(f => new SourceFile(f.Name, f.Sha256, f.Bytes))],
        Format = loaded.Format,
        Issues = loaded.Issues,
        Description = request.Description,
        ExportOf = loaded.File.ExportOf,
        IsInvented = loaded.IsInvented,
        Attachments = request.AlarmLog is { } log ? [new Attachment(LogChoice.Role, Path.GetFileName(log), LogBytes(log))] : [],
    };

    private static byte[] LogBytes(string path)
    {
        try
        {
            using var stream = InputFile.OpenRead(path);
            if (stream.Length > LargestLog)
                throw StopException.Unreadable(new Trouble($"cannot keep the alarm log {Path.GetFileName(path)}", $"{stream.Length:#,0} bytes", $"at most {LargestLog:#,0} bytes", path, "a recording was named in place of a list of alarms"));
            using var bytes = new MemoryStream();
            stream.CopyTo(bytes);
            return bytes.ToArray();
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or NotSupportedException)
        {
            throw StopException.Unreadable(InputFile.WhyNotOpened(path, e), e);
        }
    }

    private static ProgressLine Silent() => new(Screen.Plain(TextWriter.Null, TextWriter.Null));
}
