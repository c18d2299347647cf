using Stillwatch.Formats.Json;

namespace Stillwatch.Formats.Exports;

/// <summary>What the manifest of an exported table says of the recording: all that the table cannot.</summary>
/// <param name="Sha256">Of the table.</param>
/// <param name="Header">The recording besides its rows.</param>
/// <param name="HoldsCounts">For each channel whether its cells hold counts in place of values.</param>
internal sealed record TableManifest(string Sha256, RecordingHeader Header, IReadOnlyList<bool> HoldsCounts)
{
    /// <summary>Null: a manifest, but not of a table.</summary>
    /// <exception cref="UnreadableFileException">No manifest of an export, or a damaged one.</exception>
    public static TableManifest? Read(Stream stream, string name)
    {
        var json = new JsonPull(stream, name);
        var header = new RecordingHeaderReader(json);
        string? format = null, sha256 = null;
        var holdsCounts = new List<bool>();
        bool hasTable = false;
        json.Read();
        json.Object("a manifest", field =>
        {
            switch (field)
            {
                case "format":
                    format = json.String(field);
                    if (format != ExportManifest.Format) throw json.Wrong(IssueLog.Show(format), ExportManifest.Format, "the file is no manifest of an export");
                    return true;
                case "output":
                    json.Object(field, inner =>
                    {
                        if (inner == "sha256") sha256 = json.String(inner);
                        else json.Skip();
                        return true;
                    });
                    return true;
                case "table":
                    hasTable = json.Token != System.Text.Json.JsonTokenType.Null;
                    if (hasTable) json.Object(field, inner => inner == "cellsHoldCounts" ? ReadHoldsCounts(json, holdsCounts) : header.Field(inner));
                    return true;
                default:
                    json.Skip();
                    return true;
            }
        });
        if (format is null || sha256 is null) throw json.Wrong("no field \"format\" or \"sha256\"", "both", "the manifest was cut off, or changed by hand");
        if (!hasTable) return null;
        var built = header.Build();
        if (holdsCounts.Count != built.Channels.Count) throw json.Wrong($"{holdsCounts.Count} entries of \"cellsHoldCounts\"", $"one for each of {built.Channels.Count} channels", "the manifest was changed by hand");
        return new TableManifest(sha256, built, holdsCounts);
    }

    private static bool ReadHoldsCounts(JsonPull json, List<bool> holdsCounts)
    {
        json.List("cellsHoldCounts", () => holdsCounts.Add(json.Boolean("cellsHoldCounts")));
        return true;
    }
}
