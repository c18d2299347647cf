namespace Stillwatch.Oxygenation.Dissociation;

/// <summary>What is published of the P50 at an age: a range, never one number.</summary>
/// <param name="Lowest">The lowest that a source gives.</param>
/// <param name="Highest">The highest that a source gives.</param>
/// <param name="Source">Which sources, and how far they may be trusted.</param>
public sealed record HalfSaturationByAge(GasPressure Lowest, GasPressure Highest, string Source)
{
    /// <summary>Foetal haemoglobin holds oxygen more firmly. A transfusion of adult blood ends it.</summary>
    public static HalfSaturationByAge Newborn { get; } =
        new(GasPressure.FromTorr(18), GasPressure.FromTorr(20), "secondary copies, which give 18–19, 18–20 and about 19 Torr");

    /// <summary>At 4–6 months it has passed the adult's.</summary>
    public static HalfSaturationByAge FourToSixMonths { get; } =
        new(GasPressure.FromTorr(30), GasPressure.FromTorr(30), "one secondary copy: about 30 Torr, no range given");

    public static HalfSaturationByAge Adult { get; } =
        new(GasPressure.FromTorr(26.6), GasPressure.FromTorr(27), "secondary copies: 26.6 to 27 Torr");

    /// <summary>
    /// By age. "Newborn" is read as the first week and "adult" as from 18 years on: our own reading. The ages between
    /// have no published value here, and none is interpolated.
    /// </summary>
    /// <returns>The range, or why there is none.</returns>
    public static Answer<HalfSaturationByAge> At(double ageDays)
    {
        if (!(ageDays >= 0) || double.IsInfinity(ageDays)) return Answer.None<HalfSaturationByAge>($"age is {ageDays} days; expected 0 or more");
        if (ageDays <= 7) return Answer.Of(Newborn);
        if (ageDays >= 18 * DaysPerYear) return Answer.Of(Adult);
        if (ageDays is >= 4 * DaysPerYear / 12 and < 7 * DaysPerYear / 12) return Answer.Of(FourToSixMonths);
        return Answer.None<HalfSaturationByAge>($"no published P50 at {ageDays:0.#} days: there are figures for the newborn, for 4 to 6 months and for adults, and none is made up between them");
    }

    private const double DaysPerYear = 365.25;
}
