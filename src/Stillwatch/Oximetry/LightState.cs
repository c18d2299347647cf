namespace Stillwatch.Oximetry;

/// <summary>What a second of light is worth, and why a number is refused. A technical state, never a finding in the patient.</summary>
/// <remarks>Where several hold, the first of this order is given: what takes the light away goes before what spoils it. The last two refuse SpO2 alone.</remarks>
public enum LightState
{
    /// <summary>Numbers are shown.</summary>
    Valid,

    /// <summary>No samples, or too few of them: a gap of the source.</summary>
    NoSamples,

    /// <summary>The sensor sees no tissue: the light is dark, or floods the detector, without a pulse.</summary>
    SensorOff,

    /// <summary>The converter is at its end: the top or bottom of the pulse is cut.</summary>
    Saturated,

    /// <summary>Light from elsewhere that changes: steps of the level that are no pulse.</summary>
    Ambient,

    /// <summary>Lamps at a fixed frequency in the pulse band.</summary>
    Flicker,

    /// <summary>Movement: the shape changes from beat to beat, the level wanders.</summary>
    Motion,

    /// <summary>The sensor is on tissue and nothing moves, but there is no pulse to be found.</summary>
    NoPulse,

    /// <summary>There is a pulse, but too weak beside the noise, or too unlike from beat to beat, to give a number.</summary>
    Weak,

    /// <summary>The first seconds after a start or a gap: not yet enough beats.</summary>
    Settling,

    /// <summary>The pulse is trusted and its numbers are given, but red light is missing: no SpO2. Only where there is a red channel.</summary>
    NoRed,

    /// <summary>The pulse is trusted and its numbers are given, but the curve says nothing of this ratio: no SpO2.</summary>
    BeyondCurve,
}
