using Stillwatch.Signals;

namespace Stillwatch.Conditioning;

/// <summary>
/// What the source says of a moment: the latest word of its validity and quality channels at or before it. A row of theirs
/// without a number means that nothing is known, and takes an earlier word back.
/// </summary>
/// <remarks>Asked in rising time only.</remarks>
internal sealed class OutsideJudge(Channel? sourceValid, Channel? quality)
{
    private int validIndex = -1;
    private int qualityIndex = -1;

    public bool IsFlagged(long time) => sourceValid is not null && Latest(sourceValid, time, ref validIndex) == 0;

    /// <summary>In millionths of the quality channel's unit; <see cref="ValueColumn.Missing"/>: not known.</summary>
    public int QualityMicro(long time) => quality is null ? ValueColumn.Missing : Latest(quality, time, ref qualityIndex);

    public static bool IsPoor(int qualityMicro, int? thresholdMicro) => qualityMicro != ValueColumn.Missing && qualityMicro < thresholdMicro;

    private static int Latest(Channel channel, long time, ref int index)
    {
        while (index + 1 < channel.Times.Count && channel.Times.TimeAt(index + 1).Milliseconds <= time) index++;
        return index < 0 ? ValueColumn.Missing : channel.Values[index];
    }
}
