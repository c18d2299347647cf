namespace Stillwatch.Oximetry.States;

/// <summary>One line of the table: when it holds, the second has this state.</summary>
/// <param name="State">What is said of the second.</param>
/// <param name="Words">The rule as a nurse would say it, numbers included.</param>
/// <param name="Holds">The rule as the program tries it; a feature that is not known (NaN) makes no comparison true.</param>
public sealed record StateRule(LightState State, string Words, Func<SecondEvidence, bool> Holds);

/// <summary>
/// The table of rules by which a second of light is judged, in order: the first that holds is the reason given. Where none holds, numbers are shown.
/// </summary>
/// <remarks>
/// Own choices, no source, unless one stands beside a number; fixed on rehearsed light (seeds below 9000) and never on a recording. They refuse numbers; none of
/// them says anything about the patient.
/// </remarks>
public static class StateRules
{
    public static IReadOnlyList<StateRule> All { get; } =
    [
        new(LightState.SensorOff, "The light does not change by a single step for the whole second, in any channel.", e => e.FlatShare > 0.95),
        new(LightState.SensorOff, "The light has fallen below a tenth of what it was, or is so faint that noise is half a percent of it.",
            e => e.LevelOfReference < 0.1 || e.LevelOfGreatest < 0.02 || e.NoiseOfLevel > 0.005),
        new(LightState.SensorOff, "The light is another by half or more, or by a third less, and there is no pulse of one shape in it.",
            e => (e.LevelOfReference > 1.5 || e.LevelOfReference < 0.67) && (e.NearBeats < 2 || e.Shape < 0.8 || e.PulseOverNoise < 6)),
        new(LightState.Saturated, "More than 2 % of the second stands at an end of the converter.", e => e.ClippedShare > 0.02),
        new(LightState.Ambient, "The level jumps by more than half a pulse, by as many counts in both channels, as added light does.",
            e => e.StepOfPulse > 0.6 && e.StepAlikeInCounts < 0.4),
        new(LightState.Motion, "The level jumps by more than one and a half pulses.", e => e.StepOfPulse > 1.5),
        new(LightState.Flicker, "Beside the pulse stands for five seconds a narrow line of more than a tenth of all that moves, as many counts in red as in infrared, while the pulse is not.",
            e => e.LineShare > 0.1 && e.LineSeconds >= 5 && Math.Abs(e.LineInCounts - 1) < 0.1 && !(Math.Abs(e.PulseInCounts - 1) < 0.2)),
        new(LightState.Flicker, "Beside the pulse stands for fifteen seconds a narrow line of more than a tenth of all that moves, at no multiple of half the pulse rate, and no colour speaks against lamps.",
            e => e.LineShare > 0.1 && e.LineSeconds >= 15 && IsForeign(e.LineOfPulse) && !(Math.Abs(e.LineInCounts - 1) > 0.1)),
        new(LightState.Flicker, "What moves most is a pure wave without an overtone, as many counts in red as in infrared: light from elsewhere, not blood.",
            e => e.PeakOvertone < 0.03 && Math.Abs(e.PeakInCounts - 1) < 0.1),
        new(LightState.NoPulse, "No two beats near, none that stands out of the noise, or hardly any and of no common shape.",
            e => e.NearBeats < 2 || e.PulseOverNoise < 4 || ((e.PulseOverNoise < 20 || e.AmplitudeOfReference < 0.1) && e.Shape < 0.75)),
        new(LightState.Motion, "Beats are three times as large as they were.", e => e.AmplitudeOfReference > 3),
        new(LightState.Motion, "The level wanders by more than two pulses from beat to beat.", e => e.Wander > 2 && !(e.PulseOverNoise < 20)),
        new(LightState.Motion, "The light is another by a sixth than it was: the sensor has moved.", e => e.LevelOfReference > 1.17 || e.LevelOfReference < 0.85),
        new(LightState.Motion, "The signs of movement (shape, size, time, lean, wander, colour, what lies beside the pulse rate) add up to more than 1.6.",
            e => !(e.PulseOverNoise < 20) && MovementSigns.Of(e) > 1.6),
        new(LightState.Motion, "The ratio has leapt by more than 0.2 from what it was, faster than blood does.", e => Math.Abs(e.RatioChange) > 0.2),
        new(LightState.Settling, "Less than four good beats in the first eight seconds.", e => e.WindowBeats < 4 && e.SecondsSinceStart < 8),
        new(LightState.Weak, "Beats are of unlike shape, or other signs of movement are there beside noise.", e => e.Shape < 0.8 || MovementSigns.Of(e) > 1.6),
        new(LightState.Weak, "Less than three good beats in the averaging time.", e => e.WindowBeats < 3),
        new(LightState.Weak, "The ratio is uncertain by more than 0.06.", e => e.RatioError > 0.06),
    ];

    // Every other beat weaker or early, as in bigeminy, gives lines at multiples of half the rate.
    private static bool IsForeign(double lineOfPulse) => Math.Abs(2 * lineOfPulse - Math.Round(2 * lineOfPulse)) > 0.2;

    /// <summary>State by the first rule that holds; valid where none does.</summary>
    public static LightState Judge(in SecondEvidence evidence)
    {
        var e = evidence;
        for (int i = 0; i < All.Count; i++)
        {
            if (All[i].Holds(e)) return All[i].State;
        }

        return LightState.Valid;
    }
}
