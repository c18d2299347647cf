using Stillwatch.Conditioning;
using Stillwatch.Quantities;

namespace Stillwatch.Oxygenation;

/// <summary>The time-weighted mean of the valid values in the 120 s before each piece of a series.</summary>
internal static class BaselineMeans
{
    /// <summary>Too little of the window is valid.</summary>
    public const int None = int.MinValue;

    /// <summary>One mean per piece, in millionths, or <see cref="None"/>.</summary>
    public static int[] Before(IReadOnlyList<ConditionedSeries.Piece> pieces)
    {
        var means = new int[pieces.Count];
        long window = DesaturationDefinition.BaselineWindow.Milliseconds;
        long sum = 0, valid = 0; // of the whole pieces from first to the one before the current
        int first = 0;
        for (int i = 0; i < means.Length; i++)
        {
            long from = pieces[i].Start.Milliseconds - window;
            if (i > 0)
            {
                valid += pieces[i - 1].Length.Milliseconds;
                sum += pieces[i - 1].Length.Milliseconds * pieces[i - 1].Micro;
            }

            for (; first < i && pieces[first].End.Milliseconds <= from; first++)
            {
                valid -= pieces[first].Length.Milliseconds;
                sum -= pieces[first].Length.Milliseconds * pieces[first].Micro;
            }

            long cut = first < i ? Math.Max(0, from - pieces[first].Start.Milliseconds) : 0;
            long inWindow = valid - cut;
            means[i] = inWindow >= DesaturationDefinition.HistoryMilliseconds
                ? FixedPoint.Mean(sum - cut * pieces[first].Micro, (int)inWindow)
                : None;
        }

        return means;
    }
}
