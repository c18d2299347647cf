using System.Runtime.CompilerServices;
using Stillwatch.Conditioning;

namespace Stillwatch.Tuning.Map;

/// <summary>
/// The one pass behind a settings map. Everything is kept on the axis of active time, from which lost time is taken out: there
/// a loss that a run outlives (R9) has no length, and a start that falls on one lies at the return.
/// </summary>
/// <remarks>
/// As the limit rises, runs nest, and so do stretches below limit + margin. A changed value therefore opens or closes only
/// the limits that it crosses. In a stretch the signal of delay d starts in its first run longer than d, so only runs that break
/// the stretch's record matter; likewise areas. A run's area is followed until it has passed the largest threshold; being
/// larger for every higher limit, the runs still followed are the lowest open ones.
/// </remarks>
internal struct MapPass : IConditionedVisitor
{
    // One held value may last years; in strides of 11 days no product of depth and time overflows.
    private const long LongestStrideMilliseconds = 1_000_000_000;
    private const long NothingBelow = long.MaxValue;

    private readonly long[] limits;
    private readonly long[] clearLevels;
    private readonly StretchState[] states;
    private readonly RisingThresholds delays;
    private readonly RisingThresholds areas;
    private readonly PlaneTally byDelay;
    private readonly PlaneTally byArea;
    private readonly CatchWatch? watch;
    private readonly long signMask; // 0, or −1 to negate
    private readonly bool advances;
    private readonly long backstop;
    private readonly long backstopDelay;

    private long nextMark; // real time of the next instant that an event needs to know
    private bool watching; // an event is under way
    private long present = NothingBelow;
    private long lostBefore; // lost milliseconds so far: real time less active time
    private long lossAt;
    private bool lost;
    private int runsFrom; // runs are open at limits [runsFrom, …)
    private int stretchesFrom;
    private int followedTo; // areas are followed at limits [runsFrom, followedTo)
    private long advancedTo; // active time to which areas and backstop have been followed
    private long backstopRunStart = long.MaxValue;
    private bool backstopFired;

    public MapPass(MapFrame frame, PlaneTally byDelay, PlaneTally byArea, CatchWatch? watch)
    {
        limits = frame.Limits;
        clearLevels = frame.ClearLevels;
        delays = frame.Delays;
        areas = frame.Areas;
        this.byDelay = byDelay;
        this.byArea = byArea;
        this.watch = watch;
        signMask = frame.Sign < 0 ? -1 : 0;
        backstop = frame.BackstopMicro ?? long.MinValue;
        backstopDelay = frame.BackstopDelayMilliseconds;
        advances = areas.Count > 0 || frame.BackstopMicro is not null;
        states = new StretchState[limits.Length];
        foreach (ref var state in states.AsSpan()) state.Reset(delays);
        runsFrom = stretchesFrom = followedTo = limits.Length;
        nextMark = watch?.NextMark ?? long.MaxValue;
    }

    /// <summary>Active time of the whole series, once it has ended.</summary>
    public long TotalActive { get; private set; }

    public void Value(long milliseconds, int micro, Arrival arrival)
    {
        unchecked // times and millionths are far from the ends of a long; measured hot path
        {
            if (milliseconds >= nextMark) PassMarks(milliseconds);
            if (arrival != Arrival.Continues) Resume(milliseconds, arrival);
            long value = (micro ^ signMask) - signMask;
            long position = milliseconds - lostBefore;
            if (advances) Advance(position);
            if (value < present) Fall(value, position);
            else Rise(value, position);
            present = value;
        }
    }

    public void Lost(long milliseconds)
    {
        if (milliseconds >= nextMark) PassMarks(milliseconds);
        if (advances) Advance(milliseconds - lostBefore);
        lossAt = milliseconds;
        lost = true;
    }

    public void End(long milliseconds)
    {
        if (milliseconds >= nextMark) PassMarks(milliseconds);
        long position = ActiveAt(milliseconds);
        if (advances) Advance(position);
        Rise(NothingBelow, position);
        watch?.End();
        TotalActive = position;
    }

    private void Resume(long milliseconds, Arrival arrival)
    {
        if (arrival == Arrival.First)
        {
            lostBefore = milliseconds;
        }
        else
        {
            if (arrival == Arrival.BackTooLate)
            {
                Rise(NothingBelow, lossAt - lostBefore);
                present = NothingBelow;
            }

            lostBefore += milliseconds - lossAt;
        }

        lost = false;
        watch?.Section(milliseconds - lostBefore, milliseconds);
    }

    private readonly long ActiveAt(long milliseconds) =>
        lost ? lossAt - lostBefore : present == NothingBelow ? 0 : milliseconds - lostBefore;

    private void Fall(long value, long position)
    {
        int stretch = stretchesFrom;
        while (stretch > 0 && value < clearLevels[stretch - 1]) stretch--;
        stretchesFrom = stretch;
        int run = runsFrom;
        while (run > 0 && value < limits[run - 1]) states[--run].BeginRun(position);
        runsFrom = run;
        if (value < backstop && backstopRunStart == long.MaxValue)
        {
            backstopRunStart = position;
            backstopFired = false;
        }
    }

    private void Rise(long value, long position)
    {
        if (value >= backstop) backstopRunStart = long.MaxValue;
        int run = runsFrom;
        for (; run < limits.Length && value >= limits[run]; run++) CloseRun(run, position);
        runsFrom = run;
        if (followedTo < run) followedTo = run;
        int stretch = stretchesFrom;
        for (; stretch < clearLevels.Length && value >= clearLevels[stretch]; stretch++) CloseStretch(stretch, position);
        stretchesFrom = stretch;
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private readonly void CloseRun(int limit, long position)
    {
        ref var state = ref states[limit];
        if (position - state.RunStart <= state.RunMustExceed) return;
        long length = state.LengthNotAfterBackstop(position);
        if (length <= state.RunMustExceed) return;
        int to = delays.CountBelow(length);
        byDelay.Started(limit, state.DelaysReached, to, state.RunStart);
        watch?.Started(limit, to, state.RunStart);
        state.DelaysReached = to;
        state.RunMustExceed = delays.AtOrNever(to);
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private readonly void CloseStretch(int limit, long position)
    {
        ref var state = ref states[limit];
        if (state.IsSilent) return;
        if (watching) watch!.Judge(limit, state, runIsOpen: false, position);
        if (state.BackstopStart != long.MaxValue)
        {
            // The backstop signals whatever the delay or area threshold.
            byDelay.StartedByBackstop(limit, state.DelaysReached, state.BackstopStart);
            byArea.StartedByBackstop(limit, state.AreasReached, state.BackstopStart);
            state.DelaysReached = delays.Count;
            state.AreasReached = areas.Count;
        }

        if (state.DelaysReached > 0) byDelay.Ended(limit, state.DelaysReached, position);
        if (state.AreasReached > 0) byArea.Ended(limit, state.AreasReached, position);
        state.Reset(delays);
        watch?.Forget(limit);
    }

    /// <summary>Follows backstop and areas over the time in which the present value held.</summary>
    private void Advance(long position)
    {
        while (advancedTo < position)
        {
            long stride = Math.Min(position - advancedTo, LongestStrideMilliseconds);
            if (backstopRunStart != long.MaxValue && !backstopFired && advancedTo + stride - backstopRunStart > backstopDelay) FireBackstop();
            int to = followedTo;
            for (int limit = runsFrom; limit < to; limit++)
            {
                if (FollowArea(limit, stride)) followedTo = Math.Min(followedTo, limit);
            }

            advancedTo += stride;
        }
    }

    private void FireBackstop()
    {
        backstopFired = true;
        foreach (ref var state in states.AsSpan())
        {
            if (state.BackstopStart == long.MaxValue) state.BackstopStart = backstopRunStart + backstopDelay;
        }
    }

    /// <summary>Adds to a run's area and notes each threshold that it passes; true once it has passed the largest.</summary>
    private readonly bool FollowArea(int limit, long stride)
    {
        unchecked // bounded by the largest threshold plus one stride
        {
            ref var state = ref states[limit];
            long depth = limits[limit] - present;
            long before = state.RunArea;
            long after = before + depth * stride;
            state.RunArea = after;
            int reached = state.AreasReached;
            while (reached < areas.Count && after > areas[reached] && advancedTo <= state.BackstopStart)
            {
                long start = advancedTo + (areas[reached] - before) / depth; // to the millisecond before
                if (start > state.BackstopStart) break;
                byArea.Started(limit, reached, reached + 1, start);
                watch?.AreaStarted(limit, reached, start);
                reached++;
            }

            state.AreasReached = reached;
            return after > areas.Largest;
        }
    }

    /// <summary>Tells the watch the active time of each mark up to now, and has it judge the events that are over.</summary>
    private void PassMarks(long until)
    {
        while (watch!.NextMark <= until)
        {
            long position = ActiveAt(watch.NextMark);
            if (watch.PassMark(position))
            {
                if (advances) Advance(position);
                for (int limit = stretchesFrom; limit < states.Length; limit++)
                    watch.JudgeLast(limit, states[limit], runIsOpen: limit >= runsFrom, position);
                watch.Finish();
            }
        }

        nextMark = watch.NextMark;
        watching = watch.IsWatching;
    }
}
