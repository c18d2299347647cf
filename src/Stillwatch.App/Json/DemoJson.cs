using System.Text.Json;
using Stillwatch.App.Jobs;

namespace Stillwatch.App.Json;

/// <summary><c>demo --json</c>: where the files lie, and what each command says of them.</summary>
internal static class DemoJson
{
    public static void Write(Utf8JsonWriter json, DemoModel model)
    {
        json.WriteBoolean("invented", true);
        json.WriteNumber("seed", model.Seed);
        json.WriteString("folder", model.Files.Folder);
        json.WriteString("report", model.Files.Report);
        json.Object("inspect", () => InspectJson.Write(json, model.Inspected));
        json.Object("review", () => ReviewJson.Write(json, model.Reviewed));
        json.Object("ward", () => WardJson.Write(json, model.Ward));
        json.Object("tune", () => TuneJson.Write(json, model.Tuned));
    }
}
