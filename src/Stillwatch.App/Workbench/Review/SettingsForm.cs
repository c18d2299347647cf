using System.Text.Json;
using Stillwatch.Alarms;
using Stillwatch.App.Commands;
using Stillwatch.App.Files;
using Stillwatch.App.Jobs;
using Stillwatch.App.Json;
using Stillwatch.App.Pages;

namespace Stillwatch.App.Workbench.Review;

/// <summary>Settings as a person types them. What is left empty is switched off. They are checked where side files are, and by nothing else.</summary>
public sealed class SettingsForm
{
    public string Name { get; set; } = "Settings as typed";

    public decimal? Low { get; set; }

    public decimal? LowDelay { get; set; }

    public decimal? Area { get; set; }

    public decimal? ClearMargin { get; set; }

    public decimal? Backstop { get; set; }

    public decimal? BackstopDelay { get; set; }

    public decimal? High { get; set; }

    public decimal? PulseLow { get; set; }

    public decimal? PulseHigh { get; set; }

    /// <summary>Delay of SpO2 high and pulse rate; null: that of SpO2 low.</summary>
    public decimal? OtherDelay { get; set; }

    public decimal? Averaging { get; set; }

    public bool IsEmpty => Low is null && High is null && PulseLow is null && PulseHigh is null && Backstop is null;

    public static SettingsForm Of(NamedSettings named)
    {
        var s = named.Settings;
        return new SettingsForm
        {
            Name = named.Name,
            Low = s.SpO2Low?.Limit.Value,
            LowDelay = SecondsOf(s.SpO2Low?.Delay),
            Area = s.SpO2Low is { AreaThreshold.Value: > 0 } low ? low.AreaThreshold.Value : null,
            ClearMargin = s.SpO2Low is { ClearMargin.Micro: > 0 } margin ? margin.ClearMargin.Value : null,
            Backstop = s.Backstop?.Limit.Value,
            BackstopDelay = SecondsOf(s.Backstop?.Delay),
            High = s.SpO2High?.Limit.Value,
            PulseLow = s.PulseRateLow?.Limit.Value,
            PulseHigh = s.PulseRateHigh?.Limit.Value,
            OtherDelay = SecondsOf(s.PulseRateLow?.Delay ?? s.PulseRateHigh?.Delay ?? s.SpO2High?.Delay),
            Averaging = s.SpO2Conditioning.Averaging.Milliseconds > 0 ? SecondsOf(s.SpO2Conditioning.Averaging) : null,
        };
    }

    /// <summary>The category's starting settings.</summary>
    public static SettingsForm Of(CategoryChoice category) => Of(new NamedSettings($"Starting settings: {category.Preset.Describes}", null, category.Preset.ToSettings()));

    /// <exception cref="StopException">Exit code 3: they cannot be.</exception>
    public NamedSettings ToSettings() => SettingsFile.OfText("the settings typed here", ToJson()).Sets[0];

    /// <summary>A settings file with this one set.</summary>
    /// <exception cref="StopException">Exit code 3: they cannot be.</exception>
    public string ToCheckedJson() => JsonOf(ToSettings());

    /// <summary>A settings file with one set.</summary>
    public static string JsonOf(NamedSettings named) => Text(json =>
    {
        json.WriteString("name", named.Name);
        if (named.Category is { } category) json.WriteString("category", category);
        json.SettingsBody(named.Settings);
    });

    /// <summary>The set that a recording's description keeps as in force at the time; null: not known.</summary>
    /// <exception cref="StopException">Exit code 3: what is kept cannot be read.</exception>
    public static NamedSettings? Kept(string? settingsJson) => settingsJson is null ? null : SettingsFile.OfText("the settings kept with the recording", settingsJson).Sets[0];

    /// <summary>The set of a file for one recording, as a file of its own.</summary>
    /// <exception cref="StopException">Exit code 3: it holds none for it, or which of several is not known.</exception>
    public static string ForRecording(string fileName, string text, string? categoryName)
    {
        var file = SettingsFile.OfText(fileName, text);
        if (categoryName is not null && CategoryPresets.TryParse(categoryName, out var preset)) return JsonOf(SideFiles.SetFor(file, new CategoryChoice(preset!)));
        if (file.Sets is [var only]) return JsonOf(only);
        throw StopException.Unreadable(new Trouble($"cannot use {fileName}", "a set for each patient category, and no category", "the category of this recording", fileName, "the category was left open: choose it, or type the settings"));
    }

    public static string InWords(NamedSettings named) => Say.Settings(named.Settings);

    private string ToJson() => Text(json =>
    {
        json.WriteString("name", Name.Trim().Length > 0 ? Name.Trim() : "Settings as typed");
        if (Low is not null || LowDelay is not null || Area is not null || ClearMargin is not null)
        {
            json.Object("spo2Low", () =>
            {
                Number(json, "limit", Low);
                json.WriteNumber("delaySeconds", LowDelay ?? 0);
                json.WriteNumber("areaThreshold", Area ?? 0);
                json.WriteNumber("clearMargin", ClearMargin ?? 0);
            });
        }

        if (Backstop is not null || BackstopDelay is not null)
        {
            json.Object("backstop", () =>
            {
                Number(json, "limit", Backstop);
                json.WriteNumber("delaySeconds", BackstopDelay ?? 0);
            });
        }

        Limit(json, "spo2High", High);
        Limit(json, "pulseRateLow", PulseLow);
        Limit(json, "pulseRateHigh", PulseHigh);
        json.WriteNumber("averagingSeconds", Averaging ?? 0);
    });

    private void Limit(Utf8JsonWriter json, string name, decimal? limit)
    {
        if (limit is not { } value) return;
        json.Object(name, () =>
        {
            json.WriteNumber("limit", value);
            json.WriteNumber("delaySeconds", OtherDelay ?? LowDelay ?? 0);
        });
    }

    // A field that was left out is reported as missing, with its place.
    private static void Number(Utf8JsonWriter json, string name, decimal? value)
    {
        if (value is { } number) json.WriteNumber(name, number);
    }

    private static string Text(Action<Utf8JsonWriter> set)
    {
        using var text = new StringWriter();
        JsonPage.Write(text, json =>
        {
            json.WriteString("format", SettingsFile.Format);
            json.List("settings", [0], _ => json.Object(() => set(json)));
        });
        return text.ToString();
    }

    private static decimal? SecondsOf(Time.Duration? length) => length is { } l ? l.Milliseconds / 1000m : null;
}
