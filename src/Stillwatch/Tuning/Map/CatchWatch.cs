using Stillwatch.Tuning.MustCatch;

namespace Stillwatch.Tuning.Map;

/// <summary>
/// Judges must-catch events (R13) for every cell while the pass goes by. An instant is active where active time goes on, so on the
/// active axis "active at some instant of [onset, onset + T]" compares a start with two positions.
/// </summary>
/// <remarks>Costs nothing between events; keeps the starts of open stretches, at most one per limit and threshold.</remarks>
internal sealed class CatchWatch
{
    private enum Mark
    {
        Onset,
        InTimeOver,
        Ended,

        /// <summary>The later of the two before: nothing that comes can change the verdict.</summary>
        Decided,
    }

    private readonly MapFrame frame;
    private readonly bool keepsTimes;
    private readonly List<(long Time, Mark Mark, WatchedPart Part)> marks = [];
    private readonly List<WatchedPart> underWay = [];
    private readonly List<(int To, long Start)>[] delayStarts; // per limit, of the open stretch: delays up to To start with this run
    private readonly long[] areaStarts; // per limit and area threshold, of the open stretch
    private readonly List<(long Position, long Milliseconds)> sections = []; // where active time went on after a loss
    private readonly CatchVerdicts verdicts;
    private int next;
    private WatchedPart? decided;

    public CatchWatch(MapFrame frame, IReadOnlyList<MustCatchEvent> events, CatchVerdicts verdicts, bool keepsTimes)
    {
        this.frame = frame;
        this.verdicts = verdicts;
        this.keepsTimes = keepsTimes;
        for (int i = 0; i < events.Count; i++)
        {
            foreach (var part in events[i].Parts)
            {
                var watched = new WatchedPart(part, i);
                long onset = part.Onset.Milliseconds, end = part.End.Milliseconds, over = onset + part.Within.Milliseconds + 1;
                marks.Add((onset, Mark.Onset, watched));
                marks.Add((over, Mark.InTimeOver, watched));
                marks.Add((end, Mark.Ended, watched));
                marks.Add((Math.Max(over, end), Mark.Decided, watched));
            }
        }

        marks.Sort((a, b) => a.Time != b.Time ? a.Time.CompareTo(b.Time) : a.Mark.CompareTo(b.Mark));
        delayStarts = new List<(int, long)>[frame.Limits.Length];
        for (int i = 0; i < delayStarts.Length; i++) delayStarts[i] = [];
        areaStarts = new long[frame.Limits.Length * frame.Areas.Count];
    }

    public long NextMark => next < marks.Count ? marks[next].Time : long.MaxValue;

    public bool IsWatching => underWay.Count > 0;

    /// <summary>Active time goes on from <paramref name="position"/> at this real time, after a loss or at first.</summary>
    public void Section(long position, long milliseconds)
    {
        if (!IsWatching) sections.Clear();
        sections.Add((position, milliseconds));
    }

    /// <summary>A run that beat its stretch's record ended: delays before <paramref name="to"/> not yet started signal with it.</summary>
    public void Started(int limit, int to, long start) => delayStarts[limit].Add((to, start));

    public void AreaStarted(int limit, int threshold, long start) => areaStarts[limit * frame.Areas.Count + threshold] = start;

    /// <summary>The stretch at this limit has ended.</summary>
    public void Forget(int limit) => delayStarts[limit].Clear();

    /// <summary>Passes the next mark, which lies at this active time; true when a part is thereby decided, and must be judged against the open stretches.</summary>
    public bool PassMark(long position)
    {
        var (_, mark, part) = marks[next++];
        switch (mark)
        {
            case Mark.Onset:
                part.Begin(position, frame.Limits.Length, frame.Delays.Count, frame.Areas.Count, keepsTimes);
                underWay.Add(part);
                return false;
            case Mark.InTimeOver:
                part.InTimeBefore = position;
                return false;
            case Mark.Ended:
                part.CaughtBefore = position;
                return false;
            default:
                decided = part;
                return true;
        }
    }

    /// <summary>Judges the part just decided against a stretch that is still open.</summary>
    public void JudgeLast(int limit, in StretchState state, bool runIsOpen, long position) => Judge(decided!, limit, state, runIsOpen, position);

    /// <summary>Judges every part under way against a stretch that ends at <paramref name="position"/>.</summary>
    public void Judge(int limit, in StretchState state, bool runIsOpen, long position)
    {
        foreach (var part in underWay) Judge(part, limit, state, runIsOpen, position);
    }

    /// <summary>The part just decided is done with.</summary>
    public void Finish()
    {
        underWay.Remove(decided!);
        verdicts.Take(decided!);
        decided = null;
    }

    /// <summary>The recording is over, and with it every stretch. Asked again, does nothing.</summary>
    public void End()
    {
        foreach (var part in underWay) verdicts.Take(part);
        underWay.Clear();
        for (; next < marks.Count; next++)
        {
            if (marks[next].Mark == Mark.Onset) verdicts.Take(marks[next].Part);
        }
    }

    private void Judge(WatchedPart part, int limit, in StretchState state, bool runIsOpen, long position)
    {
        int from = 0;
        foreach (var (to, start) in delayStarts[limit])
        {
            Answer(part, limit, from, to, start, position);
            from = to;
        }

        if (runIsOpen)
        {
            int to = frame.Delays.CountBelow(state.LengthNotAfterBackstop(position));
            if (to > from)
            {
                Answer(part, limit, from, to, state.RunStart, position);
                from = to;
            }
        }

        for (int k = 0; k < state.AreasReached; k++)
            Answer(part, part.Areas, limit, k, k + 1, areaStarts[limit * frame.Areas.Count + k], null, position);
        if (state.BackstopStart >= position) return;
        Answer(part, part.Delays, limit, from, frame.Delays.Count, state.BackstopStart, null, position);
        Answer(part, part.Areas, limit, state.AreasReached, frame.Areas.Count, state.BackstopStart, null, position);
    }

    private void Answer(WatchedPart part, int limit, int from, int to, long runStart, long stretchEnd) =>
        Answer(part, part.Delays, limit, from, to, runStart, frame.Delays, stretchEnd);

    /// <summary>Signals of thresholds [from, to) start at <paramref name="start"/>, plus the delay where there are delays, and last until the stretch's end.</summary>
    private void Answer(WatchedPart part, PartPlane plane, int limit, int from, int to, long start, RisingThresholds? delays, long stretchEnd)
    {
        int inTime = Starting(from, to, part.Onset, start, delays, Math.Min(part.InTimeBefore, stretchEnd));
        int caught = Math.Max(inTime, Starting(from, to, part.Onset, start, delays, Math.Min(part.CaughtBefore, stretchEnd)));
        plane.InTime[limit] = Math.Max(plane.InTime[limit], inTime);
        plane.Caught[limit] = Math.Max(plane.Caught[limit], caught);
        if (plane.Times is not { } times) return;
        for (int k = from; k < caught; k++)
        {
            long active = Math.Max(part.Onset, start + (delays?[k] ?? 0));
            long after = RealTime(active) - part.Part.Onset.Milliseconds;
            ref int time = ref times[limit * plane.Thresholds + k];
            time = (int)Math.Min(time, after);
        }
    }

    /// <summary>Up to which threshold of [from, to) there is an active instant at or after the onset and before a position; 0 when for none.</summary>
    private static int Starting(int from, int to, long onset, long start, RisingThresholds? delays, long before)
    {
        if (onset >= before) return 0;
        int starting = delays is not null ? Math.Min(to, delays.CountBelow(before - start)) : start < before ? to : 0;
        return starting > from ? starting : 0;
    }

    private long RealTime(long position)
    {
        int low = 0, high = sections.Count - 1; // the last section that starts at or before it
        while (low < high)
        {
            int middle = (low + high + 1) / 2;
            if (sections[middle].Position <= position) low = middle;
            else high = middle - 1;
        }

        return sections[low].Milliseconds + (position - sections[low].Position);
    }
}
