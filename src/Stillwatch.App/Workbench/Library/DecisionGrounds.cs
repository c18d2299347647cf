using System.Text.Json;
using Stillwatch.App.Json;
using Stillwatch.Storage.Settings;
using Stillwatch.Tuning.Proposals;

namespace Stillwatch.App.Workbench.Library;

/// <summary>What a decision stood on, in so far as it must be said wherever the decision is used.</summary>
/// <param name="IsInvented">Decided on invented data.</param>
/// <param name="Against">What the evidence had against it, in words; empty: nothing, or there was none.</param>
internal sealed record DecisionGrounds(bool IsInvented, IReadOnlyList<string> Against)
{
    private const string InventedKey = "isInvented";
    private const string AgainstKey = "against";

    public IEnumerable<string> InWords =>
    [
        .. IsInvented ? ["decided on invented data"] : Array.Empty<string>(),
        .. Against.Count > 0 ? [$"against the evidence: {string.Join(", ", Against)}"] : Array.Empty<string>(),
    ];

    public static DecisionGrounds Of(CandidateEvidence decided, Proposal proposal, bool isInvented, bool isCategoryAssumed)
    {
        var against = new List<string>();
        if (isCategoryAssumed) against.Add("the category was assumed, nobody named it");
        if (decided.Missed > 0) against.Add($"{decided.Missed} of {decided.MustCatchEvents} must-catch events missed");
        if (decided.Late > 0) against.Add($"{decided.Late} of {decided.MustCatchEvents} late");
        if (!decided.IsInsideBounds) against.Add("outside the bounds");
        if (proposal.IsRefused) against.Add("a proposal was refused");
        return new DecisionGrounds(isInvented, against);
    }

    /// <summary>As they stand in an entry's evidence; an entry without any was decided on none, and so on nothing invented.</summary>
    public static DecisionGrounds Of(SettingsEntry entry)
    {
        if (entry.Content.EvidenceJson is not { } text) return new DecisionGrounds(false, []);
        try
        {
            using var evidence = JsonDocument.Parse(text);
            var root = evidence.RootElement;
            // Evidence that does not say what it is of is not taken for a real patient's.
            bool isInvented = root.ValueKind != JsonValueKind.Object || !root.TryGetProperty(InventedKey, out var said) || said.ValueKind != JsonValueKind.False;
            return new DecisionGrounds(isInvented, root.ValueKind == JsonValueKind.Object && root.TryGetProperty(AgainstKey, out var list) && list.ValueKind == JsonValueKind.Array
                ? [.. list.EnumerateArray().Where(a => a.ValueKind == JsonValueKind.String).Select(a => a.GetString()!)] : []);
        }
        catch (JsonException)
        {
            return new DecisionGrounds(true, ["its evidence cannot be read"]);
        }
    }

    /// <summary>As evidence of a decision that stood on no numbers.</summary>
    public string ToJson()
    {
        using var text = new StringWriter { NewLine = "\n" };
        JsonPage.Write(text, Write);
        return text.ToString();
    }

    public void Write(Utf8JsonWriter json)
    {
        json.WriteBoolean(InventedKey, IsInvented);
        json.WriteStartArray(AgainstKey);
        foreach (string one in Against) json.WriteStringValue(one);
        json.WriteEndArray();
    }
}
