using Stillwatch.Tuning.MustCatch;

namespace Stillwatch.Tuning.Map;

/// <summary>Gathers the parts of each event: an event's verdict and its time to signal are the worst of its parts.</summary>
internal sealed class CatchVerdicts
{
    private readonly MapFrame frame;
    private readonly EventPlane delays;
    private readonly EventPlane areas;
    private readonly int[] partsLeft;

    /// <exception cref="ArgumentException">An event has no part, or times are to be kept for more cells than an array holds.</exception>
    public CatchVerdicts(MapFrame frame, IReadOnlyList<MustCatchEvent> events, PlaneTally byDelay, PlaneTally byArea, bool keepsTimes)
    {
        this.frame = frame;
        partsLeft = [.. events.Select(e => e.Parts.Count)];
        int empty = Array.IndexOf(partsLeft, 0);
        if (empty >= 0) throw new ArgumentException($"Must-catch event {empty}: found no part, expected at least one reason why it must be caught.", nameof(events));
        delays = new EventPlane(frame, frame.Delays.Count, events.Count, byDelay, keepsTimes);
        areas = new EventPlane(frame, frame.Areas.Count, events.Count, byArea, keepsTimes);
    }

    public int[]? DelayTimes => delays.Times;

    public int[]? AreaTimes => areas.Times;

    public void Take(WatchedPart part)
    {
        int index = part.EventIndex;
        bool last = --partsLeft[index] == 0;
        delays.Take(index, part.Delays, last);
        areas.Take(index, part.Areas, last);
    }

    /// <summary>Events × limits of one plane.</summary>
    private sealed class EventPlane
    {
        private readonly MapFrame frame;
        private readonly int thresholds;
        private readonly PlaneTally tally;
        private readonly (int[] InTime, int[] Caught)?[] byEvent;

        public EventPlane(MapFrame frame, int thresholds, int events, PlaneTally tally, bool keepsTimes)
        {
            this.frame = frame;
            this.thresholds = thresholds;
            this.tally = tally;
            byEvent = new (int[], int[])?[events];
            if (!keepsTimes) return;
            long cells = (long)events * frame.LimitCount * thresholds;
            if (cells > Array.MaxLength)
                throw new ArgumentException($"Times to signal: found {events} events × {frame.LimitCount} limits × {thresholds} thresholds, expected at most {Array.MaxLength} cells in all.", nameof(keepsTimes));
            Times = new int[cells];
            Array.Fill(Times, -1);
        }

        public int[]? Times { get; }

        public void Take(int index, PartPlane part, bool last)
        {
            bool first = byEvent[index] is null;
            int limits = frame.Limits.Length;
            var (inTime, caught) = byEvent[index] ??= (Filled(limits), Filled(limits));
            for (int limit = 0; limit < limits; limit++)
            {
                int partInTime = part.InTime.Length > 0 ? part.InTime[limit] : 0;
                int partCaught = part.Caught.Length > 0 ? part.Caught[limit] : 0;
                if (Times is not null) TakeTimes(index, limit, part, first, partCaught, caught[limit]);
                inTime[limit] = Math.Min(inTime[limit], partInTime);
                caught[limit] = Math.Min(caught[limit], partCaught);
                if (last) tally.Judged(limit, inTime[limit], caught[limit]);
            }

            if (last) byEvent[index] = null;
        }

        private int[] Filled(int limits)
        {
            var filled = new int[limits];
            Array.Fill(filled, thresholds);
            return filled;
        }

        private void TakeTimes(int index, int limit, PartPlane part, bool first, int partCaught, int caughtSoFar)
        {
            var row = Times.AsSpan((index * frame.LimitCount + frame.RequestIndex(limit)) * thresholds, thresholds);
            int caught = Math.Min(partCaught, caughtSoFar);
            for (int k = 0; k < caught; k++)
            {
                int time = part.Times![limit * thresholds + k];
                row[k] = first ? time : Math.Max(row[k], time);
            }

            row[caught..].Fill(-1);
        }
    }
}
