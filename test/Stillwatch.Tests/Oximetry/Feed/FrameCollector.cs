using Stillwatch.Oximetry.Feed;

namespace Stillwatch.Tests.Oximetry.Feed;

/// <summary>Keeps the samples of a feed; a gap's are NaN, and marked.</summary>
internal sealed class FrameCollector : IFrameSink
{
    public List<double> Pulse { get; } = [];

    public List<double> Red { get; } = [];

    public List<(int At, long Samples)> Gaps { get; } = [];

    public int LongestTake { get; private set; }

    public bool AnyRed { get; private set; }

    public void Take(ReadOnlySpan<double> pulse, ReadOnlySpan<double> red)
    {
        Assert.True(pulse.Length > 0, "an empty piece was given");
        Assert.True(red.IsEmpty || red.Length == pulse.Length, "red and pulse differ in length");
        LongestTake = Math.Max(LongestTake, pulse.Length);
        AnyRed |= !red.IsEmpty;
        Pulse.AddRange(pulse);
        if (red.IsEmpty) Red.AddRange(Enumerable.Repeat(double.NaN, pulse.Length));
        else Red.AddRange(red);
    }

    public void TakeGap(long samples)
    {
        Assert.True(samples > 0, "an empty gap was given");
        Assert.True(Gaps.Count == 0 || Gaps[^1].At + Gaps[^1].Samples < Pulse.Count, "two gaps in a row are one");
        Gaps.Add((Pulse.Count, samples));
        Pulse.AddRange(Enumerable.Repeat(double.NaN, (int)samples));
        Red.AddRange(Enumerable.Repeat(double.NaN, (int)samples));
    }
}
