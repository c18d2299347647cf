using Stillwatch.Quantities;
using Stillwatch.Signals;

namespace Stillwatch.Alarms;

/// <summary>Starting settings for one patient: the category's preset, bent to the prescription, with a reason beside each number.</summary>
/// <param name="Numbers">The preset with the numbers that the prescription or the oxygen changes; each says why.</param>
/// <param name="Cautions">What to think of with this patient, a sentence each.</param>
/// <remarks>A start for a person to think from: the prescription, local policy and licensed clinicians come first.</remarks>
public sealed record StartingSettings(CategoryPreset Numbers, IReadOnlyList<string> Cautions)
{
    private static readonly Percent LeastRoomAboveBackstop = Percent.Of(2);

    /// <param name="preset">The category's own numbers.</param>
    /// <param name="onOxygen">Whether oxygen is added; null: not known.</param>
    /// <param name="prescribed">The prescribed range of saturation; null: none is known.</param>
    /// <exception cref="ArgumentException">The prescribed range ends below where it begins, or lies outside 50–100 %.</exception>
    public static StartingSettings For(CategoryPreset preset, bool? onOxygen, PercentRange? prescribed)
    {
        if (prescribed is { } range && (range.High < range.Low || range.Low < Percent.Of(50) || range.High > Percent.Of(100)))
            throw new ArgumentException($"Prescribed range: found {range}, expected from 50 to 100 % with the lower end first.", nameof(prescribed));
        var cautions = new List<string>();
        var numbers = preset;
        if (prescribed is { } target && preset.Target is { } usual && target != usual.Value) numbers = Bent(numbers, target, usual, cautions);
        else if (prescribed is { } alone && preset.Target is null) numbers = BelowTarget(numbers, alone, cautions);
        numbers = HighLimit(numbers, onOxygen, prescribed, cautions);
        ByCategory(preset, onOxygen, prescribed, cautions);
        return new StartingSettings(numbers, cautions);
    }

    /// <summary>Limits stay as far from the prescribed range as the category's are from its usual one.</summary>
    private static CategoryPreset Bent(CategoryPreset preset, PercentRange target, Sourced<PercentRange> usual, List<string> cautions)
    {
        int below = usual.Value.Low.Micro - preset.SpO2LowLimit.Value.Micro;
        var bent = WithLow(
            preset, Percent.FromMicro(target.Low.Micro - below),
            $"{Points(below)} below the prescribed {target}, as the category's limit is below its usual {usual.Value} ({CategoryPresets.UnitPolicy})", cautions);
        if (preset.SpO2HighLimit is not { } high) return bent;
        int above = high.Value.Micro - usual.Value.High.Micro;
        int wanted = Math.Min(100 * FixedPoint.One, target.High.Micro + above);
        return bent with { SpO2HighLimit = new(Percent.FromMicro(wanted), $"{Points(wanted - target.High.Micro)} above the prescribed {target} ({CategoryPresets.UnitPolicy})") };
    }

    private static CategoryPreset BelowTarget(CategoryPreset preset, PercentRange target, List<string> cautions) =>
        target.Low > preset.SpO2LowLimit.Value
            ? preset
            : WithLow(preset, Percent.FromMicro(target.Low.Micro - FixedPoint.One), $"one point below the prescribed {target}: a limit inside the range would signal all the time ({CategoryPresets.UnitPolicy})", cautions);

    private static CategoryPreset WithLow(CategoryPreset preset, Percent wanted, string why, List<string> cautions)
    {
        if (wanted < preset.LowestProposedLimit.Value)
        {
            cautions.Add($"The prescribed range would put the low limit at {wanted.Value:0.##} %, below the {preset.LowestProposedLimit.Value.Value:0.##} % under which nothing is proposed here. It was left at {preset.LowestProposedLimit.Value.Value:0.##} %: whoever prescribes decides.");
            (wanted, why) = (preset.LowestProposedLimit.Value, $"the lowest that is proposed here ({preset.LowestProposedLimit.Source}); the prescription alone would have it lower");
        }

        var bent = preset with { SpO2LowLimit = new(wanted, why) };
        var highest = Percent.FromMicro(wanted.Micro - LeastRoomAboveBackstop.Micro);
        return preset.BackstopLimit.Value <= highest
            ? bent
            : bent with { BackstopLimit = new(highest, $"{Points(LeastRoomAboveBackstop.Micro)} below the low limit, which stands lower than usual ({CategoryPresets.UnitPolicy})") };
    }

    private static CategoryPreset HighLimit(CategoryPreset preset, bool? onOxygen, PercentRange? prescribed, List<string> cautions)
    {
        if (preset.SpO2HighLimit is null || onOxygen != false) return preset;
        cautions.Add("Breathing air, nobody has too much oxygen: SpO2 high was switched off. Switch it on again when oxygen is added.");
        return preset with { SpO2HighLimit = null };
    }

    private static void ByCategory(CategoryPreset preset, bool? onOxygen, PercentRange? prescribed, List<string> cautions)
    {
        switch (preset.Category)
        {
            case PatientCategory.AdultHypercapnicRisk:
                cautions.Add("At risk of hypercapnic failure more oxygen than prescribed can raise carbon dioxide: a high saturation on oxygen is a reason to look, not to be content. A normal SpO2 does not exclude hypercapnia.");
                if (onOxygen is null) cautions.Add("Whether oxygen is given is not known: SpO2 high is left on.");
                break;
            case PatientCategory.NeonatalOnOxygen:
                cautions.Add("Too much oxygen harms preterm infants (retinopathy): while oxygen is given the SpO2 high alarm stays on.");
                if (onOxygen == false) cautions.Add("The category says on oxygen, and air was chosen: take the category for neonates breathing air.");
                break;
            case PatientCategory.NeonatalOnAir:
                if (onOxygen == true) cautions.Add("Oxygen is given: take the category for neonates on oxygen, whose SpO2 high alarm guards against too much of it.");
                break;
            case PatientCategory.PaediatricInfant:
                cautions.Add("Infants desaturate faster than adults (common practice, no source): long delays weigh more.");
                break;
            case PatientCategory.Adult when prescribed is { } range && range.High <= Percent.Of(92):
                cautions.Add($"A prescribed {range} is the target of patients at risk of hypercapnic failure: ask whether that category is meant.");
                break;
        }

        if (prescribed is null)
            cautions.Add(preset.Target is { } usual ? $"No prescribed range was given; the category's usual one is {usual.Value} ({usual.Source}). Ask for the prescription." : "No prescribed range was given. Ask for the prescription.");
    }

    private static string Points(int micro) => micro == FixedPoint.One ? "1 point" : $"{micro / (decimal)FixedPoint.One:0.##} points";
}
