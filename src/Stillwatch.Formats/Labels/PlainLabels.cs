using Stillwatch.Signals;

namespace Stillwatch.Formats.Labels;

/// <summary>The plain label of a kind, which <see cref="LabelVocabulary"/> recognises again: for channels whose own label cannot, or must not, be written.</summary>
internal static class PlainLabels
{
    /// <summary>Null for a channel that is of no kind we know.</summary>
    public static string? Of(ChannelKind kind) => kind switch
    {
        ChannelKind.SpO2 => "SpO2",
        ChannelKind.PulseRate => "Pulse rate",
        ChannelKind.PerfusionIndex => "Perfusion index",
        ChannelKind.SignalQuality => "Signal quality",
        ChannelKind.SourceValid => "Valid",
        ChannelKind.InhaledOxygen => "FiO2",
        ChannelKind.HeartRate => "Heart rate",
        ChannelKind.Pleth => "Pleth",
        ChannelKind.RedLight => "Red light",
        ChannelKind.InfraredLight => "Infrared light",
        _ => null,
    };
}
