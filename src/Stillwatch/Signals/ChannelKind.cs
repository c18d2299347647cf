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

    /// <summary>Raw red light through or from tissue (about 660 nm).</summary>
    RedLight,

    /// <summary>Raw infrared light through or from tissue (about 880–940 nm).</summary>
    InfraredLight,
}

public static class ChannelKinds
{
    /// <summary>The kinds that rules judge or that stand beside them: all that reviewing and tuning need of a file.</summary>
    public static readonly IReadOnlySet<ChannelKind> Judged = Enum.GetValues<ChannelKind>().Where(k => !k.MayBeCounts()).ToHashSet();

    /// <summary>Whether a channel of this kind may be held as a converter's counts: no rule judges its values.</summary>
    public static bool MayBeCounts(this ChannelKind kind) => kind is ChannelKind.Pleth or ChannelKind.Other or ChannelKind.RedLight or ChannelKind.InfraredLight;
}
