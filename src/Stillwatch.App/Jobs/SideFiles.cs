using Stillwatch.App.Commands;
using Stillwatch.App.Files;

namespace Stillwatch.App.Jobs;

/// <summary>The side files that a command was given, read; null: not given.</summary>
public sealed record SideFiles(SettingsFile? Settings, SettingsFile? Present, MustCatchFile? MustCatch, MarksFile? Marks)
{
    public static readonly SideFiles None = new(null, null, null, null);

    /// <summary>Which list of the monitor's own signals to compare with, and how.</summary>
    public LogChoice Log { get; init; } = LogChoice.Default;

    /// <exception cref="StopException">Exit code 3: a file is missing, is no JSON, or says something that cannot be.</exception>
    public static SideFiles Read(string? settings, string? present, string? mustCatch, string? marks) => new(
        settings is null ? null : SettingsFile.Read(settings),
        present is null ? null : SettingsFile.Read(present),
        mustCatch is null ? null : MustCatchFile.Read(mustCatch),
        marks is null ? null : MarksFile.Read(marks));

    /// <summary>The set of a settings file for a recording's category.</summary>
    /// <exception cref="StopException">Exit code 3: the file has none for it.</exception>
    public static NamedSettings SetFor(SettingsFile file, CategoryChoice category) =>
        file.For(category) ?? throw StopException.Unreadable(new Trouble(
            $"cannot use {file.Path}",
            "sets for " + string.Join(", ", file.Sets.Select(s => s.Category)),
            $"one for {category.Name}, or one without a category",
            $"{file.Path}, $.settings",
            "the file was written for other patients"));

    /// <summary>Marks on a file that is nowhere would do nothing, and nobody would notice: a misspelled name must not pass. Marks on other recordings of the same folder may.</summary>
    /// <exception cref="StopException">Exit code 3.</exception>
    public void CheckMarksAgainst(IReadOnlyCollection<string> pathsRead)
    {
        if (Marks is null or { IsFile: false }) return;
        string[] folders = [.. pathsRead.Select(p => Path.GetDirectoryName(Path.GetFullPath(p)) ?? ".").Distinct()];
        string[] nowhere = [.. Marks.FilesNotAmong(pathsRead.Select(p => Path.GetFileName(p))).Where(f => !folders.Any(folder => File.Exists(Path.Combine(folder, f))))];
        if (nowhere.Length == 0) return;
        throw StopException.Unreadable(new Trouble(
            $"cannot use {Marks.Path}", "marks on " + string.Join(", ", nowhere), "marks on recordings that are there", $"{Marks.Path}, $.marks",
            "a file's name is misspelled, or the marks are of other recordings"));
    }

    /// <summary>Where the files lie and what they were read as, for a report; what came from no file is not among them.</summary>
    public IEnumerable<(string Path, string Role)> Paths()
    {
        if (Present is { IsFile: true } present) yield return (present.Path, "present settings");
        if (Settings is { IsFile: true } settings) yield return (settings.Path, "settings to replay");
        if (MustCatch is { } mustCatch) yield return (mustCatch.Path, "must-catch definition");
        if (Marks is { IsFile: true } marks) yield return (marks.Path, "review marks");
        if (Log.Path is { } log) yield return (log, LogChoice.Role);
    }
}
