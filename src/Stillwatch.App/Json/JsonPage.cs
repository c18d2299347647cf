using System.Text.Encodings.Web;
using System.Text.Json;
using Stillwatch.Time;

namespace Stillwatch.App.Json;

/// <summary>Writes one JSON document: camel case, invariant numbers, no NaN, no byte-order mark, one line feed at the end.</summary>
internal static class JsonPage
{
    private const int Digits = 9; // significant, so that sums of binary fractions do not show their tails

    public static void Write(TextWriter output, Action<Utf8JsonWriter> content)
    {
        using var buffer = new MemoryStream();
        var options = new JsonWriterOptions { Indented = true, NewLine = "\n", Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };
        using (var json = new Utf8JsonWriter(buffer, options))
        {
            json.WriteStartObject();
            content(json);
            json.WriteEndObject();
        }

        output.Write(System.Text.Encoding.UTF8.GetString(buffer.GetBuffer(), 0, (int)buffer.Length));
        output.Write('\n');
    }

    /// <summary>A number, or null where there is none; never NaN, never infinite.</summary>
    public static void Number(this Utf8JsonWriter json, string name, double? value)
    {
        json.WritePropertyName(name);
        json.NumberValue(value);
    }

    public static void NumberValue(this Utf8JsonWriter json, double? value)
    {
        if (value is not { } number || !double.IsFinite(number)) json.WriteNullValue();
        else json.WriteRawValue(Text(number));
    }

    public static void Seconds(this Utf8JsonWriter json, string name, Duration? length) => json.Number(name, length?.Seconds);

    public static void Seconds(this Utf8JsonWriter json, string name, SampleTime time) => json.Number(name, time.Seconds);

    public static void Object(this Utf8JsonWriter json, string name, Action content)
    {
        json.WriteStartObject(name);
        content();
        json.WriteEndObject();
    }

    public static void Object(this Utf8JsonWriter json, Action content)
    {
        json.WriteStartObject();
        content();
        json.WriteEndObject();
    }

    /// <summary>A list with an action that writes each of its items; null where there is no list.</summary>
    public static void List<T>(this Utf8JsonWriter json, string name, IEnumerable<T>? items, Action<T> item)
    {
        json.WritePropertyName(name);
        if (items is null)
        {
            json.WriteNullValue();
            return;
        }

        json.WriteStartArray();
        foreach (var one in items) item(one);
        json.WriteEndArray();
    }

    public static void Texts(this Utf8JsonWriter json, string name, IEnumerable<string> texts) => json.List(name, texts, json.WriteStringValue);

    private static string Text(double number)
    {
        if (number == 0) return "0"; // also minus zero
        string text = number.ToString("G" + Digits, System.Globalization.CultureInfo.InvariantCulture);
        return text.Contains('E', StringComparison.Ordinal) ? number.ToString("F9", System.Globalization.CultureInfo.InvariantCulture).TrimEnd('0').TrimEnd('.') : text;
    }
}
