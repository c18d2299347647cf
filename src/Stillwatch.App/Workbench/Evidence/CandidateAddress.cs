namespace Stillwatch.App.Workbench.Evidence;

/// <summary>Candidates as they stand in the address of the page, so that Back, a reload and a link find them again.</summary>
public static class CandidateAddress
{
    /// <summary>The parameter that names the group.</summary>
    public const string Group = "group";

    /// <summary>The parameter that names the candidate being moved.</summary>
    public const string Active = "moving";

    private const char Between = '_';
    private const string Off = "off";

    public static readonly IReadOnlyList<string> Letters = ["A", "B", "C"];

    private static readonly CandidateNumber[] Numbers = [.. CandidateNumber.Low, .. CandidateNumber.Backstop];

    /// <summary>"90_10_0_0_0_80_5": the numbers in the order of the controls; "off" behind them where the backstop is off.</summary>
    public static string Of(CandidateDraft draft) => string.Join(Between, [.. Numbers.Select(n => CandidateNumber.Text(n.Of(draft))), .. draft.HasBackstop ? Array.Empty<string>() : [Off]]);

    /// <summary>Null where a number is missing, or is none that its control would take.</summary>
    public static CandidateDraft? Read(string? text)
    {
        string[] parts = text?.Split(Between) ?? [];
        bool isOff = parts.Length == Numbers.Length + 1 && parts[^1] == Off;
        if (parts.Length != Numbers.Length && !isOff) return null;
        var draft = new CandidateDraft { HasBackstop = !isOff };
        for (int i = 0; i < Numbers.Length; i++)
        {
            if (Numbers[i].Read(parts[i]) is not { } value) return null;
            draft = Numbers[i].With(draft, value);
        }

        return draft;
    }
}
