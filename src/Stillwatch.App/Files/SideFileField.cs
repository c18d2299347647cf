using System.Text.Json;
using Stillwatch.App.Commands;

namespace Stillwatch.App.Files;

/// <summary>One field of a JSON side file, with its place (<c>$.settings[0].spo2Low.limit</c>).</summary>
public sealed class SideFileField(string file, string place, JsonElement element)
{
    private string File { get; } = file;

    public string Place { get; } = place;

    public bool IsNull => element.ValueKind == JsonValueKind.Null;

    /// <summary>Says that this is an object with no other fields than these.</summary>
    public SideFileField WithOnly(params string[] known)
    {
        MustBe(JsonValueKind.Object, "an object {…}");
        foreach (var property in element.EnumerateObject())
        {
            if (!known.Contains(property.Name, StringComparer.Ordinal))
                throw Wrong($"the field \"{property.Name}\"", "only " + string.Join(", ", known), Nearest(property.Name, known));
        }

        return this;
    }

    public SideFileField Required(string name)
    {
        MustBe(JsonValueKind.Object, "an object {…}");
        return element.TryGetProperty(name, out var child)
            ? new SideFileField(File, $"{Place}.{name}", child)
            : throw Wrong($"no field \"{name}\"", $"\"{name}\"", "it was left out or is spelled differently");
    }

    /// <summary>Null where the field is absent or is null.</summary>
    public SideFileField? Optional(string name)
    {
        MustBe(JsonValueKind.Object, "an object {…}");
        return element.TryGetProperty(name, out var child) && child.ValueKind != JsonValueKind.Null
            ? new SideFileField(File, $"{Place}.{name}", child)
            : null;
    }

    public IReadOnlyList<SideFileField> List(int atLeast = 0)
    {
        MustBe(JsonValueKind.Array, "a list […]");
        if (element.GetArrayLength() < atLeast)
            throw Wrong($"{element.GetArrayLength()} entries", $"at least {atLeast}", "the list is empty");
        return [.. element.EnumerateArray().Select((e, i) => new SideFileField(File, $"{Place}[{i}]", e))];
    }

    public string Text()
    {
        MustBe(JsonValueKind.String, "text in quotation marks");
        string text = element.GetString()!;
        return text.Length <= 1000 ? text : throw Wrong($"{text.Length} characters", "at most 1000", "a text that does not belong here");
    }

    public decimal Number(decimal least, decimal most, string unit)
    {
        MustBe(JsonValueKind.Number, $"a number from {least} to {most} {unit}".TrimEnd());
        if (!element.TryGetDecimal(out decimal value) || value < least || value > most)
            throw Wrong(element.GetRawText(), $"{least} to {most} {unit}".TrimEnd(), "another unit was meant");
        return value;
    }

    public bool YesOrNo() => element.ValueKind switch
    {
        JsonValueKind.True => true,
        JsonValueKind.False => false,
        _ => throw Wrong(Describe(), "true or false", "it was put in quotation marks"),
    };

    public T Choice<T>(IReadOnlyDictionary<string, T> choices)
    {
        string text = Text();
        return choices.TryGetValue(text, out var value)
            ? value
            : throw Wrong($"\"{text}\"", "one of " + string.Join(", ", choices.Keys), Nearest(text, choices.Keys));
    }

    /// <summary>An error about this field.</summary>
    public StopException Wrong(string found, string expected, string likelyCause) =>
        StopException.Unreadable(new Trouble($"cannot use {File}", found, expected, $"{File}, {Place}", likelyCause));

    private void MustBe(JsonValueKind kind, string expected)
    {
        if (element.ValueKind != kind)
            throw Wrong(Describe(), expected, element.ValueKind == JsonValueKind.String ? "a number was put in quotation marks" : "a field of another kind stands here");
    }

    private string Describe()
    {
        string raw = element.GetRawText();
        string shown = raw.Length <= 60 ? raw : raw[..57] + "…";
        return element.ValueKind switch
        {
            JsonValueKind.Object => "an object",
            JsonValueKind.Array => "a list",
            _ => shown,
        };
    }

    private static string Nearest(string found, IEnumerable<string> known)
    {
        string? same = known.FirstOrDefault(k => string.Equals(k, found, StringComparison.OrdinalIgnoreCase));
        return same is not null ? $"capital and small letters count: \"{same}\"" : "a misspelling, or a field of another version";
    }
}
