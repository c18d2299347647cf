namespace Stillwatch.Oximetry;

/// <summary>What the derived numbers mean, in the same sentences on every page, in JSON, in manifests and in reports.</summary>
public static class DerivedWords
{
    public const string Beats =
        "A beat's time is its steepest upstroke, in seconds from the first sample's time.";

    public const string PerSecond =
        "Second k covers [k, k + 1) s from the first sample. Pulse rate, SpO2 and perfusion are averaged over the seconds around it; where a number is refused there is none, never 0.";

    public const string Perfusion =
        "Perfusion index: pulse amplitude from trough to peak over the mean infrared light, in percent. Conventions differ between sources; a pleth of unknown zero has none.";

    public const string Ratio =
        "Ratio of ratios: how much the red light changes with the pulse, relative to its mean, over the same of the infrared light. SpO2 is read from it by the calibration curve.";

    public const string Quality =
        "Quality: 0 (no pulse shape) to 1 (each beat like its neighbours). A scale of ours, not to be compared with a monitor's.";

    public const string CurveOfNothingElse = "assumed: nothing else was asked for, and no curve is known for this light";

    public const string CurveAskedFor = "asked for";

    public const string Breathing =
        "Respiratory rate: from the changes that breathing makes in the light's level, the pulse's amplitude and the time between beats, over windows side by side; refused where the three do not agree.";
}
