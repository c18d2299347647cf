using Stillwatch.Conditioning;
using Stillwatch.Quantities;

namespace Stillwatch.Oxygenation;

/// <summary>A range of saturation to stay in, both ends included.</summary>
public sealed record TargetRange
{
    /// <exception cref="ArgumentException">The range is upside down.</exception>
    public TargetRange(Percent low, Percent high)
    {
        if (low > high) throw new ArgumentException($"Target range: found {low} to {high}, expected the lower end first.", nameof(low));
        Low = low;
        High = high;
    }

    public Percent Low { get; }

    public Percent High { get; }
}

/// <summary>What a review may be asked besides its defaults.</summary>
/// <param name="Target">Time below, within and above it is counted; null: no target.</param>
/// <param name="PulseRate">Where the pulse rate comes from; null: the recording's first pulse rate channel, if any.</param>
/// <param name="ExtraLevels">More levels for the time below, after 90, 88, 85 and 80.</param>
public sealed record ReviewOptions(TargetRange? Target = null, ConditionedSource? PulseRate = null, IReadOnlyList<Percent>? ExtraLevels = null)
{
    public static readonly ReviewOptions Default = new();

    /// <summary>90, 88, 85, 80 and the extra ones, each once.</summary>
    internal IReadOnlyList<Percent> Levels { get; } =
        [.. new[] { Percent.Of(90), Percent.Of(88), Percent.Of(85), Percent.Of(80) }.Concat(ExtraLevels ?? []).Distinct()];
}
