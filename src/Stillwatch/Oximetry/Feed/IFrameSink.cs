namespace Stillwatch.Oximetry.Feed;

/// <summary>Takes light on an even grid, in order. <c>OximetryStream</c> is fed from it.</summary>
public interface IFrameSink
{
    /// <param name="pulse">In the channel's unit; NaN: no number.</param>
    /// <param name="red">As long as <paramref name="pulse"/>, or empty where there is no red channel; NaN: no number.</param>
    void Take(ReadOnlySpan<double> pulse, ReadOnlySpan<double> red);

    /// <param name="samples">So many samples of the grid have no row in the source; above zero.</param>
    void TakeGap(long samples);
}
