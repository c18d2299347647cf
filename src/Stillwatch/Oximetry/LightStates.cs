namespace Stillwatch.Oximetry;

/// <summary>The states of a second of light in plain words, the same on every page and in every export.</summary>
public static class LightStates
{
    /// <summary>In the order in which a reader asks: shown first, then the reasons why not.</summary>
    public static readonly IReadOnlyList<LightState> All = Enum.GetValues<LightState>();

    /// <summary>A few words that stand alone in a table: "motion", "pulse too weak".</summary>
    public static string InWords(this LightState state) => state switch
    {
        LightState.Valid => "numbers given",
        LightState.NoSamples => "no samples",
        LightState.SensorOff => "sensor off",
        LightState.Saturated => "light out of range",
        LightState.Ambient => "light from elsewhere",
        LightState.Flicker => "flicker of lamps",
        LightState.Motion => "motion",
        LightState.NoPulse => "no pulse found",
        LightState.Weak => "pulse too weak",
        LightState.Settling => "settling",
        LightState.NoRed => "no red light",
        LightState.BeyondCurve => "beyond the curve",
        _ => throw new ArgumentOutOfRangeException(nameof(state), state, "A state without words."),
    };

    /// <summary>Whether the pulse's numbers are refused too, and not SpO2 alone.</summary>
    public static bool RefusesAll(this LightState state) => state is not (LightState.Valid or LightState.NoRed or LightState.BeyondCurve);

    /// <summary>What is refused, and why: "no numbers: motion", "no SpO2: no red light".</summary>
    public static string RefusalInWords(this LightState state) => $"{(state.RefusesAll() ? "no numbers" : "no SpO2")}: {state.InWords()}";

    /// <summary>What the state means, in a sentence.</summary>
    public static string Meaning(this LightState state) => state switch
    {
        LightState.Valid => "The light carries a pulse that is trusted; numbers are given.",
        LightState.NoSamples => "The source gave no samples, or too few: a gap.",
        LightState.SensorOff => "The sensor sees no tissue: the light is dark, or floods the detector, without a pulse.",
        LightState.Saturated => "The converter is at its end, and the top or bottom of the pulse is cut off.",
        LightState.Ambient => "Light from elsewhere changes the level in steps that are no pulse.",
        LightState.Flicker => "Lamps at a fixed frequency lie in the band of the pulse.",
        LightState.Motion => "The shape changes from beat to beat and the level wanders, as in movement.",
        LightState.NoPulse => "The sensor is on tissue and nothing moves, but no pulse is found. A technical state: look at the patient.",
        LightState.Weak => "There is a pulse, but too weak beside the noise, or too unlike from beat to beat, to give a number.",
        LightState.Settling => "The first seconds after a start or a gap: not yet enough beats.",
        LightState.NoRed => "The pulse is trusted and its rate given, but red light is missing, so that there is no SpO2.",
        LightState.BeyondCurve => "The pulse is trusted and its rate given, but the ratio lies beyond the ends of the calibration table, so that there is no SpO2.",
        _ => throw new ArgumentOutOfRangeException(nameof(state), state, "A state without words."),
    };
}
