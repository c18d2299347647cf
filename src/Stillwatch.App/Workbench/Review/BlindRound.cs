using Stillwatch.Conditioning;
using Stillwatch.Time;
using Stillwatch.Tuning.MustCatch;

namespace Stillwatch.App.Workbench.Review;

/// <summary>Stretches that did not signal, drawn at random, on their way past a reviewer who does not know the alarms (rule R14.10).</summary>
/// <param name="Stretches">In time order.</param>
/// <param name="Index">Which is looked at now.</param>
/// <param name="Seed">Where the chance came from.</param>
public sealed record BlindRound(IReadOnlyList<TimeSlice> Stretches, int Index, int Seed)
{
    public TimeSlice Now => Stretches[Index];

    public bool IsLast => Index + 1 >= Stretches.Count;

    /// <summary>Draws among what nobody with this name has looked at yet.</summary>
    /// <param name="series">The recording.</param>
    /// <param name="signals">All that the reviewer must not guess.</param>
    /// <param name="seen">What was looked at already.</param>
    /// <param name="count">How many stretches.</param>
    /// <param name="seed">The same seed draws the same stretches.</param>
    /// <returns>Null: there is nothing left to draw.</returns>
    public static BlindRound? Draw(ConditionedSeries series, IReadOnlyList<TimeSlice> signals, IReadOnlyList<TimeSlice> seen, int count, int seed)
    {
        var sample = StretchSampler.Draw(series, [.. signals, .. seen], StretchSampler.DefaultLength, count, seed);
        return sample.Stretches.Count == 0 ? null : new BlindRound(sample.Stretches, 0, seed);
    }
}
