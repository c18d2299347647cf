using Stillwatch.App.Files;

namespace Stillwatch.App.Json;

/// <summary>A settings set as the text of a settings file, so that what was accepted can be given to every command.</summary>
internal static class SettingsJson
{
    public static string Of(NamedSettings set)
    {
        using var text = new StringWriter { NewLine = "\n" };
        JsonPage.Write(text, json =>
        {
            json.WriteString("format", SettingsFile.Format);
            json.List("settings", [set], s => json.Object(() =>
            {
                json.WriteString("name", s.Name);
                if (s.Category is { } category) json.WriteString("category", category);
                json.SettingsBody(s.Settings);
            }));
        });
        return text.ToString();
    }
}
