using System.Text.RegularExpressions;
using Stillwatch.App.Commands;

namespace Stillwatch.App.Workbench.Imports;

/// <summary>What readers say is written for the command line; on the page it names the fields that do the same.</summary>
public static partial class FieldWords
{
    private const string SpO2 = "the field “SpO2 is the column”", Time = "the field “Time is the column”", Period = "the field “Seconds from row to row”",
        Dates = "the field “Dates such as 03/04/2026 are”", Others = "the field “Other columns”";

    // The longer before the shorter: what one rule leaves is for the next.
    private static readonly (Regex Option, string Field)[] Rules =
    [
        (Rate(), ""),
        (CountedRows(), $"“none” in {Time}, with {Period}"),
        (DeclaredPeriod(), $"fill in {Period}"),
        (PeriodOption(), Period),
        (RateAlone(), Period),
        (SpO2Option(), SpO2),
        (TimeOption(), Time),
        (DateOrderOption(), Dates),
        (NamedColumn(), $"“$1” in {Others}"),
        (WithMap(), $"in {Others}"),
        (Map(), Others),
    ];

    public static string Of(string text)
    {
        if (!text.Contains("--", StringComparison.Ordinal)) return text;
        foreach (var (option, field) in Rules) text = option.Replace(text, field);
        return text;
    }

    public static Trouble Of(Trouble trouble) => new(Of(trouble.Title), Of(trouble.Found), Of(trouble.Expected), Of(trouble.Where), Of(trouble.LikelyCause));

    // The page has no field for a rate: the seconds from row to row say the same.
    [GeneratedRegex(@",? or (the rows a second with --rate HZ|--rate HZ, the rows a second( \(--rate [\d.]+\))?)")]
    private static partial Regex Rate();

    [GeneratedRegex("--map time=none --period S(, S being the seconds from row to row)?")]
    private static partial Regex CountedRows();

    [GeneratedRegex("declare the seconds from row to row with --period S")]
    private static partial Regex DeclaredPeriod();

    [GeneratedRegex(@"--period S(, S being the seconds from row to row)?( \(--period [\d.]+\))?|--period(?= |,|;|$)")]
    private static partial Regex PeriodOption();

    [GeneratedRegex("--rate( HZ)?")]
    private static partial Regex RateAlone();

    [GeneratedRegex("--channel NAME|--channel|--map spo2=NAME")]
    private static partial Regex SpO2Option();

    [GeneratedRegex(@"--map time=NAME( or --map time=#1)?|--map time(=none)?(?![-=])")]
    private static partial Regex TimeOption();

    [GeneratedRegex(@"--date-order( mdy \(or ymd\)| dmy \(or mdy\))?")]
    private static partial Regex DateOrderOption();

    [GeneratedRegex(@"--map ([a-z0-9-]+=[^\s,;]*(,[a-z0-9-]+=[^\s,;]*)*( or [a-z0-9-]+=[^\s,;]+)?)")]
    private static partial Regex NamedColumn();

    [GeneratedRegex("with --map")]
    private static partial Regex WithMap();

    [GeneratedRegex("--map")]
    private static partial Regex Map();
}
