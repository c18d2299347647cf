using Stillwatch.Signals;

namespace Stillwatch.Oximetry;

/// <summary>From a recording's light, or its pleth, to beats and numerics.</summary>
public static class Derivation
{
    /// <summary>Derives all that the recording's light gives.</summary>
    /// <exception cref="NoLightException">No channel of the recording can hold a pulse.</exception>
    public static DerivedRecording Of(Recording recording, OximetrySettings settings)
    {
        ArgumentNullException.ThrowIfNull(recording);
        ArgumentNullException.ThrowIfNull(settings);
        throw new NoLightException("no channel that is read yet", "a pleth or red and infrared light");
    }
}

/// <summary>A recording in which no channel can hold a pulse.</summary>
public sealed class NoLightException(string found, string expected) : Exception($"Found {found}, expected {expected}.")
{
    public string Found => found;

    public string Expected => expected;
}
