using System.Security.Cryptography;
using Stillwatch.App.Commands;
using Stillwatch.App.Files;
using Stillwatch.Formats;
using Stillwatch.Formats.Exports;
using Stillwatch.Signals;

namespace Stillwatch.App.Jobs;

/// <summary>A recording that is to become a file.</summary>
/// <param name="To">The file; its ending names the format.</param>
/// <param name="Writer">Of that format.</param>
/// <param name="Recording">What is written.</param>
/// <param name="Manifest">What stands beside it, from the file as it was written and from what its format rounds or leaves out.</param>
internal sealed record PlannedFile(string To, IRecordingWriter Writer, Recording Recording, Func<ExportedFile, IReadOnlyList<ReadIssue>, ExportManifest> Manifest)
{
    public string ManifestPath => To + ExportManifest.Suffix;
}

/// <summary>What became of a <see cref="PlannedFile"/>.</summary>
/// <param name="Output">Name, hash, length.</param>
/// <param name="Issues">What the format rounds or leaves out.</param>
internal sealed record WrittenFile(ExportedFile Output, IReadOnlyList<ReadIssue> Issues);

/// <summary>Recordings and their manifests on disk: all of them whole, or none.</summary>
internal static class ExportFiles
{
    public static readonly string Software = $"Stillwatch {typeof(ExportFiles).Assembly.GetName().Version?.ToString(3)}";

    /// <summary>Every format that can be written, for a help text.</summary>
    public static readonly string Endings = string.Join(", ", RecordingWriters.All.Select(w => $"{w.Extension} ({w.Format})"));

    /// <summary>Says before anything is read or computed whether a file may be written.</summary>
    /// <exception cref="StopException">Exit code 2: no format ends so, a file stands there, or one that is read would be replaced.</exception>
    public static IRecordingWriter CheckTarget(string to, bool replace, IReadOnlyCollection<string> inputs, string option = "--to")
    {
        var writer = RecordingWriters.For(to)
            ?? throw StopException.Usage(new Trouble($"cannot write {to}", $"the ending \"{Path.GetExtension(to)}\"", "one of " + string.Join(", ", RecordingWriters.All.Select(w => w.Extension)), option, "the ending names the format"));
        RefuseInputs(to, inputs, option);
        foreach (string path in new[] { to, to + ExportManifest.Suffix })
        {
            if (!replace && Path.Exists(path))
                throw StopException.Usage(new Trouble($"cannot write {path}", "a file of this name", "none", option, "it was written before; choose another name, or replace it with --replace"));
        }

        return writer;
    }

    /// <exception cref="StopException">Exit code 2: the file or its manifest is one that is read.</exception>
    public static void RefuseInputs(string to, IReadOnlyCollection<string> inputs, string option = "--to")
    {
        foreach (string path in new[] { to, to + ExportManifest.Suffix })
        {
            if (inputs.FirstOrDefault(i => IsSame(i, path)) is { } same)
                throw StopException.Usage(new Trouble($"cannot write {path}", $"the file {same}, which is read", "another file", option, "input files are only ever read; choose another name"));
        }
    }

    /// <exception cref="StopException">Exit code 3: a file cannot be written; 4: its format cannot hold the recording.</exception>
    public static IReadOnlyList<WrittenFile> Write(IReadOnlyList<PlannedFile> files, bool replace)
    {
        var drafts = new List<(string Draft, string Path)>();
        var written = new List<WrittenFile>();
        string at = files[0].To;
        try
        {
            foreach (var file in files)
            {
                at = file.To;
                string recordingDraft = FilesTogether.DraftFor(file.To), manifestDraft = FilesTogether.DraftFor(file.ManifestPath);
                drafts.Add((manifestDraft, file.ManifestPath));
                drafts.Add((recordingDraft, file.To));
                IReadOnlyList<ReadIssue> issues;
                using (var stream = New(recordingDraft)) issues = file.Writer.Write(file.Recording, stream);
                var output = Described(recordingDraft, Path.GetFileName(file.To));
                using (var stream = New(manifestDraft)) file.Manifest(output, issues).Write(stream);
                written.Add(new WrittenFile(output, issues));
            }

            FilesTogether.Place(drafts, replace);
            return written;
        }
        catch (UnwritableRecordingException e)
        {
            throw StopException.NothingComputable(new Trouble($"cannot write {at}", e.Found, e.Expected, e.Where, e.WhatHelps));
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or NotSupportedException)
        {
            // The draft's name is nobody's business: what was asked for is named.
            string found = e is DirectoryNotFoundException ? $"no folder '{Path.GetDirectoryName(Path.GetFullPath(at))}'" : drafts.Aggregate(e.Message, (text, d) => text.Replace(Path.GetFullPath(d.Draft), d.Path, StringComparison.Ordinal));
            throw StopException.Unreadable(new Trouble($"cannot write {at}", found, "a file that may be written", at, "the folder does not exist, belongs to another account, or the disk is full"), e);
        }
        finally
        {
            foreach (var (draft, _) in drafts) FilesTogether.Discard(draft);
        }
    }

    public static bool IsSame(string one, string other) => string.Equals(
        Path.GetFullPath(one), Path.GetFullPath(other), OperatingSystem.IsLinux() ? StringComparison.Ordinal : StringComparison.OrdinalIgnoreCase);

    private static FileStream New(string path) => new(path, FileMode.CreateNew, FileAccess.Write, FileShare.None, 1 << 16);

    private static ExportedFile Described(string path, string name)
    {
        using var stream = InputFile.OpenRead(path);
        return new ExportedFile(name, Convert.ToHexStringLower(SHA256.HashData(stream)), stream.Length);
    }
}
