namespace Stillwatch.Signals;

/// <summary>The groups that settings are fitted within; nothing is transferred from one to another (rule R14.7).</summary>
public enum PatientCategory
{
    Unknown,
    Adult,

    /// <summary>An adult at risk of hypercapnic failure, with a lower target.</summary>
    AdultHypercapnicRisk,
    PaediatricInfant,
    PaediatricChild,
    PaediatricAdolescent,

    /// <summary>A preterm or term neonate on supplemental oxygen.</summary>
    NeonatalOnOxygen,
    NeonatalOnAir,
}

public static class PatientCategories
{
    /// <summary>The category as a clinician would say it.</summary>
    public static string InWords(this PatientCategory category) => category switch
    {
        PatientCategory.Adult => "adult",
        PatientCategory.AdultHypercapnicRisk => "adult at risk of hypercapnic failure",
        PatientCategory.PaediatricInfant => "paediatric, infant",
        PatientCategory.PaediatricChild => "paediatric, child",
        PatientCategory.PaediatricAdolescent => "paediatric, adolescent",
        PatientCategory.NeonatalOnOxygen => "neonatal on oxygen",
        PatientCategory.NeonatalOnAir => "neonatal on air",
        _ => "category not known",
    };
}
