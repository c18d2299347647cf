using System.Security.Cryptography;
using Stillwatch.App.Commands;
using Stillwatch.App.Files;
using Stillwatch.App.Json;
using Stillwatch.Conditioning;
using Stillwatch.Formats;
using Stillwatch.Formats.Exports;
using Stillwatch.Signals;

namespace Stillwatch.App.Jobs;

/// <summary>From a recording to a file of another format with its manifest; both appear whole or not at all.</summary>
internal static class ExportJob
{
    private static readonly string Software = $"Stillwatch {typeof(ExportJob).Assembly.GetName().Version?.ToString(3)}";

    /// <summary>Says before anything is read whether the file may be written.</summary>
    /// <exception cref="StopException">Exit code 2: no format ends so, a file stands there, or one that is read would be replaced.</exception>
    public static IRecordingWriter CheckTarget(ExportRequest request, string input, SideFiles side)
    {
        var writer = RecordingWriters.For(request.To)
            ?? throw StopException.Usage(new Trouble($"cannot write {request.To}", $"the ending \"{Path.GetExtension(request.To)}\"", "one of " + string.Join(", ", RecordingWriters.All.Select(w => w.Extension)), "--to", "the ending names the format"));
        string[] inputs = [input, input + ExportManifest.Suffix, Path.Combine(Path.GetDirectoryName(Path.GetFullPath(input)) ?? ".", WardManifest.FileName), .. side.Paths().Select(s => s.Path), .. request.SecretPath is { } secret ? [secret] : Array.Empty<string>()];
        foreach (string path in new[] { request.To, request.ManifestPath })
        {
            RefuseInputs(path, inputs);
            if (!request.Replace && Path.Exists(path))
                throw StopException.Usage(new Trouble($"cannot write {path}", "a file of this name", "none", "--to", "it was written before; choose another name, or replace it with --replace"));
        }

        return writer;
    }

    /// <summary>The same for the files that a recording turned out to consist of.</summary>
    /// <exception cref="StopException">Exit code 2.</exception>
    public static void CheckParts(ExportRequest request, LoadedRecording loaded)
    {
        foreach (string path in new[] { request.To, request.ManifestPath }) RefuseInputs(path, [loaded.File.Path, .. loaded.File.Parts.Select(p => p.Path)]);
    }

    /// <exception cref="StopException">Exit code 3: the file cannot be written; 4: the format cannot hold the recording.</exception>
    public static ExportModel Run(LoadedRecording loaded, ExportRequest request, IRecordingWriter writer, ConditioningSettings conditioning, SideFiles side)
    {
        var secret = request.DeIdentify ? SecretFile.Open(request.SecretPath ?? SecretFile.StandardPath) : null;
        var findings = ExportFinder.Find(loaded, conditioning, side, request.WithEvents, secret?.Secret);
        var deIdentified = secret is null ? null : DeIdentified.Of(loaded.Recording, request.Patient ?? loaded.Patient, secret.Secret);
        var original = deIdentified?.Recording ?? loaded.Recording;
        // An export that is exported again holds our own notes already: the same one is not written twice.
        var added = findings.Notes.Except(original.Annotations);
        var written = original with { Annotations = [.. original.Annotations.Concat(added).OrderBy(a => a.Time)] };
        var model = new ExportModel
        {
            Loaded = loaded,
            Request = request,
            Conditioning = conditioning,
            Findings = findings,
            Written = written,
            Format = writer.Format,
            Issues = [],
            DeIdentified = deIdentified,
            Secret = secret,
        };
        return Write(model, writer);
    }

    private static ExportModel Write(ExportModel model, IRecordingWriter writer)
    {
        var request = model.Request;
        string recordingDraft = FilesTogether.DraftFor(request.To), manifestDraft = FilesTogether.DraftFor(request.ManifestPath);
        try
        {
            using (var stream = New(recordingDraft)) model = model with { Issues = writer.Write(model.Written, stream) };
            model = model with { Output = Described(recordingDraft, Path.GetFileName(request.To)) };
            using (var stream = New(manifestDraft)) ManifestOf(model).Write(stream);
            FilesTogether.Place([(manifestDraft, request.ManifestPath), (recordingDraft, request.To)], request.Replace);
            return model;
        }
        catch (UnwritableRecordingException e)
        {
            throw StopException.NothingComputable(new Trouble($"cannot write {request.To}", e.Found, e.Expected, e.Where, e.WhatHelps));
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or NotSupportedException)
        {
            throw StopException.Unreadable(new Trouble($"cannot write {request.To}", e.Message, "a file that may be written", request.To, "the folder does not exist, belongs to another account, or the disk is full"), e);
        }
        finally
        {
            FilesTogether.Discard(recordingDraft);
            FilesTogether.Discard(manifestDraft);
        }
    }

    private static ExportManifest ManifestOf(ExportModel model) => new()
    {
        Software = Software,
        Inputs = model.DeIdentified is null ? [.. model.Loaded.File.Parts.Prepend(model.Loaded.File).Select(f => new ExportedFile(f.Name, f.Sha256, f.Bytes))] : [],
        Output = model.Output!,
        OutputFormat = model.Format,
        Recording = model.Written,
        IsInvented = model.Loaded.IsInvented,
        Issues = model.Issues,
        DeIdentified = model.DeIdentified,
        More = json =>
        {
            json.Category(model.Loaded.Category);
            ExportJson.Definitions(json, model);
        },
        Caution = Lesson.Caution,
    };

    private static FileStream New(string path) => new(path, FileMode.CreateNew, FileAccess.Write, FileShare.None, 1 << 16);

    private static ExportedFile Described(string path, string name)
    {
        using var stream = InputFile.OpenRead(path);
        return new ExportedFile(name, Convert.ToHexStringLower(SHA256.HashData(stream)), stream.Length);
    }

    private static void RefuseInputs(string path, IReadOnlyList<string> inputs)
    {
        if (inputs.FirstOrDefault(i => IsSame(i, path)) is { } same)
            throw StopException.Usage(new Trouble($"cannot write {path}", $"the file {same}, which is read", "another file", "--to", "input files are only ever read; choose another name"));
    }

    private static bool IsSame(string one, string other) => string.Equals(
        Path.GetFullPath(one), Path.GetFullPath(other), OperatingSystem.IsLinux() ? StringComparison.Ordinal : StringComparison.OrdinalIgnoreCase);
}
