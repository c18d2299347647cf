using System.Numerics;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using Stillwatch.Quantities;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Conditioning;

/// <summary>Walks a channel once and tells a visitor its conditioned series (rules R2–R6, and the losses of R9).</summary>
public static class ConditionedScan
{
    /// <summary>R9: how soon after a loss the next valid sample must come for a run or signal to go on; 60 s included.</summary>
    public const long ReturnWithinMilliseconds = 60_000;

    public static void Run<TVisitor>(ConditionedSource source, ConditioningSettings settings, ref TVisitor visitor)
        where TVisitor : IConditionedVisitor, allows ref struct
    {
        var times = source.Channel.Times;
        if (times.Count == 0) return;
        var walk = new Walk(new Conditioner(source.Quantity, settings, times.Period));
        var judge = new OutsideJudge(source.SourceValid, source.Quality);
        bool mayRepeat = !walk.Conditioner.Averages && !source.HasOutsideJudgement;
        var changeBuffer = new ushort[TimeAxis.ChunkLength];
        long[]? timeBuffer = null;
        int[]? valueBuffer = null;
        for (int chunk = 0; chunk < times.ChunkCount; chunk++)
        {
            var (length, start, step) = times.ChunkShape(chunk);
            var hundredths = source.Channel.Values.HundredthsOf(chunk);
            if (mayRepeat && step > 0 && step <= walk.Conditioner.HoldMilliseconds && !hundredths.IsEmpty)
            {
                int changes = Changes(hundredths, changeBuffer);
                walk.EvenHundredths(hundredths, changeBuffer.AsSpan(0, changes), start, step, ref visitor);
                continue;
            }

            timeBuffer ??= new long[TimeAxis.ChunkLength];
            valueBuffer ??= new int[TimeAxis.ChunkLength];
            times.CopyChunk(chunk, timeBuffer);
            source.Channel.Values.CopyChunk(chunk, valueBuffer);
            for (int i = 0; i < length; i++)
            {
                bool flagged = judge.IsFlagged(timeBuffer[i]);
                bool poor = OutsideJudge.IsPoor(judge.QualityMicro(timeBuffer[i]), source.QualityThresholdMicro);
                walk.Row(timeBuffer[i], valueBuffer[i], flagged, poor, ref visitor);
            }
        }

        walk.End(times.End.Milliseconds, ref visitor);
    }

    /// <summary>Writes the indices of the rows that differ from the row before, 0 included, and returns how many.</summary>
    private static int Changes(ReadOnlySpan<short> rows, Span<ushort> changes)
    {
        unchecked // a chunk's indices fit an unsigned short; measured hot path
        {
            changes[0] = 0;
            int count = 1, i = 1;
            ref short first = ref MemoryMarshal.GetReference(rows);
            for (; i + 64 <= rows.Length; i += 64)
            {
                ulong differs = ~(Alike(ref first, i) | ((ulong)Alike(ref first, i + 32) << 32));
                for (; differs != 0; differs &= differs - 1) changes[count++] = (ushort)(i + BitOperations.TrailingZeroCount(differs));
            }

            for (; i < rows.Length; i++)
            {
                if (rows[i] != rows[i - 1]) changes[count++] = (ushort)i;
            }

            return count;
        }
    }

    /// <summary>One bit for each of 32 rows from <paramref name="index"/> on: whether it equals the row before.</summary>
    private static uint Alike(ref short first, int index)
    {
        var low = Vector256.Equals(Vector256.LoadUnsafe(ref first, (nuint)index), Vector256.LoadUnsafe(ref first, (nuint)(index - 1)));
        var high = Vector256.Equals(Vector256.LoadUnsafe(ref first, (nuint)(index + 16)), Vector256.LoadUnsafe(ref first, (nuint)(index + 15)));
        return low.ExtractMostSignificantBits() | (high.ExtractMostSignificantBits() << 16);
    }

    /// <summary>The state between rows: what holds until when, and whether a return is due.</summary>
    private struct Walk(Conditioner conditioner)
    {
        private const int MicroPerHundredth = 10_000;

        public readonly Conditioner Conditioner = conditioner;
        private bool any;
        private bool holding;
        private long holdEnd;
        private int value;
        private bool validSinceLoss;
        private bool backInTime;

        public bool Row<TVisitor>(long time, int micro, bool flagged, bool poor, ref TVisitor visitor)
            where TVisitor : IConditionedVisitor, allows ref struct
        {
            if (holding && time > holdEnd) Lose(ref visitor);
            var verdict = Conditioner.Accept(time, micro, flagged, poor, out int compared, out bool hasCompared);
            if (!verdict.IsAccepted()) return false;
            if (any && !holding && !validSinceLoss)
            {
                validSinceLoss = true;
                backInTime = time - holdEnd <= ReturnWithinMilliseconds;
            }

            if (!hasCompared) return true;
            if (!any) visitor.Value(time, compared, Arrival.First);
            else if (!holding) visitor.Value(time, compared, backInTime ? Arrival.BackInTime : Arrival.BackTooLate);
            else if (compared != value) visitor.Value(time, compared, Arrival.Continues);
            any = true;
            holding = true;
            value = compared;
            holdEnd = time + Conditioner.HoldMilliseconds;
            return true;
        }

        /// <summary>
        /// The same as <see cref="Row"/> for every row, in strides: a row that repeats an accepted number changes nothing, and one that
        /// follows an accepted row within the bounds of R2 is accepted without further ado.
        /// </summary>
        /// <param name="rows">Hundredths, one every <paramref name="step"/> milliseconds, which a value outlasts.</param>
        /// <param name="changes">Where a number differs from the one before it; the first row is such a place.</param>
        /// <param name="start">Time of the first row.</param>
        /// <param name="step">Milliseconds between rows.</param>
        /// <param name="visitor">Is told.</param>
        public void EvenHundredths<TVisitor>(ReadOnlySpan<short> rows, ReadOnlySpan<ushort> changes, long start, long step, ref TVisitor visitor)
            where TVisitor : IConditionedVisitor, allows ref struct
        {
            unchecked // hundredths in millionths fit an int; times are as far from overflow as in Row; measured hot path
            {
                var (above, atMost, mostChange) = Conditioner.NeighbourhoodInHundredths(step);
                bool rounds = Conditioner.Rounds;
                bool follows = false; // the row before was accepted, and its number is last
                int last = 0;
                int present = value;
                for (int c = 0; c < changes.Length; c++)
                {
                    int at = changes[c];
                    int number = rows[at];
                    if (follows && number > above && number <= atMost && number - last <= mostChange && last - number <= mostChange)
                    {
                        last = number;
                        int compared = Compared(number, rounds);
                        if (compared == present) continue;
                        present = compared;
                        visitor.Value(start + at * step, compared, Arrival.Continues);
                        continue;
                    }

                    if (follows) AcceptedUntil(start + (at - 1) * step, last * MicroPerHundredth);
                    follows = false;
                    if (number == short.MinValue) continue;
                    value = present;
                    int next = c + 1 < changes.Length ? changes[c + 1] : rows.Length;
                    for (; at < next; at++) // the first rows may be doubted; once one is accepted the rest repeat it
                    {
                        if (!Row(start + at * step, number * MicroPerHundredth, false, false, ref visitor)) continue;
                        follows = true;
                        last = number;
                        break;
                    }

                    present = value;
                }

                value = present;
                if (follows) AcceptedUntil(start + (rows.Length - 1) * step, last * MicroPerHundredth);
            }
        }

        /// <summary>Rule R6 for a number in hundredths.</summary>
        private static int Compared(int hundredths, bool rounds)
        {
            unchecked // within ±3.3 · 10⁸
            {
                if (!rounds) return hundredths * MicroPerHundredth;
                return hundredths >= 0 ? (hundredths + 50) / 100 * FixedPoint.One : -((50 - hundredths) / 100 * FixedPoint.One);
            }
        }

        private void AcceptedUntil(long time, int micro)
        {
            Conditioner.AcceptedUntil(time, micro);
            holdEnd = time + Conditioner.HoldMilliseconds;
        }

        public void End<TVisitor>(long end, ref TVisitor visitor)
            where TVisitor : IConditionedVisitor, allows ref struct
        {
            if (holding && holdEnd < end) Lose(ref visitor);
            visitor.End(end);
        }

        private void Lose<TVisitor>(ref TVisitor visitor)
            where TVisitor : IConditionedVisitor, allows ref struct
        {
            visitor.Lost(holdEnd);
            holding = false;
            validSinceLoss = false;
        }
    }
}
