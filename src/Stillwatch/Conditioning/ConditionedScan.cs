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
        var timeBuffer = new long[TimeAxis.ChunkLength];
        var valueBuffer = new int[TimeAxis.ChunkLength];
        for (int chunk = 0; chunk < times.ChunkCount; chunk++)
        {
            var (length, start, step) = times.ChunkShape(chunk);
            var hundredths = source.Channel.Values.HundredthsOf(chunk);
            if (mayRepeat && step > 0 && step <= walk.Conditioner.HoldMilliseconds && !hundredths.IsEmpty)
            {
                walk.EvenHundredths(hundredths, start, step, ref visitor);
                continue;
            }

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

    /// <summary>The state between rows: what holds until when, and whether a return is due.</summary>
    private struct Walk(Conditioner conditioner)
    {
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

        /// <summary>The same as <see cref="Row"/> for every row; stretches of one repeated number are passed in one stride.</summary>
        public void EvenHundredths<TVisitor>(ReadOnlySpan<short> rows, long start, long step, ref TVisitor visitor)
            where TVisitor : IConditionedVisitor, allows ref struct
        {
            int i = 0;
            while (i < rows.Length)
            {
                short hundredths = rows[i];
                int alike = rows[i..].IndexOfAnyExcept(hundredths);
                int next = alike < 0 ? rows.Length : i + alike;
                if (hundredths != short.MinValue)
                {
                    // The first rows may be doubted; once one is accepted the rest repeat it.
                    int micro = hundredths * 10_000;
                    for (; i < next; i++)
                    {
                        if (!Row(start + i * step, micro, false, false, ref visitor)) continue;
                        long last = start + (next - 1) * step;
                        Conditioner.RepeatUntil(last);
                        holdEnd = last + Conditioner.HoldMilliseconds;
                        break;
                    }
                }

                i = next;
            }
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
