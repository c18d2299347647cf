using Stillwatch.App.Commands;
using Stillwatch.Reports.Model;

namespace Stillwatch.App.Jobs;

/// <summary>From derived numbers to the page about them.</summary>
internal static class DeriveReport
{
    public static LightReportModel Of(DeriveModel model) => new()
    {
        Title = $"{model.Loaded.File.Name}: numbers derived from light",
        IsInvented = model.Loaded.IsInvented,
        Light = new LightSection
        {
            Recording = model.Loaded.Recording,
            Derived = model.Derived,
            Summary = model.Summary,
            Detector = DeriveOptions.NameOf(model.Derived.Settings.Beats),
            Issues = model.Loaded.Issues,
        },
        Cautions = DeriveModel.Cautions,
        Provenance = new Provenance
        {
            Software = ExportFiles.Software,
            Inputs =
            [
                .. model.Loaded.File.Parts.Prepend(model.Loaded.File).Select(f => new InputFile(f.Name, f.Sha256, f.Bytes)),
                .. model.CurveFile is { } curve ? [new InputFile(curve.Name, curve.Sha256, curve.Bytes, "calibration table")] : Array.Empty<InputFile>(),
            ],
        },
    };
}
