using Stillwatch.Quantities;
using Stillwatch.Signals;

namespace Stillwatch.Conditioning;

/// <summary>A channel with what the source says of its trustworthiness, ready to be conditioned.</summary>
/// <param name="Channel">SpO2 or pulse rate.</param>
/// <param name="Quantity">Which validity rules apply.</param>
/// <param name="SourceValid">The source's own validity column, 0 meaning not valid; null: none.</param>
/// <param name="Quality">The source's signal quality; null: not known.</param>
/// <param name="QualityThresholdMicro">Below this (in millionths of the quality channel's unit) a value is not valid; null: quality is shown, not judged.</param>
public sealed record ConditionedSource(
    Channel Channel,
    ConditionedQuantity Quantity,
    Channel? SourceValid = null,
    Channel? Quality = null,
    int? QualityThresholdMicro = null)
{
    /// <summary>The SpO2 of a recording with its validity and quality channels; null where it has none.</summary>
    public static ConditionedSource? SpO2Of(Recording recording, int? qualityThresholdMicro = null) =>
        Of(recording, ChannelKind.SpO2, ConditionedQuantity.SpO2, qualityThresholdMicro);

    /// <summary>The pulse rate of a recording; null where it has none.</summary>
    public static ConditionedSource? PulseRateOf(Recording recording, int? qualityThresholdMicro = null) =>
        Of(recording, ChannelKind.PulseRate, ConditionedQuantity.PulseRate, qualityThresholdMicro);

    /// <summary>Every row of a column at one even rate, for tests and simulations.</summary>
    public static ConditionedSource Even(IEnumerable<decimal?> values, Time.Duration period, ConditionedQuantity quantity = ConditionedQuantity.SpO2)
    {
        var column = ValueColumn.Of(values);
        var kind = quantity == ConditionedQuantity.SpO2 ? ChannelKind.SpO2 : ChannelKind.PulseRate;
        return new ConditionedSource(new Channel(kind.ToString(), kind, quantity == ConditionedQuantity.SpO2 ? "%" : "/min", Time.TimeAxis.Even(default, period, column.Count), column), quantity);
    }

    /// <summary>Whether any row can be rejected for another reason than its own number.</summary>
    internal bool HasOutsideJudgement => SourceValid is not null || (Quality is not null && QualityThresholdMicro is not null);

    private static ConditionedSource? Of(Recording recording, ChannelKind kind, ConditionedQuantity quantity, int? threshold) =>
        recording.Find(kind) is { } channel
            ? new ConditionedSource(channel, quantity, recording.Find(ChannelKind.SourceValid), recording.Find(ChannelKind.SignalQuality), threshold)
            : null;
}
