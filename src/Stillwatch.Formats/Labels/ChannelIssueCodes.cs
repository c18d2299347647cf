namespace Stillwatch.Formats.Labels;

/// <summary>The stable names of what any reader lists about the channels of a file.</summary>
public static class ChannelIssueCodes
{
    public const string ValueScaled = "value.scaled";
    public const string ValueScaleUnclear = "value.scale-unclear";
    public const string ChannelChosen = "channel.chosen";
    public const string ChannelNoSpO2 = "channel.no-spo2";
    public const string ChannelByName = "channel.by-name";

    /// <summary>A label and a unit that do not go together ("SpO2" in millivolts).</summary>
    public const string ChannelUnit = "channel.unit";

    /// <summary>Values that no column of decimals can hold (beyond ±2147).</summary>
    public const string ValueTooLarge = "value.too-large";

    /// <summary>A channel that the rules would judge with more than one sample in a millisecond.</summary>
    public const string ChannelTooFast = "channel.too-fast";

    /// <summary>The file states another averaging of its source than what is told beside it.</summary>
    public const string SourceAveraging = "source.averaging";

    /// <summary>An option that speaks of tables alone.</summary>
    public const string OptionNotUsed = "option.not-used";
}
