using System.Globalization;

namespace Stillwatch.App.Workbench.Evidence;

/// <summary>One number of a candidate: what it is called, what it may be, and how far its slider goes.</summary>
/// <param name="Id">Of its control.</param>
/// <param name="Label">With its unit.</param>
/// <param name="Least">The least that may be typed.</param>
/// <param name="Most">The most that may be typed.</param>
/// <param name="Slider">The part of that range which the slider covers, and its step.</param>
/// <param name="Of">Reads it from a draft.</param>
/// <param name="With">The draft with another number in its place.</param>
public sealed record CandidateNumber(
    string Id, string Label, decimal Least, decimal Most, (decimal Least, decimal Most, decimal Step) Slider, Func<CandidateDraft, decimal> Of, Func<CandidateDraft, decimal, CandidateDraft> With)
{
    private const int Decimals = 3;

    /// <summary>Of the low limit.</summary>
    public static readonly IReadOnlyList<CandidateNumber> Low =
    [
        new("limit", "Low limit, %", 50, 100, (75, 100, 1), d => d.Limit, (d, v) => d with { Limit = v }),
        new("delay", "Delay, s", 0, 300, (0, 120, 1), d => d.DelaySeconds, (d, v) => d with { DelaySeconds = v }),
        new("area", "Area threshold, %·s (0: none)", 0, 600, (0, 600, 5), d => d.Area, (d, v) => d with { Area = v }),
        new("averaging", "Our averaging, s (0: none)", 0, 60, (0, 16, 4), d => d.AveragingSeconds, (d, v) => d with { AveragingSeconds = v }),
        new("margin", "Clear margin, points above the limit", 0, 20, (0, 5, 1), d => d.ClearMargin, (d, v) => d with { ClearMargin = v }),
    ];

    /// <summary>Of the backstop.</summary>
    public static readonly IReadOnlyList<CandidateNumber> Backstop =
    [
        new("backstop", "Backstop limit, %", 30, 99, (60, 95, 1), d => d.BackstopLimit, (d, v) => d with { BackstopLimit = v }),
        new("backstop-delay", "Backstop delay, s", 0, 300, (0, 60, 1), d => d.BackstopDelaySeconds, (d, v) => d with { BackstopDelaySeconds = v }),
    ];

    /// <summary>What was typed, rounded to thousandths; null where it may not be.</summary>
    public decimal? Read(string? typed) =>
        decimal.TryParse(typed, NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out decimal value) && value >= Least && value <= Most
            ? decimal.Round(value, Decimals) : null;

    /// <summary>Why what was typed is not taken, and what stands instead.</summary>
    public string Refusal(string? typed, CandidateDraft standing) =>
        $"Found {(string.IsNullOrWhiteSpace(typed) ? "no number" : typed.Trim().Length > 20 ? typed.Trim()[..20] + "…" : typed.Trim())}, expected {Text(Least)} to {Text(Most)}: {Text(Of(standing))} stays.";

    /// <summary>As it stands in its field, and in the address of the page.</summary>
    public static string Text(decimal value) => value.ToString("0.###", CultureInfo.InvariantCulture);
}
