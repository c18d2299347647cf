using System.Globalization;
using System.Text.Json;

namespace Stillwatch.App.Workbench.AuditTrail;

/// <summary>What a line of the audit says, in words; its stable code stands beside them.</summary>
public static class AuditWords
{
    private static readonly Dictionary<string, string> Actions = new(StringComparer.Ordinal)
    {
        ["recording.imported"] = "recording imported",
        ["recording.described"] = "what is said of a recording changed",
        ["recording.removed"] = "recording taken out",
        ["mark.made"] = "mark made",
        ["mark.withdrawn"] = "mark withdrawn",
        ["blindlook.made"] = "stretch looked at without alarms",
        ["settings.accepted"] = "settings decided",
        ["report.kept"] = "report kept",
        ["store.backedup"] = "backup made",
        ["store.restored"] = "library restored from a backup",
    };

    /// <summary>A code that is not known keeps its own words: "mark.moved" is "mark moved".</summary>
    public static string Action(string code) => Actions.TryGetValue(code, out string? words) ? words : code.Replace('.', ' ');

    /// <summary>What people call the thing that a line is about, as its details have it; null: they name nothing.</summary>
    public static string? NameOf(string detailJson)
    {
        try
        {
            using var detail = JsonDocument.Parse(detailJson);
            if (detail.RootElement.ValueKind != JsonValueKind.Object) return null;
            return detail.RootElement.EnumerateObject()
                .Where(p => p.Name.ToUpperInvariant() is "NAME" or "TITLE" && p.Value.ValueKind == JsonValueKind.String)
                .Select(p => p.Value.GetString())
                .FirstOrDefault(words => !string.IsNullOrEmpty(words));
        }
        catch (JsonException)
        {
            return null; // a line that was changed from outside: verifying it says so
        }
    }

    /// <summary>On the clock of that zone, with how far it is from UTC: "2026-03-03 07:15:09 +01:00".</summary>
    public static string When(DateTimeOffset at, TimeZoneInfo zone)
    {
        var there = TimeZoneInfo.ConvertTime(at, zone);
        return there.ToString(there.Offset == TimeSpan.Zero ? "yyyy-MM-dd HH:mm:ss 'UTC'" : "yyyy-MM-dd HH:mm:ss zzz", CultureInfo.InvariantCulture);
    }
}
