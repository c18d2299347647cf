namespace Stillwatch.Signals;

/// <summary>What a channel measures, recognised from its label and unit or told by the user.</summary>
public enum ChannelKind
{
    Other,
    SpO2,
    PulseRate,
    PerfusionIndex,

    /// <summary>The source's own signal quality, any scale.</summary>
    SignalQuality,

    /// <summary>The source's own word on each row: 0 not valid, anything else valid.</summary>
    SourceValid,

    /// <summary>Inhaled oxygen in percent.</summary>
    InhaledOxygen,

    /// <summary>Heart rate from another sensor (an electrocardiogram).</summary>
    HeartRate,
    Pleth,
}
