using Stillwatch.Conditioning;
using Stillwatch.Time;

namespace Stillwatch.Reports.Plots;

/// <summary>
/// A long series thinned to a given number of equal columns of time. Each keeps its lowest and highest value, so no dip is
/// lost however long the recording, and the share of its time that has a value at all.
/// </summary>
internal static class Envelope
{
    /// <param name="MinMicro">Lowest value within the column; meaningless where <see cref="ValidShare"/> is 0.</param>
    /// <param name="MaxMicro">Highest value.</param>
    /// <param name="MeanMicro">Time-weighted mean over the column's valid time.</param>
    /// <param name="ValidShare">0–1.</param>
    public readonly record struct Column(int MinMicro, int MaxMicro, double MeanMicro, double ValidShare)
    {
        public bool HasValue => ValidShare > 0;
    }

    /// <summary>Columns over [from, to). A piece that only touches a column for an instant counts in it.</summary>
    public static Column[] Of(ConditionedSeries series, SampleTime from, SampleTime to, int columns)
    {
        var min = new int[columns];
        var max = new int[columns];
        var weighted = new double[columns];
        var valid = new double[columns];
        Array.Fill(min, int.MaxValue);
        Array.Fill(max, int.MinValue);
        double width = (to - from).Milliseconds / (double)columns;
        for (int i = FirstEndingAfter(series.Pieces, from); i < series.Pieces.Count && series.Pieces[i].Start < to; i++)
        {
            var piece = series.Pieces[i];
            double start = Math.Max(0, (piece.Start - from).Milliseconds);
            double end = Math.Min((to - from).Milliseconds, (piece.End - from).Milliseconds);
            int first = Math.Min(columns - 1, (int)(start / width));
            int last = Math.Min(columns - 1, (int)(end / width));
            for (int c = first; c <= last; c++)
            {
                double within = Math.Min(end, (c + 1) * width) - Math.Max(start, c * width);
                if (within <= 0 && c > first) continue;
                min[c] = Math.Min(min[c], piece.Micro);
                max[c] = Math.Max(max[c], piece.Micro);
                weighted[c] += Math.Max(within, 1e-6) * piece.Micro;
                valid[c] += Math.Max(within, 1e-6);
            }
        }

        var result = new Column[columns];
        for (int c = 0; c < columns; c++)
            if (valid[c] > 0) result[c] = new Column(min[c], max[c], weighted[c] / valid[c], Math.Min(1, valid[c] / width));
        return result;
    }

    /// <summary>Index of the first piece that ends after a time; the count where none does.</summary>
    public static int FirstEndingAfter(IReadOnlyList<ConditionedSeries.Piece> pieces, SampleTime time)
    {
        int low = 0, high = pieces.Count;
        while (low < high)
        {
            int middle = low + (high - low) / 2;
            if (pieces[middle].End <= time) low = middle + 1;
            else high = middle;
        }

        return low;
    }

    /// <summary>The stretches without a value within [from, to), those shorter than <paramref name="atLeast"/> left out and those closer together than it joined.</summary>
    public static IReadOnlyList<TimeSlice> Gaps(ConditionedSeries series, SampleTime from, SampleTime to, Duration atLeast)
    {
        var gaps = new List<TimeSlice>();
        var covered = from;
        for (int i = FirstEndingAfter(series.Pieces, from); i <= series.Pieces.Count && covered < to; i++)
        {
            var start = i < series.Pieces.Count && series.Pieces[i].Start < to ? series.Pieces[i].Start : to;
            if (start > covered)
            {
                if (gaps.Count > 0 && covered - gaps[^1].End < atLeast) gaps[^1] = gaps[^1] with { End = start };
                else gaps.Add(new TimeSlice(covered, start));
            }

            if (i == series.Pieces.Count || series.Pieces[i].Start >= to) break;
            covered = series.Pieces[i].End;
        }

        gaps.RemoveAll(g => g.Length < atLeast);
        return gaps;
    }
}
