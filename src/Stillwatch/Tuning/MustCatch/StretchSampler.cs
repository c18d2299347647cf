using Stillwatch.Conditioning;
using Stillwatch.Time;

namespace Stillwatch.Tuning.MustCatch;

/// <summary>Stretches that did not signal, drawn at random for review by people who do not know the alarms (rule R14.10).</summary>
/// <param name="Stretches">Drawn, in time order.</param>
/// <param name="Quiet">Valid time of the whole recording without a signal.</param>
/// <param name="Drawn">Valid time within the drawn stretches.</param>
public sealed record StretchSample(IReadOnlyList<TimeSlice> Stretches, Duration Quiet, Duration Drawn)
{
    /// <summary>0–1: what stays unseen even if every drawn stretch is reviewed; null where there is no quiet time.</summary>
    public double? ShareNotDrawn => Quiet > Duration.Zero ? 1 - Drawn.Seconds / Quiet.Seconds : null;
}

/// <summary>Draws stretches without a signal from a recording.</summary>
public static class StretchSampler
{
    /// <summary>How long a stretch to review is. Unit policy, no source.</summary>
    public static readonly Duration DefaultLength = Duration.FromSeconds(300);

    /// <summary>
    /// Lays stretches of one length over all time without a signal (what is left before the next signal is a shorter one), leaves
    /// out those without any valid value, and draws without replacement, each with the same chance.
    /// </summary>
    /// <param name="series">The recording.</param>
    /// <param name="signals">From start to end of each signal, of all conditions that the reviewer must not guess; may overlap.</param>
    /// <param name="length">Of a stretch.</param>
    /// <param name="count">How many; all where there are fewer.</param>
    /// <param name="seed">The same seed draws the same stretches.</param>
    public static StretchSample Draw(ConditionedSeries series, IReadOnlyList<TimeSlice> signals, Duration length, int count, int seed)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(length.Milliseconds, 1);
        ArgumentOutOfRangeException.ThrowIfNegative(count);
        var stretches = Quiet(series, signals, length);
        long quiet = stretches.Sum(s => s.Valid);
        var random = new Random(seed);
        int drawn = Math.Min(count, stretches.Count);
        for (int i = 0; i < drawn; i++)
        {
            int other = random.Next(i, stretches.Count);
            (stretches[i], stretches[other]) = (stretches[other], stretches[i]);
        }

        var taken = stretches.Take(drawn).OrderBy(s => s.Slice.Start).ToList();
        return new StretchSample([.. taken.Select(s => s.Slice)], new Duration(quiet), new Duration(taken.Sum(s => s.Valid)));
    }

    /// <summary>The share of the valid time without a signal that nobody reviewed, 0–1; null where there is no such time.</summary>
    /// <param name="series">The recording.</param>
    /// <param name="signals">As in <see cref="Draw"/>.</param>
    /// <param name="reviewed">What reviewers looked at; may overlap.</param>
    public static double? ShareNotReviewed(ConditionedSeries series, IReadOnlyList<TimeSlice> signals, IReadOnlyList<TimeSlice> reviewed)
    {
        long quiet = ValidOutside(series, signals);
        return quiet > 0 ? (double)ValidOutside(series, [.. signals, .. reviewed]) / quiet : null;
    }

    private static List<(TimeSlice Slice, long Valid)> Quiet(ConditionedSeries series, IReadOnlyList<TimeSlice> signals, Duration length)
    {
        var stretches = new List<(TimeSlice Slice, long Valid)>();
        var valid = new ValidTime(series);
        foreach (var gap in Between(series, signals))
        {
            // From the first value on: a stretch starts with something to see, and years without a row cost nothing.
            var from = gap.Start;
            while (from < gap.End && valid.NextFrom(from) is { } start && start < gap.End)
            {
                var end = start + length;
                var slice = new TimeSlice(start, end < gap.End ? end : gap.End);
                stretches.Add((slice, valid.Within(slice)));
                from = slice.End;
            }
        }

        return stretches;
    }

    private static long ValidOutside(ConditionedSeries series, IReadOnlyList<TimeSlice> slices)
    {
        var valid = new ValidTime(series);
        return Between(series, slices).Sum(valid.Within);
    }

    /// <summary>The parts of the recording that no slice covers, in time order.</summary>
    private static IEnumerable<TimeSlice> Between(ConditionedSeries series, IReadOnlyList<TimeSlice> slices)
    {
        var from = series.Start;
        foreach (var slice in slices.OrderBy(s => s.Start))
        {
            if (slice.Start > from) yield return new TimeSlice(from, slice.Start < series.End ? slice.Start : series.End);
            if (slice.End > from) from = slice.End;
            if (from >= series.End) yield break;
        }

        if (from < series.End) yield return new TimeSlice(from, series.End);
    }

    /// <summary>Valid time of slices that are asked for in rising order.</summary>
    private sealed class ValidTime(ConditionedSeries series)
    {
        private int index;

        public SampleTime? NextFrom(SampleTime time)
        {
            SkipTo(time);
            if (index == series.Pieces.Count) return null;
            return series.Pieces[index].Start > time ? series.Pieces[index].Start : time;
        }

        public long Within(TimeSlice slice)
        {
            SkipTo(slice.Start);
            long valid = 0;
            for (int i = index; i < series.Pieces.Count && series.Pieces[i].Start < slice.End; i++)
            {
                valid += Math.Min(series.Pieces[i].End.Milliseconds, slice.End.Milliseconds)
                    - Math.Max(series.Pieces[i].Start.Milliseconds, slice.Start.Milliseconds);
            }

            return valid;
        }

        private void SkipTo(SampleTime time)
        {
            while (index < series.Pieces.Count && series.Pieces[index].End <= time) index++;
        }
    }
}
