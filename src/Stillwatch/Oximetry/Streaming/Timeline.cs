using Stillwatch.Dsp;

namespace Stillwatch.Oximetry.Streaming;

/// <summary>The latest samples of the recording by their index: as they came (bridges filled in), and after the band-pass. NaN: in no segment.</summary>
/// <param name="keptSamples">How many of the latest can be read.</param>
/// <param name="hasRed">Whether there is red beside the pulse.</param>
internal sealed class Timeline(int keptSamples, bool hasRed)
{
    public SlidingSamples RawPulse { get; } = new(keptSamples);

    public SlidingSamples Pulse { get; } = new(keptSamples);

    /// <summary>NaN where red alone is missing.</summary>
    public SlidingSamples? RawRed { get; } = hasRed ? new(keptSamples) : null;

    public SlidingSamples? Red { get; } = hasRed ? new(keptSamples) : null;

    /// <summary>What is not here yet before this index will not come.</summary>
    public void SkipTo(long index)
    {
        RawPulse.SkipTo(index);
        Pulse.SkipTo(index);
        RawRed?.SkipTo(index);
        Red?.SkipTo(index);
    }
}
