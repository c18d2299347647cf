using Stillwatch.Alarms;
using Stillwatch.Quantities;

namespace Stillwatch.App.Workbench.Prepare;

/// <summary>What is known of a patient before monitoring begins, as it is typed.</summary>
public sealed class PatientForm
{
    /// <summary>"adult", "hypercapnic", "child", "neonate".</summary>
    public string Group { get; set; } = "adult";

    /// <summary>A child's age.</summary>
    public int? Age { get; set; }

    /// <summary>"y" or "mo": years, months.</summary>
    public string AgeUnit { get; set; } = "y";

    /// <summary>"air", "oxygen", or empty: not known.</summary>
    public string Oxygen { get; set; } = "";

    public decimal? TargetLow { get; set; }

    public decimal? TargetHigh { get; set; }

    public string Unit { get; set; } = "";

    /// <summary>A pseudonym.</summary>
    public string Patient { get; set; } = "";

    public bool? OnOxygen => Oxygen switch { "air" => false, "oxygen" => true, _ => null };

    /// <summary>What stands in the way of starting settings, in words; null: nothing.</summary>
    public string? Missing
    {
        get
        {
            if (Group == "child" && Age is null) return "A child's limits go by age: give it.";
            if (Preset is null) return "Age: expected from 0 months to under 18 years.";
            if (TargetLow is null != (TargetHigh is null)) return "Prescribed range: give both ends, or neither.";
            if (TargetLow is { } low && TargetHigh is { } high && (low > high || low < 50 || high > 100)) return $"Prescribed range: found {low:0.#} to {high:0.#} %, expected from 50 to 100 % with the lower end first.";
            return null;
        }
    }

    /// <summary>The category's starting settings; null: the age is none.</summary>
    public CategoryPreset? Preset => Group switch
    {
        "child" => CategoryPresets.TryParse($"paediatric:{Age}{AgeUnit}", out var child) ? child : null,
        "hypercapnic" => CategoryPresets.AdultHypercapnicRisk,
        "neonate" => OnOxygen == false ? CategoryPresets.NeonatalOnAir : CategoryPresets.NeonatalOnOxygen,
        _ => CategoryPresets.Adult,
    };

    public PercentRange? Prescribed => TargetLow is { } low && TargetHigh is { } high ? new PercentRange(Percent.Of(low), Percent.Of(high)) : null;

    /// <summary>Category, oxygen and target in a sentence.</summary>
    public string Words =>
        $"{Preset?.Describes ?? "Age not known"}; {(OnOxygen switch { true => "on oxygen", false => "on air", _ => "oxygen not known" })}; {(Prescribed is { } range ? $"prescribed {range}" : "no prescribed range given")}";
}
