namespace Stillwatch.Oxygenation.Indices;

/// <summary>The fraction of oxygen in what the patient breathes; a type of its own so that 0.40 and 40 % are never confused.</summary>
/// <remarks>With nasal prongs or a simple mask it is an estimate, often a poor one; every index made of it inherits that.</remarks>
public readonly record struct InhaledOxygen
{
    private InhaledOxygen(double fraction) => Fraction = fraction;

    /// <summary>Above 0, up to 1, or NaN: "no number".</summary>
    public double Fraction { get; }

    public static InhaledOxygen Air { get; } = new(0.21);

    /// <exception cref="ArgumentOutOfRangeException">Not above 0 and up to 1; NaN is let through as "no number".</exception>
    public static InhaledOxygen FromFraction(double fraction) => fraction is <= 0 or > 1
        ? throw new ArgumentOutOfRangeException(nameof(fraction), $"Inhaled oxygen as a fraction is {fraction}; expected above 0 and up to 1. Given in percent, perhaps?")
        : new(fraction);

    /// <exception cref="ArgumentOutOfRangeException">Not above 1 and up to 100; NaN is let through as "no number".</exception>
    public static InhaledOxygen FromPercent(double percent) => percent is <= 1 or > 100
        ? throw new ArgumentOutOfRangeException(nameof(percent), $"Inhaled oxygen in percent is {percent}; expected above 1 and up to 100. Given as a fraction, perhaps?")
        : new(percent / 100);

    public override string ToString() => $"{Fraction:0.###}";

    /// <summary>Why an index that is meant for patients on air or more oxygen cannot be made of it; null where it can.</summary>
    internal string? WhyNoIndex()
    {
        // 0.2095 is air as it is measured; thinner mixtures are given to volunteers, and no cut point was made on them.
        if (Fraction >= 0.20) return null;
        return Fraction > 0 ? $"inhaled oxygen is {this}, less than in air" : "inhaled oxygen is not known";
    }
}
