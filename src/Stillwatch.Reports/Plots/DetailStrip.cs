using Stillwatch.Oximetry;
using Stillwatch.Time;

namespace Stillwatch.Reports.Plots;

/// <summary>Which seconds of a recording's light are worth seeing beat by beat.</summary>
internal static class DetailStrip
{
    public const int Seconds = 20;

    /// <param name="Span">The seconds.</param>
    /// <param name="Why">In words, after "These seconds were chosen because".</param>
    public sealed record Choice(TimeSlice Span, string Why);

    /// <summary>
    /// Where numbers given and numbers refused for a reason of the light stand side by side most evenly; without such a place, where SpO2 (or the
    /// pulse rate) moves most; of equal places the first. Null: there is no second at all.
    /// </summary>
    public static Choice? Of(DerivedRecording derived)
    {
        var seconds = derived.Seconds;
        if (seconds.Count == 0) return null;
        int length = Math.Min(Seconds, seconds.Count);
        int[] refused = Sums(seconds, s => s.State is not (LightState.Valid or LightState.NoSamples or LightState.Settling));
        int[] given = Sums(seconds, s => s.State == LightState.Valid);
        int mixed = Best(seconds.Count - length + 1, k => Math.Min(refused[k + length] - refused[k], given[k + length] - given[k]));
        if (Math.Min(refused[mixed + length] - refused[mixed], given[mixed + length] - given[mixed]) > 0)
            return new Choice(Slice(derived, mixed, length), "numbers given and numbers refused stand side by side in them");
        bool hasSpO2 = seconds.Any(s => !double.IsNaN(s.SpO2Percent));
        int moving = Best(seconds.Count - length + 1, k => Movement(seconds, k, length, s => hasSpO2 ? s.SpO2Percent : s.PulseRatePerMinute));
        return seconds.Any(s => s.State == LightState.Valid)
            ? new Choice(Slice(derived, moving, length), hasSpO2 ? "SpO2 moves most in them" : "the pulse rate moves most in them")
            : new Choice(Slice(derived, 0, length), "they are the first; no second carries numbers");
    }

    private static int Best(int places, Func<int, double> worth)
    {
        int best = 0;
        double most = worth(0);
        for (int k = 1; k < places; k++)
        {
            double here = worth(k);
            if (here > most) (best, most) = (k, here);
        }

        return best;
    }

    private static double Movement(IReadOnlyList<SecondReading> seconds, int first, int length, Func<SecondReading, double> value)
    {
        double least = double.PositiveInfinity, greatest = double.NegativeInfinity;
        for (int i = first; i < first + length; i++)
        {
            double v = value(seconds[i]);
            if (double.IsNaN(v)) continue;
            least = Math.Min(least, v);
            greatest = Math.Max(greatest, v);
        }

        return greatest >= least ? greatest - least : -1;
    }

    private static int[] Sums(IReadOnlyList<SecondReading> seconds, Func<SecondReading, bool> counts)
    {
        var sums = new int[seconds.Count + 1];
        for (int i = 0; i < seconds.Count; i++) sums[i + 1] = sums[i] + (counts(seconds[i]) ? 1 : 0);
        return sums;
    }

    private static TimeSlice Slice(DerivedRecording derived, int first, int length) =>
        new(derived.Start + new Duration(first * 1000L), derived.Start + new Duration((first + length) * 1000L));
}
