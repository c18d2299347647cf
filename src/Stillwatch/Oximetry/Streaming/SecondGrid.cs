using Stillwatch.Time;

namespace Stillwatch.Oximetry.Streaming;

/// <summary>Which samples lie in which second, exactly: second k holds the samples at k ≤ t &lt; k + 1, seconds counted from the first sample.</summary>
/// <param name="rate">Of the samples; need not be whole.</param>
internal sealed class SecondGrid(SampleRate rate)
{
    private readonly bool isWhole = rate.Samples * 1000 % rate.Milliseconds == 0;
    private readonly long perSecond = rate.Samples * 1000 / rate.Milliseconds;

    public double RateHz { get; } = rate.Hertz;

    /// <summary>The most samples that a second can hold.</summary>
    public int MostInASecond => (int)perSecond + (isWhole ? 0 : 1);

    /// <summary>Index of the first sample at or after the start of a second.</summary>
    public long FirstIndexOf(long second)
    {
        if (isWhole) return second * perSecond;
        var samples = (Int128)second * rate.Samples * 1000;
        return (long)((samples + rate.Milliseconds - 1) / rate.Milliseconds);
    }

    public double SecondsAt(double index) => index / RateHz;
}
