using Stillwatch.Rehearsal.Scenarios;
using Stillwatch.Replay;
using Stillwatch.Reports.Model;

namespace Stillwatch.Reports.Tests.Samples;

/// <summary>Rehearsals with what their category's starting settings would signal, made once.</summary>
internal static class InventedRun
{
    private const ulong Seed = 3;

    public static readonly RehearsalReportModel Restless = Of("hypoxaemia-behind-movement", 1500);

    public static readonly RehearsalReportModel Preterm = Of("preterm-periodic-breathing", 600);

    public static RehearsalReportModel Of(string name, int seconds)
    {
        var run = RehearsalScenarios.Find(name)!.Run(Seed, seconds);
        return new RehearsalReportModel
        {
            Run = run,
            Signals = Replayer.Run(run.Numerics, run.Scenario.Preset.ToSettings()).Signals,
            Provenance = new Provenance { Software = "Stillwatch 0.1.0", Inputs = [], Notes = ["Scenario, seed."] },
        };
    }
}
