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
