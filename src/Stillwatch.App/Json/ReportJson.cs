using System.Text.Json;
using Stillwatch.App.Jobs;

namespace Stillwatch.App.Json;

/// <summary><c>report --json</c>.</summary>
internal static class ReportJson
{
    public static void Write(Utf8JsonWriter json, HandoverModel model, WrittenPage written)
    {
        json.WriteString("page", model.Kind);
        json.WriteString("title", model.Document.Title);
        json.Object("output", () =>
        {
            json.WriteString("file", written.Path);
            json.WriteString("mediaType", written.MediaType);
            json.WriteNumber("bytes", written.Bytes);
            json.WriteString("sha256", written.Sha256);
        });
        json.Texts("refusedBecause", model.RefusedBecause);
    }
}
