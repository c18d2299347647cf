using Stillwatch.App.Commands;
using Stillwatch.App.Files;
using Stillwatch.App.Json;
using Stillwatch.Formats;
using Stillwatch.Formats.Exports;
using Stillwatch.Oximetry;
using Stillwatch.Oximetry.Calibration;
using Stillwatch.Rehearsal;
using Stillwatch.Signals;

namespace Stillwatch.App.Jobs;

/// <summary>From a recording's light to numbers, and to a file of them.</summary>
internal static class DeriveJob
{
    /// <summary>What may hold a pulse. Numbers of a monitor are not read: nothing of them may get into what is derived.</summary>
    public static readonly IReadOnlySet<ChannelKind> Wanted = new HashSet<ChannelKind> { ChannelKind.Pleth, ChannelKind.RedLight, ChannelKind.InfraredLight, ChannelKind.Other };

    /// <exception cref="StopException">Exit code 4: no light that a pulse can be found in.</exception>
    public static DeriveModel Of(LoadedRecording loaded, OximetrySettings settings, string? curveFile)
    {
        try
        {
            var derived = Derivation.Of(loaded.Recording, ForRehearsal(loaded.Recording, settings));
            return new DeriveModel
            {
                Loaded = loaded,
                Derived = derived,
                Summary = DerivedSummary.Of(derived),
                CurveFile = curveFile is null ? null : InputFile.Of(curveFile),
            };
        }
        catch (NoLightException e)
        {
            throw StopException.NothingComputable(new Trouble(
                $"nothing can be derived from {loaded.File.Path}", e.Found, e.Expected, loaded.File.Path,
                e.LikelyCause ?? "the file holds a monitor's numbers and no light (review takes those), or its columns need --map pleth=, infrared=, red=; see stillwatch inspect"));
        }
    }

    // Light that says of itself by which lamps and blood it was made is read by their curve, unless another was asked for.
    private static OximetrySettings ForRehearsal(Recording recording, OximetrySettings settings) =>
        settings.CurveBecause == DerivedWords.CurveOfNothingElse && RehearsedCurve.Of(recording) is { } rehearsed && CalibrationCurves.Find(rehearsed.Name) is { } curve
            ? settings with { Curve = curve, CurveBecause = $"assumed: {rehearsed.Because}" }
            : settings;

    /// <exception cref="StopException">Exit code 3: the file cannot be written; 4: the format cannot hold it.</exception>
    public static DeriveModel Write(DeriveModel model, string to, IRecordingWriter writer, bool replace)
    {
        var numerics = DerivedNumerics.Of(model.Loaded.Recording, model.Derived);
        // What is derived from invented light is invented, wherever its file goes.
        if (model.Loaded.IsInvented)
        {
            var notes = model.Loaded.Recording.Annotations.Where(a => a.Text.StartsWith(Rehearsal.InventedData.Notice, StringComparison.Ordinal));
            numerics = numerics with { Annotations = [.. notes.Concat(numerics.Annotations).OrderBy(a => a.Time)] };
        }

        var done = ExportFiles.Write([new PlannedFile(to, writer, numerics, (output, issues) => ManifestOf(model, numerics, writer, output, issues))], replace)[0];
        return model with { Output = new DeriveOutput(to, to + ExportManifest.Suffix, writer.Format, numerics, done.Output, done.Issues) };
    }

    private static ExportManifest ManifestOf(DeriveModel model, Recording numerics, IRecordingWriter writer, ExportedFile output, IReadOnlyList<ReadIssue> issues) => new()
    {
        Software = ExportFiles.Software,
        Inputs = [.. model.Loaded.File.Parts.Prepend(model.Loaded.File).Select(f => new ExportedFile(f.Name, f.Sha256, f.Bytes))],
        Output = output,
        OutputFormat = writer.Format,
        Recording = numerics,
        IsInvented = model.Loaded.IsInvented,
        Issues = issues,
        More = json => json.Object("derived", () => DeriveJson.HowItWasMade(json, model)),
        Caution = $"{DeriveModel.Cautions[0]} {Lesson.Caution}",
    };
}
