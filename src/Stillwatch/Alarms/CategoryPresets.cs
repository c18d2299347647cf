using System.Globalization;
using Stillwatch.Quantities;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Alarms;

/// <summary>The category presets: adult, hypercapnic risk, paediatric by age, neonatal on oxygen or on air.</summary>
public static class CategoryPresets
{
    public const string UnitPolicy = "unit policy, no source";
    private const string DefaultNotBelow85 = "unit policy, no source; not below 85 %, the lowest manufacturer default that the rationale of ISO 9919:2005 (identical adoption GOST ISO 9919-2011, AA.201.5.4) calls generally acceptable";
    private const string PaperDefaults = "from memory: typical published default limits, SpO2 low 90 % (85–90), pulse 50–120 /min";
    private const string Fleming = "from memory: heart-rate centiles (1st, 99th) of Fleming et al., Lancet 2011;377:1011";

    private static readonly Sourced<Percent> Lowest85 = new(Percent.Of(85), DefaultNotBelow85);
    private static readonly Sourced<Duration> Longest30 = new(Duration.FromSeconds(30), UnitPolicy);
    private static readonly Sourced<Duration> Delay10 = new(Duration.FromSeconds(10), UnitPolicy);

    public static readonly CategoryPreset Adult = new()
    {
        Category = PatientCategory.Adult,
        Name = "adult",
        Describes = "Adult without a lower prescribed target",
        SpO2LowLimit = new(Percent.Of(90), PaperDefaults),
        SpO2LowDelay = Delay10,
        BackstopLimit = new(Percent.Of(80), UnitPolicy),
        BackstopDelay = new(Duration.FromSeconds(5), UnitPolicy),
        PulseRateLowLimit = new(BeatsPerMinute.Of(50), PaperDefaults),
        PulseRateHighLimit = new(BeatsPerMinute.Of(120), PaperDefaults),
        Target = new(new PercentRange(Percent.Of(94), Percent.Of(98)), "from memory: BTS guideline 2017, Thorax 72 Suppl 1"),
        LowestProposedLimit = Lowest85,
        LongestProposedDelay = Longest30,
    };

    public static readonly CategoryPreset AdultHypercapnicRisk = Adult with
    {
        Category = PatientCategory.AdultHypercapnicRisk,
        Name = "hypercapnic",
        Describes = "Adult at risk of hypercapnic failure",
        SpO2LowLimit = new(Percent.Of(86), UnitPolicy),
        BackstopLimit = new(Percent.Of(78), UnitPolicy),
        SpO2HighLimit = new(Percent.Of(94), UnitPolicy),
        Target = new(new PercentRange(Percent.Of(88), Percent.Of(92)), "BTS guideline 2017, Thorax 72 Suppl 1"),
    };

    public static readonly CategoryPreset NeonatalOnOxygen = Adult with
    {
        Category = PatientCategory.NeonatalOnOxygen,
        Name = "neonate-oxygen",
        Describes = "Neonate on supplemental oxygen",
        SpO2LowLimit = new(Percent.Of(88), UnitPolicy),
        BackstopLimit = new(Percent.Of(80), "80 % as in the published definitions of neonatal desaturation (< 80 % for ≥ 10 s, Fairchild/Nagraj, PMC6851471); as an alarm: unit policy"),
        SpO2HighLimit = new(Percent.Of(96), UnitPolicy),
        PulseRateLowLimit = new(BeatsPerMinute.Of(100), "100 /min as in the published definition of neonatal bradycardia (Fairchild/Nagraj, PMC6851471); as an alarm: unit policy"),
        PulseRateHighLimit = new(BeatsPerMinute.Of(200), UnitPolicy),
        Target = new(new PercentRange(Percent.Of(91), Percent.Of(95)), "higher trial target range of BOOST-II"),
    };

    public static readonly CategoryPreset NeonatalOnAir = NeonatalOnOxygen with
    {
        Category = PatientCategory.NeonatalOnAir,
        Name = "neonate-air",
        Describes = "Neonate breathing air",
        SpO2HighLimit = null,
        Target = null,
    };

    // Age in months from which the row applies; 1st and 99th centile of heart rate.
    private static readonly (int FromMonths, string Label, int Low, int High)[] HeartRateByAge =
    [
        (0, "0–3 months", 107, 181),
        (3, "3–6 months", 104, 175),
        (6, "6–9 months", 98, 168),
        (9, "9–12 months", 93, 161),
        (12, "12–18 months", 88, 156),
        (18, "18–24 months", 82, 149),
        (24, "2–3 years", 76, 142),
        (36, "3–4 years", 70, 136),
        (48, "4–6 years", 65, 131),
        (72, "6–8 years", 59, 123),
        (96, "8–12 years", 52, 115),
        (144, "12–15 years", 47, 108),
        (180, "15–18 years", 43, 104),
    ];

    /// <summary>The preset for a child of a given age, past the newborn period and under 18 years.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Below 0 or from 216 months on.</exception>
    public static CategoryPreset Paediatric(int ageMonths)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(ageMonths);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(ageMonths, 216);
        var row = HeartRateByAge.Last(r => r.FromMonths <= ageMonths);
        return Adult with
        {
            Category = ageMonths < 12 ? PatientCategory.PaediatricInfant : ageMonths < 144 ? PatientCategory.PaediatricChild : PatientCategory.PaediatricAdolescent,
            Name = ageMonths < 24 ? $"paediatric:{ageMonths}mo" : $"paediatric:{ageMonths / 12}y",
            Describes = $"Child, {row.Label}",
            SpO2LowLimit = new(Percent.Of(90), "WHO: hypoxaemia is SpO2 < 90 % (McCollum, BMJ Open Respir Res 2021;8:e001023); as an alarm: unit policy"),
            PulseRateLowLimit = new(BeatsPerMinute.Of(row.Low), Fleming),
            PulseRateHighLimit = new(BeatsPerMinute.Of(row.High), Fleming),
            Target = null,
        };
    }

    /// <summary>Names that <see cref="TryParse"/> understands, for help and error texts.</summary>
    public static IReadOnlyList<string> Names { get; } = ["adult", "hypercapnic", "paediatric:AGE (e.g. paediatric:8mo, paediatric:4y)", "neonate-oxygen", "neonate-air"];

    /// <summary>Reads a category name; ages are whole months ("8mo") or years ("4y").</summary>
    public static bool TryParse(string name, out CategoryPreset? preset)
    {
        preset = name.Trim().ToLowerInvariant() switch
        {
            "adult" => Adult,
            "hypercapnic" => AdultHypercapnicRisk,
            "neonate-oxygen" => NeonatalOnOxygen,
            "neonate-air" => NeonatalOnAir,
            var other when other.StartsWith("paediatric:", StringComparison.Ordinal) && AgeMonths(other["paediatric:".Length..]) is { } months => Paediatric(months),
            _ => null,
        };
        return preset is not null;
    }

    private static int? AgeMonths(string age)
    {
        int perUnit = age.EndsWith("mo", StringComparison.Ordinal) ? 1 : age.EndsWith('y') ? 12 : 0;
        if (perUnit == 0) return null;
        var digits = age.AsSpan(0, age.Length - (perUnit == 1 ? 2 : 1));
        return int.TryParse(digits, NumberStyles.None, CultureInfo.InvariantCulture, out int number) && number < 216 && number * perUnit < 216 ? number * perUnit : null;
    }
}
