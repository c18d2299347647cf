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
    /// <summary>Says before anything is read whether the file may be written.</summary>
    /// <exception cref="StopException">Exit code 2: no format ends so, a file stands there, or one that is read would be replaced.</exception>
    public static IRecordingWriter CheckTarget(ExportRequest request, string input, SideFiles side)
    {
        string[] inputs = [input, input + ExportManifest.Suffix, Path.Combine(Path.GetDirectoryName(Path.GetFullPath(input)) ?? ".", WardManifest.FileName), .. side.Paths().Select(s => s.Path), .. request.SecretPath is { } secret ? [secret] : Array.Empty<string>()];
        return ExportFiles.CheckTarget(request.To, request.Replace, inputs);
    }

    /// <summary>The same for the files that a recording turned out to consist of.</summary>
    /// <exception cref="StopException">Exit code 2.</exception>
    public static void CheckParts(ExportRequest request, LoadedRecording loaded) =>
        ExportFiles.RefuseInputs(request.To, [loaded.File.Path, .. loaded.File.Parts.Select(p => p.Path)]);

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
        var planned = new PlannedFile(request.To, writer, written, (output, issues) => ManifestOf(model with { Output = output, Issues = issues }));
        var done = ExportFiles.Write([planned], request.Replace)[0];
        return model with { Output = done.Output, Issues = done.Issues };
    }

    private static ExportManifest ManifestOf(ExportModel model) => new()
    {
        Software = ExportFiles.Software,
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
}
