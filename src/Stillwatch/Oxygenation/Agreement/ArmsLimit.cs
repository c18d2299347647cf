namespace Stillwatch.Oxygenation.Agreement;

/// <summary>A published upper limit of Arms over 70–100 %, without motion. That a figure is within it says nothing of a single patient.</summary>
/// <param name="Percent">Arms up to and including it is accepted.</param>
/// <param name="Source">Who asks for it, and how far the number may be trusted.</param>
public sealed record ArmsLimit(double Percent, string Source)
{
    public static ArmsLimit Standard { get; } = new(4.0, "ISO 80601-2-61, from memory");

    public static ArmsLimit Transmittance { get; } = new(3.0, "United States regulator's guidance of 2013, secondary copy; above 3 % called inaccurate in PMC10651532 as well");

    public static ArmsLimit Reflectance { get; } = new(3.5, "United States regulator's guidance of 2013, secondary copy");

    /// <returns>False for NaN.</returns>
    public bool IsMetBy(double arms) => arms <= Percent;
}
