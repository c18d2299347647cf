namespace Stillwatch.Oxygenation.Dissociation;

/// <summary>
/// The share of haemoglobin that carries oxygen, as a model gives it; a type of its own so that 0.97 and 97 % are never
/// confused. A reading off an oximeter is a <see cref="Quantities.Percent"/>, exact in decimals.
/// </summary>
/// <remarks>NaN stands for "no number"; not confined to 0–1: each calculation says what it takes.</remarks>
public readonly record struct Saturation
{
    private Saturation(double fraction) => Fraction = fraction;

    public double Fraction { get; }

    public double Percent => Fraction * 100;

    public static Saturation FromFraction(double fraction) => new(fraction);

    public static Saturation FromPercent(double percent) => new(percent / 100);

    public static Saturation From(Quantities.Percent reading) => new((double)reading.Value / 100);

    public override string ToString() => $"{Percent:0.###} %";
}
