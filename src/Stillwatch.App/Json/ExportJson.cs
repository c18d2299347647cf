using System.Text.Json;
using Stillwatch.App.Jobs;
using Stillwatch.Formats.Exports;
using Stillwatch.Oxygenation;
using Stillwatch.Signals;

namespace Stillwatch.App.Json;

/// <summary><c>export --json</c>, and what the manifest says of options and definitions.</summary>
internal static class ExportJson
{
    public static void Write(Utf8JsonWriter json, ExportModel model)
    {
        // What is de-identified must not be led back by what is kept beside it.
        if (model.DeIdentified is null) json.Source(model.Loaded);
        else json.Category(model.Loaded.Category);
        json.Object("output", () =>
        {
            json.WriteString("file", model.Request.To);
            json.WriteString("manifest", model.Request.ManifestPath);
            json.WriteString("sha256", model.Output!.Sha256);
            json.WriteNumber("bytes", model.Output.Bytes);
            json.WriteString("fileFormat", model.Format);
        });
        json.WriteNumber("channels", model.Written.Channels.Count);
        json.Object("annotations", () =>
        {
            foreach (var origin in Enum.GetValues<AnnotationOrigin>()) json.WriteNumber(Shapes.Name(origin), model.Written.Annotations.Count(a => a.Origin == origin));
        });
        Definitions(json, model);
        json.List("notHeld", model.Issues, i => json.Object(() => Shapes.Issue(json, i)));
        json.ObjectOrNull("deIdentified", model.DeIdentified is null ? null : () =>
        {
            json.WriteString("patient", model.DeIdentified.Pseudonym);
            json.WriteString("secretFile", model.Secret!.Path);
            json.WriteBoolean("secretIsNew", model.Secret.IsNew);
            json.Texts("done", model.DeIdentified.Done);
            json.Texts("remains", DeIdentified.Remains);
        });
        if (model.DeIdentified is null) json.Issues(model.Loaded.Issues);
    }

    /// <summary>The options and definitions behind the annotations, in words and numbers.</summary>
    public static void Definitions(Utf8JsonWriter json, ExportModel model)
    {
        json.Object("conditioning", () =>
        {
            json.WriteString("validity", Shapes.Name(model.Conditioning.Validity));
            json.Seconds("averagingSeconds", model.Conditioning.Averaging);
            json.Seconds("gapToleranceSeconds", model.Conditioning.GapTolerance);
            json.WriteString("rounding", Shapes.Name(model.Conditioning.Rounding));
        });
        json.ObjectOrNull("desaturationEvent", !model.Findings.HasDesaturationEvents ? null : () =>
        {
            json.WriteString("definition", DesaturationDefinition.Words);
            json.Number("fall", (double)DesaturationDefinition.Fall.Value);
            json.Seconds("baselineSeconds", DesaturationDefinition.BaselineWindow);
            json.Seconds("atLeastSeconds", DesaturationDefinition.AtLeast);
        });
        if (model.Findings.Definition is { } definition) json.Definition("mustCatchDefinition", definition);
        else json.WriteNull("mustCatchDefinition");
        if (model.Findings.NoEventsBecause is { } why) json.Texts("notApplicable", [why]);
        json.ObjectOrNull("settings", model.Findings.Settings is not { } settings ? null : () =>
        {
            json.WriteString("name", settings.Name);
            json.SettingsBody(settings.Settings);
        });
    }

    private static void ObjectOrNull(this Utf8JsonWriter json, string name, Action? content)
    {
        if (content is null) json.WriteNull(name);
        else JsonPage.Object(json, name, content);
    }
}
