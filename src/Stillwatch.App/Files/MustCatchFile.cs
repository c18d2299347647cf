using Stillwatch.Quantities;
using Stillwatch.Time;
using Stillwatch.Tuning.MustCatch;

namespace Stillwatch.App.Files;

/// <summary>The side file of <c>--must-catch</c>: the events that settings may not miss, for all or by patient category (rule R13).</summary>
public sealed record MustCatchFile(string Path, IReadOnlyList<(string? Category, MustCatchDefinition Definition)> Definitions)
{
    public const string Format = "stillwatch.must-catch/1";

    private static readonly Dictionary<string, bool> Comparisons = new() { ["atOrBelow"] = true, ["below"] = false };

    /// <summary>The definition for a category: its own, else the one for every category, else null.</summary>
    public MustCatchDefinition? For(CategoryChoice category) =>
        Definitions.FirstOrDefault(d => d.Category == category.Name).Definition ?? Definitions.FirstOrDefault(d => d.Category is null).Definition;

    public static MustCatchFile Read(string path)
    {
        var root = SideFile.Open(path, Format).Root.WithOnly("format", "note", "definitions");
        root.Optional("note")?.Text();
        var definitions = new List<(string? Category, MustCatchDefinition Definition)>();
        foreach (var field in root.Required("definitions").List(atLeast: 1))
        {
            field.WithOnly("name", "category", "source", "lines");
            var category = field.Optional("category") is { } named ? CategoryChoice.Of(named).Name : null;
            if (definitions.Any(d => d.Category == category))
                throw field.Wrong(category is { } c ? $"a second definition for {c}" : "a second definition without a category", "one definition for each category", "an entry was copied and not changed");
            var lines = field.Required("lines").List(atLeast: 1).Select(LineOf).ToList();
            definitions.Add((category, new MustCatchDefinition(field.Required("name").Text(), lines, field.Required("source").Text())));
        }

        return new MustCatchFile(path, definitions);
    }

    private static MustCatchLine LineOf(SideFileField field)
    {
        field.WithOnly("level", "comparison", "forSeconds");
        return new MustCatchLine(
            Percent.Of(field.Required("level").Number(1, 100, "%")),
            field.Required("comparison").Choice(Comparisons),
            Duration.FromSeconds(field.Required("forSeconds").Number(0, 86_400, "s")));
    }
}
