using Stillwatch.Reports.Model;

namespace Stillwatch.App.Jobs;

/// <summary>From a rehearsal to the page that teaches it.</summary>
internal static class RehearseReport
{
    public static RehearsalReportModel Of(RehearseModel model) => new()
    {
        Run = model.Run,
        Signals = model.Signals,
        Provenance = new Provenance
        {
            Software = ExportFiles.Software,
            Inputs = [],
            Notes =
            [
                $"Scenario {model.Run.Scenario.Name}, seed {model.Run.Seed}: the same again gives the same bytes.",
                .. new[] { model.Recording, model.Truth }.OfType<RehearsedFile>().Select(f => $"Written: {f.File.Name}, {f.Format}, SHA-256 {f.File.Sha256}."),
            ],
        },
    };
}
