using Stillwatch.App.Commands;
using Stillwatch.App.Files;
using Stillwatch.Formats;
using Stillwatch.Formats.AlarmLists;
using Stillwatch.Formats.Csv;
using Stillwatch.Replay.Fidelity;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.App.Jobs;

/// <summary>Finds what the monitor itself signalled, and compares a replay with it.</summary>
internal static class FidelityJob
{
    private sealed record FoundLog(AlarmLog Log, LogOrigin Origin, IReadOnlyList<ReadIssue> Issues);

    /// <summary>Null where there is no log.</summary>
    /// <exception cref="StopException">Exit code 3: the list cannot be read, or joined to the recording.</exception>
    public static FidelityModel? Of(LoadedRecording loaded, ReplayModel replay, LogChoice choice) =>
        Find(loaded, choice) is { } found ? Compared(loaded, replay, choice, found) : null;

    /// <summary>The same for several recordings; null where none has a log.</summary>
    /// <exception cref="StopException">Exit code 3: a list cannot be read, or joined to its recording.</exception>
    public static TuneFidelity? Of(IReadOnlyList<TunedRecording> recordings, SettingsTally tally, LogChoice choice, IWorkProgress progress)
    {
        var found = recordings.Select((r, i) => (r.Loaded, Replay: tally.Replays[i], Log: Find(r.Loaded, choice))).Where(f => f.Log is not null).ToList();
        if (found.Count == 0) return null;
        progress.Report("comparing with alarm logs", 0, found.Count);
        var compared = new (LoadedRecording, FidelityModel)[found.Count];
        Parallel.For(0, found.Count, i => compared[i] = (found[i].Loaded, Compared(found[i].Loaded, found[i].Replay, choice, found[i].Log!)));
        return new TuneFidelity(compared);
    }

    /// <summary>That a log is there although no settings were given to replay; null: there is none.</summary>
    public static string? WhyNotCompared(IReadOnlyList<LoadedRecording> recordings, LogChoice choice, string option)
    {
        if (choice.IsLeftAside) return null;
        int logs = recordings.Count(r => r.AlarmLog is not null || AnnotationAlarms.Of(r.Recording) is not null);
        return logs == 0 ? null : $"There is a log of what the monitor itself signalled{(recordings.Count > 1 ? $" for {logs} of {recordings.Count} recordings" : string.Empty)}. It is not compared: give the settings in force with {option}.";
    }

    private static FidelityModel Compared(LoadedRecording loaded, ReplayModel replay, LogChoice choice, FoundLog found) => new(
        FidelityComparer.Compare(loaded.Recording, replay.Settings.Settings, replay.Signals, found.Log, choice.OptionsFor(loaded.Recording.SourceAveraging)),
        found.Origin, found.Issues);

    /// <summary>What the monitor itself signalled, joined to the recording; null where nothing says it.</summary>
    /// <exception cref="StopException">Exit code 3: the list cannot be read, or joined to the recording.</exception>
    public static AlarmLog? LogOf(LoadedRecording loaded) => Find(loaded, LogChoice.Default)?.Log;

    private static FoundLog? Find(LoadedRecording loaded, LogChoice choice)
    {
        if (choice.IsLeftAside) return null;
        if (choice.Path is { } path) return Read(new AlarmLogFile(path), loaded, choice, LogOrigin.Given);
        if (loaded.AlarmLog is { } named) return Read(named, loaded, choice, LogOrigin.Ward);
        return AnnotationAlarms.Of(loaded.Recording) is { } notes ? new FoundLog(notes, LogOrigin.Notes, []) : null;
    }

    private static FoundLog Read(AlarmLogFile log, LoadedRecording loaded, LogChoice choice, LogOrigin origin)
    {
        var recording = loaded.Recording;
        var end = recording.Channels.Select(c => c.Times).Where(t => t.Count > 0).Select(t => t.End).DefaultIfEmpty().Max();
        try
        {
            using var stream = log.Open();
            var options = CsvReadOptions.Default with { DateOrder = choice.DateOrder };
            var result = AlarmListReader.Read(stream, Path.GetFileName(log.Path), recording.Start, end - default(SampleTime), options);
            return new FoundLog(result.Log, origin, result.Issues);
        }
        catch (UnreadableFileException e)
        {
            throw StopException.Unreadable(new Trouble($"cannot use the alarm log {log.Path} of {loaded.File.Name}", e.Found, e.Expected, e.Where, e.LikelyCause), e);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or NotSupportedException)
        {
            throw StopException.Unreadable(InputFile.WhyNotOpened(log.Path, e), e);
        }
    }
}
