using System.Text.Encodings.Web;
using System.Text.Json;
using Stillwatch.Formats.Csv;
using Stillwatch.Formats.Json;
using Stillwatch.Signals;

namespace Stillwatch.Formats.Exports;

/// <summary>A file of an export, with the hash by which it can be recognised again.</summary>
/// <param name="Name">Without folders.</param>
/// <param name="Sha256">Lower-case hexadecimal.</param>
/// <param name="Bytes">Its length.</param>
public sealed record ExportedFile(string Name, string Sha256, long Bytes);

/// <summary>
/// What stands beside an export, <c>NAME.manifest.json</c>: what it is of, how it was made, what its words mean, what is not in it.
/// Beside a table it also holds what the table cannot, so that the table reads back whole.
/// </summary>
public sealed record ExportManifest
{
    public const string Format = "stillwatch.export/1";

    public const string Suffix = ".manifest.json";

    /// <summary>With its version.</summary>
    public required string Software { get; init; }

    /// <summary>The file that was named, then the other files of the recording. None where the export is de-identified: name and hash would lead back to the original.</summary>
    public required IReadOnlyList<ExportedFile> Inputs { get; init; }

    public required ExportedFile Output { get; init; }

    /// <summary>As a person would name it.</summary>
    public required string OutputFormat { get; init; }

    /// <summary>The recording as it was written.</summary>
    public required Recording Recording { get; init; }

    /// <summary>Whether the data are said to be invented.</summary>
    public bool IsInvented { get; init; }

    /// <summary>What the writer rounded or left out.</summary>
    public required IReadOnlyList<ReadIssue> Issues { get; init; }

    /// <summary>Null: the export names what the original names.</summary>
    public DeIdentified? DeIdentified { get; init; }

    /// <summary>Writes further fields: options and definitions.</summary>
    public Action<Utf8JsonWriter> More { get; init; } = _ => { };

    public required string Caution { get; init; }

    /// <param name="to">Not closed.</param>
    public void Write(Stream to)
    {
        using (var json = new Utf8JsonWriter(to, new JsonWriterOptions { Indented = true, NewLine = "\n", Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping }))
        {
            json.WriteStartObject();
            json.WriteString("format", Format);
            json.WriteString("caution", Caution);
            json.WriteString("software", Software);
            json.WriteBoolean("invented", IsInvented);
            json.WriteStartArray("inputs");
            foreach (var input in Inputs) File(json, input, null);
            json.WriteEndArray();
            json.WritePropertyName("output");
            File(json, Output, OutputFormat);
            Contents(json);
            More(json);
            json.WriteStartArray("notHeld");
            foreach (var issue in Issues) Issue(json, issue);
            json.WriteEndArray();
            WriteDeIdentified(json);
            WriteTable(json);
            json.WriteEndObject();
        }

        to.WriteByte((byte)'\n');
    }

    private static void File(Utf8JsonWriter json, ExportedFile file, string? format)
    {
        json.WriteStartObject();
        json.WriteString("file", file.Name);
        json.WriteString("sha256", file.Sha256);
        json.WriteNumber("bytes", file.Bytes);
        if (format is not null) json.WriteString("fileFormat", format);
        json.WriteEndObject();
    }

    private static void Issue(Utf8JsonWriter json, ReadIssue issue)
    {
        json.WriteStartObject();
        json.WriteString("code", issue.Code);
        json.WriteString("place", issue.Place);
        json.WriteString("found", issue.Found);
        json.WriteString("expected", issue.Expected);
        json.WriteString("assumed", issue.Assumed);
        json.WriteNumber("count", issue.Count);
        json.WriteEndObject();
    }

    // The start, the channels, and how many annotations of each origin.
    private void Contents(Utf8JsonWriter json)
    {
        json.WriteString("start", Recording.Start.ToString());
        json.WriteStartArray("channels");
        foreach (var channel in Recording.Channels)
        {
            json.WriteStartObject();
            json.WriteString("label", channel.Label);
            json.WriteString("kind", RecordingFields.Name(channel.Kind));
            json.WriteString("unit", channel.Unit);
            json.WriteNumber("samples", channel.Times.Count);
            json.WriteString("rate", channel.Times.Rate?.ToString() ?? "uneven");
            json.WriteEndObject();
        }

        json.WriteEndArray();
        json.WriteStartObject("annotations");
        foreach (var (name, origin) in RecordingFields.Origins) json.WriteNumber(name, Recording.Annotations.Count(a => a.Origin == origin));
        json.WriteEndObject();
    }

    private void WriteDeIdentified(Utf8JsonWriter json)
    {
        if (DeIdentified is not { } done)
        {
            json.WriteNull("deIdentified");
            return;
        }

        json.WriteStartObject("deIdentified");
        json.WriteString("patient", done.Pseudonym);
        Texts(json, "done", done.Done);
        Texts(json, "remains", DeIdentified.Remains);
        json.WriteEndObject();
    }

    private static void Texts(Utf8JsonWriter json, string name, IEnumerable<string> texts)
    {
        json.WriteStartArray(name);
        foreach (string text in texts) json.WriteStringValue(text);
        json.WriteEndArray();
    }

    private void WriteTable(Utf8JsonWriter json)
    {
        if (!Output.Name.EndsWith(".csv", StringComparison.OrdinalIgnoreCase)) return;
        json.WriteStartObject("table");
        json.WriteStartArray("cellsHoldCounts");
        foreach (bool holds in CsvTablePlan.Of(Recording).HoldsCounts) json.WriteBooleanValue(holds);
        json.WriteEndArray();
        RecordingHeaderWriter.Write(json, Recording);
        json.WriteEndObject();
    }
}
