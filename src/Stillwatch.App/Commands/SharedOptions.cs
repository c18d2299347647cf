using System.CommandLine;
using System.CommandLine.Parsing;
using System.Globalization;
using Stillwatch.Alarms;
using Stillwatch.App.Files;
using Stillwatch.Conditioning;
using Stillwatch.Formats;
using Stillwatch.Formats.Csv;
using Stillwatch.Time;

namespace Stillwatch.App.Commands;

/// <summary>The options that several commands share, each defined once: same name, same meaning, same bounds everywhere.</summary>
internal static class SharedOptions
{
    private static readonly Dictionary<string, DateOrder> DateOrderNames = new() { ["dmy"] = DateOrder.DayFirst, ["mdy"] = DateOrder.MonthFirst, ["ymd"] = DateOrder.YearFirst };

    /// <summary>Paths; a word that looks like an option is one that was misspelled, never a file.</summary>
    public static Argument<string[]> Paths(string name, string helpName) => Guarded(new Argument<string[]>(name) { HelpName = helpName, Arity = ArgumentArity.OneOrMore });

    public static Argument<string> SinglePath(string name, string helpName) => Guarded(new Argument<string>(name) { HelpName = helpName });

    public static Option<decimal> Averaging() => Number("--averaging", "S", 0, 300, 0, "Our averaging over S seconds, on top of the source's own (rule R4); 0: none");

    public static Option<decimal> GapTolerance() => Number("--gap-tolerance", "S", 0, 60, 5, "How long a value may stand beyond its period before it counts as lost (rule R5)");

    public static Option<decimal> ClearMargin() => Number("--clear-margin", "N", 0, 20, 0, "A signal ends at limit + N (rule R7), in percentage points");

    public static Option<ValidityRule> Validity() => Choice("--validity", "RULE", "Which values count (rule R2): standard, or none for every number as it stands", ValidityRule.Standard, new() { ["standard"] = ValidityRule.Standard, ["none"] = ValidityRule.None });

    public static Option<Rounding> RoundingOption() => Choice("--rounding", "RULE", "Compare as displayed, rounded to whole numbers, or unrounded (rule R6): display, or none", Rounding.Display, new() { ["display"] = Rounding.Display, ["none"] = Rounding.None });

    public static Option<string?> Channel() => new("--channel") { HelpName = "NAME", Description = "The SpO2 column to use where a file has several" };

    /// <summary>Null: the file tells its own times.</summary>
    public static Option<Duration?> Period() => new("--period")
    {
        HelpName = "S",
        Description = "Seconds from row to row, where a file has no usable times; with --map time=none rows are counted at this period [0.001–86400; from the file unless given]",
        CustomParser = result =>
        {
            string text = OnlyToken(result);
            if (decimal.TryParse(text, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out decimal value) && value is >= 0.001m and <= 86_400m && value * 1000 == decimal.Truncate(value * 1000)) return Duration.FromSeconds(value);
            result.AddError($"--period: found '{text}', expected seconds from 0.001 to 86400 in whole milliseconds (decimal point, no unit)");
            return null;
        },
    };

    /// <summary>Null: not declared.</summary>
    public static Option<SampleRate?> Rate() => new("--rate")
    {
        HelpName = "HZ",
        Description = "Rows a second, where a file has no usable times and the period is no whole millisecond (30 camera frames a second); used as --period is [0.001–1000; from the file unless given]",
        CustomParser = result =>
        {
            string text = OnlyToken(result);
            if (decimal.TryParse(text, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out decimal hertz) && hertz is >= 0.001m and <= 1000m && hertz * 1000 == decimal.Truncate(hertz * 1000)) return SampleRate.Of((long)(hertz * 1000), 1_000_000);
            result.AddError($"--rate: found '{text}', expected rows a second from 0.001 to 1000 with at most three decimals (decimal point, no unit)");
            return null;
        },
    };

    public static Option<DateOrder> DateOrders() => new("--date-order")
    {
        HelpName = "dmy|mdy|ymd",
        Description = "How dates such as 03/04/2026 are read: day, month or year first [from the file unless given; where it cannot tell, day first, and said so]",
        CustomParser = result =>
        {
            string text = OnlyToken(result);
            if (DateOrderNames.TryGetValue(text, out var order)) return order;
            result.AddError($"--date-order: found '{text}', expected {string.Join(" or ", DateOrderNames.Keys)}");
            return DateOrder.Ask;
        },
    };

    public static Option<NumberRange> Limits() => Range("--limits", 1, 100, new(70, 100, 1), "Low SpO2 limits of the map, in %, as a..b or a..b/step");

    public static Option<NumberRange> Delays() => Range("--delays", 0, 3600, new(0, 300, 1), "Delays of the map, in seconds");

    public static Option<NumberRange> Areas() => Range("--areas", 0, 100_000, new(0, 600, 1), "Area thresholds of the map, in %·s");

    public static Option<string?> SideFilePath(string name, string description) => new(name) { HelpName = "FILE", Description = description };

    public static Option<string?> Settings() => SideFilePath("--settings", "A settings set to replay (JSON, docs/files.md)");

    public static Option<string?> Present() => SideFilePath("--present", "The settings in force when this was recorded (JSON, docs/files.md)");

    public static Option<string?> MustCatch() => SideFilePath("--must-catch", "Events that settings may not miss (JSON, docs/files.md); else the category's default");

    public static Option<string?> Marks() => SideFilePath("--marks", "Reviewers' marks on events (JSON, docs/files.md)");

    public static Option<string?> Log() => new("--log") { HelpName = "FILE|none", Description = "What the monitor itself signalled meanwhile: a list of its alarms (docs/files.md); none: leave aside what ward.json or the recording's notes say" };

    /// <summary>Null: the usual one.</summary>
    public static Option<Duration?> LogTolerance() => SecondsOrNone("--log-tolerance", 0, 300, "Starts of log and replay may differ by this much [0–300; 15 and the source's own averaging unless given]");

    /// <summary>Null: none.</summary>
    public static Option<Duration?> LogOffset() => SecondsOrNone("--log-offset", -86_400, 86_400, "Seconds to add to the times of the log, where its clock differs from the recording's [-86400–86400; 0 unless given]");

    public static Option<string?> Report() => SideFilePath("--report", "Write the report, one self-contained page, to this file (.html)");

    public static Option<ulong> Seed(ulong standard) => new("--seed")
    {
        HelpName = "N",
        Description = $"Where all chance comes from [{standard} unless given]",
        DefaultValueFactory = _ => standard,
        CustomParser = result =>
        {
            string text = OnlyToken(result);
            if (ulong.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out ulong value)) return value;
            result.AddError($"--seed: found '{text}', expected a whole number from 0 to {ulong.MaxValue}");
            return standard;
        },
    };

    public static Option<bool> Replace() => new("--replace") { Description = "Replace files of that name" };

    public static Option<bool> Json() => new("--json") { Description = "Write JSON and nothing else to standard output" };

    public static Option<CategoryChoice?> Category() => new("--category")
    {
        HelpName = "NAME",
        Description = "Patient category: " + string.Join(", ", CategoryPresets.Names) + "; else ward.json's, else adult is assumed and said so",
        CustomParser = result =>
        {
            string text = OnlyToken(result);
            if (CategoryPresets.TryParse(text, out var preset)) return new CategoryChoice(preset!);
            result.AddError($"--category: found '{text}', expected one of {string.Join(", ", CategoryPresets.Names)}");
            return null;
        },
    };

    public static Option<ColumnMap> Map() => new("--map")
    {
        HelpName = "KEY=COLUMN,…",
        Description = "Which column is what, by header, by number (#2) or from the end (#-1): --map 'spo2=\"SpO2 4\",time=Time,fio2=#-1'",
        DefaultValueFactory = _ => ColumnMap.Empty,
        CustomParser = result =>
        {
            try
            {
                return ColumnMap.Parse(OnlyToken(result));
            }
            catch (FormatException e)
            {
                result.AddError("--map: " + e.Message);
                return ColumnMap.Empty;
            }
        },
    };

    private static Option<Duration?> SecondsOrNone(string name, decimal least, decimal most, string description) => new(name)
    {
        HelpName = "S",
        Description = description,
        CustomParser = result =>
        {
            string text = OnlyToken(result);
            if (decimal.TryParse(text, NumberStyles.AllowDecimalPoint | NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out decimal value) && value >= least && value <= most) return Duration.FromSeconds(value);
            result.AddError($"{name}: found '{text}', expected seconds from {least} to {most} (decimal point, no unit)");
            return null;
        },
    };

    private static Option<decimal> Number(string name, string helpName, decimal least, decimal most, decimal standard, string description) => new(name)
    {
        HelpName = helpName,
        Description = $"{description} [{least}–{most}; {standard} unless given]",
        DefaultValueFactory = _ => standard,
        CustomParser = result =>
        {
            string text = OnlyToken(result);
            if (decimal.TryParse(text, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out decimal value) && value >= least && value <= most) return value;
            result.AddError($"{name}: found '{text}', expected a number from {least} to {most} (decimal point, no unit)");
            return standard;
        },
    };

    private static Option<NumberRange> Range(string name, decimal least, decimal most, NumberRange standard, string description) => new(name)
    {
        HelpName = "A..B",
        Description = $"{description} [{standard.From}..{standard.To}/{standard.Step} unless given]",
        DefaultValueFactory = _ => standard,
        CustomParser = result =>
        {
            string text = OnlyToken(result);
            string? wrong = NumberRange.TryRead(text, least, most, standard.Step, out var range);
            if (wrong is null) return range;
            result.AddError($"{name}: found '{text}', {wrong}");
            return standard;
        },
    };

    private static Option<T> Choice<T>(string name, string helpName, string description, T standard, Dictionary<string, T> choices) => new(name)
    {
        HelpName = helpName,
        Description = $"{description} [{choices.First(c => Equals(c.Value, standard)).Key} unless given]",
        DefaultValueFactory = _ => standard,
        CustomParser = result =>
        {
            string text = OnlyToken(result);
            if (choices.TryGetValue(text, out var value)) return value;
            result.AddError($"{name}: found '{text}', expected {string.Join(" or ", choices.Keys)}");
            return standard;
        },
    };

    private static TArgument Guarded<TArgument>(TArgument argument)
        where TArgument : Argument
    {
        argument.Validators.Add(result =>
        {
            foreach (var token in result.Tokens.Where(t => t.Value.StartsWith('-')))
                result.AddError($"found '{token.Value}', which is no option of this command (a file of that name: ./{token.Value})");
        });
        return argument;
    }

    public static Duration Seconds(decimal seconds) => Duration.FromSeconds(seconds);

    private static string OnlyToken(ArgumentResult result) => result.Tokens.Count > 0 ? result.Tokens[^1].Value : string.Empty;
}
