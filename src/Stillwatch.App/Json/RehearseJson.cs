using System.Text.Json;
using Stillwatch.App.Commands;
using Stillwatch.App.Jobs;
using Stillwatch.Rehearsal.Scenarios;

namespace Stillwatch.App.Json;

/// <summary><c>rehearse --json</c> and <c>rehearse --list --json</c>.</summary>
internal static class RehearseJson
{
    public static void List(Utf8JsonWriter json)
    {
        json.WriteBoolean("invented", true);
        json.List("scenarios", RehearsalScenarios.All, s => json.Object(() => Scenario(json, s)));
        json.Texts("cautions", [RehearsalScenario.Caution, Lesson.Caution]);
    }

    public static void Write(Utf8JsonWriter json, RehearseModel model)
    {
        var run = model.Run;
        json.WriteBoolean("invented", true);
        json.Object("scenario", () => Scenario(json, run.Scenario));
        json.WriteNumber("seed", run.Seed);
        json.WriteNumber("secondsTotal", run.Seconds);
        json.WriteString("startWords", run.Start.ToString());
        json.List("episodes", run.Episodes, e => json.Object(() =>
        {
            json.WriteString("kind", Shapes.Name(e.Kind));
            json.Seconds("startSeconds", e.Span.Start);
            json.Seconds("endSeconds", e.Span.End);
        }));
        json.Object("perSecond", () =>
        {
            json.List("trueSpo2", run.Patient, p => json.NumberValue(Math.Round(p.SiteSaturationPercent, 2)));
            json.List("truePulseRate", run.Patient, p => json.NumberValue(Math.Round(p.PulseRatePerMinute, 2)));
        });
        json.Object("settings", () =>
        {
            json.WriteString("name", $"preset: {run.Scenario.Preset.Describes}");
            json.SettingsBody(run.Scenario.Preset.ToSettings());
        });
        json.Signals("signals", model.Signals);
        json.Object("output", () => Output(json, model.Recording));
        json.WritePropertyName("truth");
        if (model.Truth is not { } truth) json.WriteNullValue();
        else JsonPage.Object(json, () => Output(json, truth));
        json.WriteString("software", ExportFiles.Software);
        json.Texts("cautions", [RehearsalScenario.Caution, Lesson.Caution]);
    }

    private static void Scenario(Utf8JsonWriter json, RehearsalScenario scenario)
    {
        json.WriteString("name", scenario.Name);
        json.WriteString("title", scenario.Title);
        json.WriteString("story", scenario.Story);
        json.Texts("learningPoints", scenario.LearningPoints);
        json.WriteString("category", scenario.Preset.Name);
        json.WriteString("oxygen", scenario.Oxygen);
        json.WriteNumber("durationSeconds", scenario.DurationSeconds);
        json.WriteNumber("sourceAveragingSeconds", scenario.AveragingSeconds);
    }

    private static void Output(Utf8JsonWriter json, RehearsedFile file)
    {
        json.WriteString("file", file.To);
        json.WriteString("manifest", file.ManifestPath);
        json.WriteString("sha256", file.File.Sha256);
        json.WriteNumber("bytes", file.File.Bytes);
        json.WriteString("fileFormat", file.Format);
        json.Texts("channels", file.Written.Channels.Select(c => c.Label));
        json.List("notHeld", file.Issues, i => json.Object(() => Shapes.Issue(json, i)));
    }
}
