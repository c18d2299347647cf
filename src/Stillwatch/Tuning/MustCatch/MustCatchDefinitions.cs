using Stillwatch.Quantities;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Tuning.MustCatch;

/// <summary>What an event is that settings must not miss, per patient category, where the unit has not written its own.</summary>
/// <remarks>
/// Proposed starting points, for the unit to replace. A source beside a number says where the number was published, not
/// that missing such an event is thereby proven to harm.
/// </remarks>
public static class MustCatchDefinitions
{
    private const string NoSource = "unit policy, no source";

    // Fairchild and colleagues (PMC6851471) count < 80 % for >= 10 s in preterms; PMC9892170 uses < 80 % for > 10 s.
    private static readonly MustCatchLine PretermHypoxaemia = Below(80, 10);

    public static MustCatchDefinition For(PatientCategory category) => category switch
    {
        PatientCategory.Adult or PatientCategory.PaediatricAdolescent => Named(category, NoSource, AtMost(85, 60), Below(80, 15)),
        PatientCategory.Unknown => Named(category, $"{NoSource}; the adult definition, because the category is not known", AtMost(85, 60), Below(80, 15)),
        PatientCategory.AdultHypercapnicRisk => Named(
            category,
            $"≤ 83 %: the lowest band of NEWS2's SpO2 scale 2 (RCP 2017, secondary copy), for a target of 88–92 %; 60 s, 80 % and 15 s: {NoSource}",
            AtMost(83, 60),
            Below(80, 15)),
        PatientCategory.PaediatricChild => Named(category, NoSource, AtMost(85, 60), Below(80, 15)),
        PatientCategory.PaediatricInfant => Named(category, $"{NoSource}; shorter than for adults, because infants desaturate faster (common practice, no source)", AtMost(85, 30), Below(80, 10)),
        PatientCategory.NeonatalOnOxygen => Named(
            category,
            $"< 80 % for ≥ 10 s: a published definition of hypoxaemia in preterms (PMC6851471; PMC9892170); as must-catch: {NoSource}",
            PretermHypoxaemia),
        PatientCategory.NeonatalOnAir => Named(
            category,
            $"< 80 % for ≥ 10 s: a published definition of hypoxaemia in preterms (PMC6851471; PMC9892170); as must-catch, and ≤ 85 % for ≥ 60 s: {NoSource}",
            AtMost(85, 60),
            PretermHypoxaemia),
        _ => throw new ArgumentOutOfRangeException(nameof(category), category, "No such patient category."),
    };

    private static MustCatchDefinition Named(PatientCategory category, string source, params MustCatchLine[] lines) =>
        new($"default for {category.InWords()}", lines, source);

    private static MustCatchLine AtMost(int level, int seconds) => new(Percent.Of(level), Inclusive: true, Duration.FromSeconds(seconds));

    private static MustCatchLine Below(int level, int seconds) => new(Percent.Of(level), Inclusive: false, Duration.FromSeconds(seconds));
}
