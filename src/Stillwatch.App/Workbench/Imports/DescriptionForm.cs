using Stillwatch.Alarms;
using Stillwatch.App.Commands;
using Stillwatch.App.Workbench.Review;
using Stillwatch.Storage.Recordings;

namespace Stillwatch.App.Workbench.Imports;

/// <summary>Where the settings in force at the time are told.</summary>
public enum SettingsSource
{
    NotKnown,
    Typed,
    FromFile,
}

/// <summary>What a person says of a recording, as fields. What is left empty is not known.</summary>
public sealed class DescriptionForm
{
    public const string Paediatric = "paediatric";

    public string Patient { get; set; } = "";

    /// <summary>A category's name; of a child without the age.</summary>
    public string Category { get; set; } = "";

    public int? Age { get; set; }

    /// <summary>"mo" or "y".</summary>
    public string AgeUnit { get; set; } = "y";

    public string Unit { get; set; } = "";

    public string Oxygen { get; set; } = "";

    public decimal? SourceAveraging { get; set; }

    public decimal? TargetLow { get; set; }

    public decimal? TargetHigh { get; set; }

    public string Note { get; set; } = "";

    public SettingsSource Settings { get; set; }

    public SettingsForm Typed { get; set; } = new();

    /// <summary>Of <see cref="SettingsSource.FromFile"/>.</summary>
    public string SettingsFileName { get; set; } = "";

    public string SettingsFileText { get; set; } = "";

    public static DescriptionForm Of(RecordingDescription known)
    {
        var form = new DescriptionForm
        {
            Patient = known.Patient ?? "",
            Unit = known.Unit ?? "",
            Oxygen = known.Oxygen ?? "",
            SourceAveraging = known.SourceAveragingSeconds,
            TargetLow = known.TargetLow,
            TargetHigh = known.TargetHigh,
            Note = known.Note ?? "",
        };
        form.SetCategory(known.Category ?? "");
        if (known.SettingsInForceJson is { } settings) form.TakeFile("the settings kept with the recording", settings);
        return form;
    }

    public void TakeFile(string name, string text)
    {
        Settings = SettingsSource.FromFile;
        SettingsFileName = name;
        SettingsFileText = text;
    }

    /// <summary>As it is to be stored. What is empty here is taken from <paramref name="otherwise"/>.</summary>
    /// <exception cref="StopException">Exit code 2 or 3: something that was typed cannot be.</exception>
    public RecordingDescription ToDescription(DescriptionForm? otherwise = null)
    {
        string? category = CategoryName() ?? otherwise?.CategoryName();
        decimal? averaging = SourceAveraging ?? otherwise?.SourceAveraging;
        if (averaging is < 0 or > 3600) throw Wrong($"{averaging} s", "0 to 3600 s", "Source averages over");
        // A range is one thing: half of one's own is not filled up from what was said of all.
        var (low, high) = otherwise is not null && TargetLow is null && TargetHigh is null ? (otherwise.TargetLow, otherwise.TargetHigh) : (TargetLow, TargetHigh);
        if ((low, high) is ( < 1 or > 100, _) or (_, < 1 or > 100) || low >= high || low is null != high is null)
            throw Wrong($"{Shown(low)} to {Shown(high)} %", "a lower and a higher value from 1 to 100 %", "Prescribed target");
        return new RecordingDescription
        {
            Patient = TextOf(Patient) ?? TextOf(otherwise?.Patient),
            Category = category,
            Unit = TextOf(Unit) ?? TextOf(otherwise?.Unit),
            Oxygen = TextOf(Oxygen) ?? TextOf(otherwise?.Oxygen),
            SourceAveragingSeconds = averaging,
            TargetLow = low,
            TargetHigh = high,
            SettingsInForceJson = SettingsText(category) ?? otherwise?.SettingsText(category),
            Note = TextOf(Note) ?? TextOf(otherwise?.Note),
        };
    }

    private string? SettingsText(string? category) => Settings switch
    {
        SettingsSource.Typed when !Typed.IsEmpty => Typed.ToCheckedJson(),
        SettingsSource.FromFile => SettingsForm.ForRecording(SettingsFileName, SettingsFileText, category),
        _ => null,
    };

    private string? CategoryName()
    {
        if (Category.Length == 0) return null;
        string name = Category == Paediatric ? $"{Paediatric}:{Age}{AgeUnit}" : Category;
        return CategoryPresets.TryParse(name, out var preset) ? preset!.Name : throw Wrong(Age is { } age ? $"a child of {age} {AgeUnit}" : "a child without an age", "an age below 18 years", "Age");
    }

    private void SetCategory(string name)
    {
        if (!name.StartsWith(Paediatric + ":", StringComparison.Ordinal))
        {
            Category = name;
            return;
        }

        string age = name[(Paediatric.Length + 1)..];
        AgeUnit = age.EndsWith("mo", StringComparison.Ordinal) ? "mo" : "y";
        Category = Paediatric;
        Age = int.TryParse(age.TrimEnd('m', 'o', 'y'), out int number) ? number : null;
    }

    private static string? TextOf(string? text) => string.IsNullOrWhiteSpace(text) ? null : text.Trim();

    private static string Shown(decimal? value) => value is { } v ? $"{v}" : "nothing";

    private static StopException Wrong(string found, string expected, string field) =>
        StopException.Usage(new Trouble("cannot write this down", found, expected, field, "a slip of the keyboard, or the fields were exchanged"));
}
