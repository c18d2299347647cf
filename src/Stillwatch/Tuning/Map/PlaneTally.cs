using System.Buffers;
using System.Runtime.CompilerServices;

namespace Stillwatch.Tuning.Map;

/// <summary>
/// Collects one plane. A stretch that signals at thresholds [0, k) is one note at k, so that a sum from the end gives every
/// threshold's count; likewise the sums of ends less starts.
/// </summary>
internal sealed class PlaneTally
{
    private readonly MapFrame frame;
    private readonly RisingThresholds thresholds;
    private readonly bool startsGrowWithThreshold; // on the delay plane a run's start is noted once for a span of delays
    private Note[] notes; // large, and rented: asked for anew by every map of a resampling
    private readonly int stride;
    private long[]? withoutDelay; // counts like Signals, of signals that the backstop started; on the delay plane their starts hold no delay
    private int[]? notInTime;
    private int[]? notCaught;

    private struct Note
    {
        public long Signals;
        public long EndsLessStarts;
    }

    public PlaneTally(MapFrame frame, RisingThresholds thresholds, bool startsGrowWithThreshold)
    {
        this.frame = frame;
        this.thresholds = thresholds;
        this.startsGrowWithThreshold = startsGrowWithThreshold;
        stride = thresholds.Count + 1;
        int length = frame.Limits.Length * stride;
        notes = ArrayPool<Note>.Shared.Rent(length);
        notes.AsSpan(0, length).Clear();
    }

    /// <summary>A signal of this stretch starts at <paramref name="start"/> (on the delay plane: plus the delay) at thresholds [from, to).</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public void Started(int limit, int from, int to, long start)
    {
        unchecked // active milliseconds of centuries, summed over every stretch, fit a long
        {
            int row = limit * stride;
            notes[row + from].EndsLessStarts += start;
            notes[row + to].EndsLessStarts -= start;
        }
    }

    /// <summary>The backstop starts this stretch's signal at <paramref name="start"/>, whatever the threshold, at thresholds [from, end of list).</summary>
    public void StartedByBackstop(int limit, int from, long start)
    {
        Started(limit, from, thresholds.Count, start);
        withoutDelay ??= new long[frame.Limits.Length * stride];
        withoutDelay[limit * stride + from]--;
        withoutDelay[limit * stride + thresholds.Count]++;
    }

    /// <summary>The stretch ended at <paramref name="end"/>, having signalled at thresholds [0, to).</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public void Ended(int limit, int to, long end)
    {
        unchecked // as above
        {
            ref var note = ref notes[limit * stride + to];
            note.Signals++;
            note.EndsLessStarts += end;
        }
    }

    /// <summary>A must-catch event was in time at thresholds [0, inTime) and caught at all at [0, caught).</summary>
    public void Judged(int limit, int inTime, int caught)
    {
        (notInTime ??= new int[frame.Limits.Length * stride])[limit * stride + inTime]++;
        (notCaught ??= new int[frame.Limits.Length * stride])[limit * stride + caught]++;
    }

    /// <summary>Once only: gives back what it rented.</summary>
    public MapPlane ToPlane(int[]? timesToSignal)
    {
        int columns = thresholds.Count;
        var plane = new MapPlane(new long[frame.LimitCount, columns], new long[frame.LimitCount, columns], new int[frame.LimitCount, columns], new int[frame.LimitCount, columns], timesToSignal);
        var signals = MapPlane.Flat(plane.Signals);
        var active = MapPlane.Flat(plane.ActiveMilliseconds);
        var missed = MapPlane.Flat(plane.Missed);
        var late = MapPlane.Flat(plane.Late);
        foreach (int limit in frame.NullLimits)
        {
            signals.Slice(limit * columns, columns).Fill(-1);
            active.Slice(limit * columns, columns).Fill(-1);
            missed.Slice(limit * columns, columns).Fill(-1);
            late.Slice(limit * columns, columns).Fill(-1);
        }

        for (int limit = 0; limit < frame.Limits.Length; limit++)
        {
            int row = limit * stride, to = frame.RequestIndex(limit) * columns;
            SumNotes(notes.AsSpan(row, stride), withoutDelay.AsSpan(withoutDelay is null ? 0 : row, withoutDelay is null ? 0 : stride), signals.Slice(to, columns), active.Slice(to, columns));
            if (notInTime is not null && notCaught is not null) SumVerdicts(notInTime.AsSpan(row, columns), notCaught.AsSpan(row, columns), missed.Slice(to, columns), late.Slice(to, columns));
        }

        ArrayPool<Note>.Shared.Return(notes);
        notes = [];
        return plane;
    }

    private void SumNotes(ReadOnlySpan<Note> row, ReadOnlySpan<long> backstopRow, Span<long> signals, Span<long> active)
    {
        unchecked // as in Started
        {
            long count = 0, sum = 0;
            for (int k = signals.Length - 1; k >= 0; k--)
            {
                count += row[k + 1].Signals;
                sum += row[k + 1].EndsLessStarts;
                signals[k] = count;
                active[k] = sum;
            }

            if (!startsGrowWithThreshold) return;
            var delays = thresholds.Values;
            for (int k = 0; k < delays.Length; k++) active[k] -= signals[k] * delays[k];
            long withoutDelay = 0;
            for (int k = backstopRow.Length - 1; k > 0; k--)
            {
                withoutDelay += backstopRow[k];
                active[k - 1] += withoutDelay * delays[k - 1];
            }
        }
    }

    private static void SumVerdicts(ReadOnlySpan<int> notInTimeFrom, ReadOnlySpan<int> notCaughtFrom, Span<int> missed, Span<int> late)
    {
        int soFarNotInTime = 0, soFarNotCaught = 0;
        for (int k = 0; k < missed.Length; k++)
        {
            soFarNotInTime += notInTimeFrom[k];
            soFarNotCaught += notCaughtFrom[k];
            missed[k] = soFarNotCaught;
            late[k] = soFarNotInTime - soFarNotCaught;
        }
    }
}
