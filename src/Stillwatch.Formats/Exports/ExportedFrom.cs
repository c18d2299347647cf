using System.Text.Json;
using Stillwatch.Formats.Json;

namespace Stillwatch.Formats.Exports;

/// <summary>What the manifest beside a recording says that it is an export of: the same hours in another format.</summary>
public static class ExportedFrom
{
    /// <summary>
    /// The hashes of the files that were exported, in their order, and whether the data are said to be invented. None: no manifest of this very
    /// file, or one that does not name them (de-identified).
    /// </summary>
    /// <param name="source">The recording, with what stands beside it.</param>
    /// <param name="sha256">Of the recording: a manifest of a file that was changed since speaks of another.</param>
    public static (IReadOnlyList<string> Inputs, bool IsInvented) Of(RecordingSource source, string sha256)
    {
        string name = source.Name + ExportManifest.Suffix;
        using var stream = FileNames.IsPlain(name) ? source.Folder.TryOpen(name) : null;
        if (stream is null) return ([], false);
        try
        {
            var json = new JsonPull(stream, name);
            string? format = null, output = null;
            var inputs = new List<string>();
            bool invented = false;
            json.Read();
            json.Object("a manifest", field =>
            {
                if (field == "format") format = json.String(field);
                else if (field == "output") output = HashOf(json);
                else if (field == "invented") invented = json.Boolean(field);
                else if (field == "inputs") json.List(field, () => inputs.Add(HashOf(json) ?? string.Empty));
                else json.Skip();
                return true;
            });
            return format == ExportManifest.Format && output == sha256 ? (inputs, invented) : ([], false);
        }
        catch (UnreadableFileException)
        {
            return ([], false); // it is no manifest of ours; where the recording needs one, its reader says so
        }
    }

    private static string? HashOf(JsonPull json)
    {
        string? hash = null;
        if (json.Token != JsonTokenType.StartObject)
        {
            json.Skip();
            return hash;
        }

        json.Object("a file", field =>
        {
            if (field == "sha256") hash = json.String(field);
            else json.Skip();
            return true;
        });
        return hash;
    }
}
