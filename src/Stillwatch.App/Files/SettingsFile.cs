using Stillwatch.Alarms;
using Stillwatch.Conditioning;
using Stillwatch.Quantities;
using Stillwatch.Time;

namespace Stillwatch.App.Files;

/// <summary>A settings set with a name, and the patient category it is meant for.</summary>
/// <param name="Name">A name to show beside its results.</param>
/// <param name="Category">The category's name; null: for every category that has no set of its own.</param>
/// <param name="Settings">The settings.</param>
public sealed record NamedSettings(string Name, string? Category, AlarmSettings Settings);

/// <summary>The side file of <c>--settings</c> and <c>--present</c>: one settings set, or one for each patient category.</summary>
/// <remarks>Written out in docs/files.md.</remarks>
public sealed record SettingsFile(string Path, IReadOnlyList<NamedSettings> Sets)
{
    public const string Format = "stillwatch.settings/1";

    /// <summary>Whether it was read from <see cref="Path"/>; false: the settings were kept elsewhere, and that is a name for them.</summary>
    public bool IsFile { get; init; } = true;

    private static readonly Dictionary<string, ValidityRule> Validities = new() { ["standard"] = ValidityRule.Standard, ["none"] = ValidityRule.None };
    private static readonly Dictionary<string, Rounding> Roundings = new() { ["display"] = Rounding.Display, ["none"] = Rounding.None };

    /// <summary>The set for a category: its own, else the one for every category, else null.</summary>
    public NamedSettings? For(CategoryChoice category) =>
        Sets.FirstOrDefault(s => s.Category == category.Name) ?? Sets.FirstOrDefault(s => s.Category is null);

    public static SettingsFile Read(string path) => Of(SideFile.Open(path, Format));

    /// <summary>The same of text that is held already.</summary>
    /// <param name="name">What errors call it.</param>
    /// <param name="json">Its content.</param>
    /// <exception cref="Commands.StopException">Exit code 3: it is no JSON, or says something that cannot be.</exception>
    public static SettingsFile OfText(string name, string json) => Of(SideFile.Of(name, System.Text.Encoding.UTF8.GetBytes(json), Format)) with { IsFile = false };

    private static SettingsFile Of(SideFile side)
    {
        string path = side.Path;
        var root = side.Root.WithOnly("format", "note", "settings");
        root.Optional("note")?.Text();
        var sets = new List<NamedSettings>();
        foreach (var field in root.Required("settings").List(atLeast: 1))
        {
            var set = SetOf(field);
            if (sets.Any(s => s.Category == set.Category))
                throw field.Wrong(set.Category is { } c ? $"a second set for {c}" : "a second set without a category", "one set for each category", "an entry was copied and not changed");
            sets.Add(set);
        }

        return new SettingsFile(path, sets);
    }

    private static NamedSettings SetOf(SideFileField field)
    {
        field.WithOnly("name", "category", "spo2Low", "backstop", "spo2High", "pulseRateLow", "pulseRateHigh", "averagingSeconds", "pulseAveragingSeconds", "gapToleranceSeconds", "validity", "rounding");
        var low = LimitOf(field.Optional("spo2Low"), 100, Percent.Of);
        var backstop = BackstopOf(field.Optional("backstop"));
        if (low is not null && low.Limit.Value + low.ClearMargin.Value > 100)
            throw field.Required("spo2Low").Wrong($"limit {low.Limit.Value} with margin {low.ClearMargin.Value}", "limit + margin ≤ 100 %", "no value could ever end the signal (rule R7)");
        if (backstop is not null && low is not null && backstop.Limit >= low.Limit)
            throw field.Required("backstop").Wrong($"backstop {backstop.Limit}", $"below the low limit {low.Limit}", "the two were exchanged (rule R8)");
        if (low is null && backstop is not null)
            throw field.Required("backstop").Wrong("a backstop without a low limit", "spo2Low beside it", "a backstop backs a low limit (rule R8)");
        var conditioning = new ConditioningSettings(
            field.Optional("validity")?.Choice(Validities) ?? ValidityRule.Standard,
            Seconds(field.Optional("averagingSeconds")),
            field.Optional("gapToleranceSeconds") is { } gap ? Seconds(gap) : ConditioningSettings.Default.GapTolerance,
            field.Optional("rounding")?.Choice(Roundings) ?? Rounding.Display);
        var settings = new AlarmSettings
        {
            SpO2Conditioning = conditioning,
            PulseConditioning = field.Optional("pulseAveragingSeconds") is { } pulse ? conditioning with { Averaging = Seconds(pulse) } : conditioning,
            SpO2Low = low,
            Backstop = backstop,
            SpO2High = LimitOf(field.Optional("spo2High"), 100, Percent.Of),
            PulseRateLow = LimitOf(field.Optional("pulseRateLow"), 400, BeatsPerMinute.Of),
            PulseRateHigh = LimitOf(field.Optional("pulseRateHigh"), 400, BeatsPerMinute.Of),
        };
        return new NamedSettings(field.Required("name").Text(), field.Optional("category") is { } category ? CategoryChoice.Of(category).Name : null, settings);
    }

    private static LimitSettings<TQuantity>? LimitOf<TQuantity>(SideFileField? field, decimal most, Func<decimal, TQuantity> of)
        where TQuantity : struct, IQuantity<TQuantity>
    {
        if (field is null) return null;
        field.WithOnly("limit", "delaySeconds", "areaThreshold", "clearMargin");
        return new LimitSettings<TQuantity>(
            of(field.Required("limit").Number(1, most, string.Empty)),
            Seconds(field.Required("delaySeconds")),
            Area.Of(field.Optional("areaThreshold")?.Number(0, 1_000_000, string.Empty) ?? 0),
            of(field.Optional("clearMargin")?.Number(0, 50, string.Empty) ?? 0));
    }

    private static BackstopSettings? BackstopOf(SideFileField? field)
    {
        if (field is null) return null;
        field.WithOnly("limit", "delaySeconds");
        return new BackstopSettings(Percent.Of(field.Required("limit").Number(1, 100, "%")), Seconds(field.Required("delaySeconds")));
    }

    private static Duration Seconds(SideFileField? field) => field is null ? Duration.Zero : Duration.FromSeconds(field.Number(0, 3600, "s"));
}
