using System.Text;
using System.Text.Json;

namespace Stillwatch.Accuracy.Page;

/// <summary>The table for programs.</summary>
internal static class RowsAsJson
{
    private static readonly JsonWriterOptions Indented = new() { Indented = true, Encoder = System.Text.Encodings.Web.JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    public static string Write(IReadOnlyList<AccuracyRow> rows)
    {
        using var bytes = new MemoryStream();
        using (var json = new Utf8JsonWriter(bytes, Indented))
        {
            json.WriteStartObject();
            json.WriteString("parameters", PageText.Fixed);
            json.WriteStartArray("rows");
            foreach (var row in rows) WriteRow(json, row);
            json.WriteEndArray();
            json.WriteEndObject();
        }

        return Encoding.UTF8.GetString(bytes.ToArray());
    }

    private static void WriteRow(Utf8JsonWriter json, AccuracyRow row)
    {
        json.WriteStartObject();
        json.WriteString("key", row.Key);
        json.WriteString("data", row.Data);
        json.WriteString("source", row.Source);
        json.WriteString("method", row.Method);
        json.WriteString("notMeasured", row.NotMeasured);
        WriteTexts(json, "changedAfterwards", row.ChangedAfterwards);
        WriteTexts(json, "remarks", row.Remarks);
        json.WriteStartArray("figures");
        foreach (var figure in row.Figures)
        {
            json.WriteStartObject();
            json.WriteString("name", figure.Name);
            if (double.IsFinite(figure.Value)) json.WriteNumber("value", figure.Value);
            else json.WriteNull("value");
            json.WriteString("unit", figure.Unit);
            json.WriteString("reach", figure.Reach?.ToString());
            json.WriteString("verdict", figure.Verdict);
            json.WriteEndObject();
        }

        json.WriteEndArray();
        json.WriteEndObject();
    }

    private static void WriteTexts(Utf8JsonWriter json, string key, IReadOnlyList<string> texts)
    {
        json.WriteStartArray(key);
        foreach (string text in texts) json.WriteStringValue(text);
        json.WriteEndArray();
    }
}
