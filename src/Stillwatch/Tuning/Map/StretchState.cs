namespace Stillwatch.Tuning.Map;

/// <summary>What is known of the open run and the open stretch at one limit. All times are active time in milliseconds.</summary>
internal struct StretchState
{
    /// <summary>Meaningful while a run is open.</summary>
    public long RunStart;

    /// <summary>The open run's area as far as it is followed; meaningful while a run is open.</summary>
    public long RunArea;

    /// <summary>Some run of the stretch outlasted this many of the delays.</summary>
    public int DelaysReached;

    public int AreasReached;

    /// <summary>The smallest delay that no run of the stretch has outlasted.</summary>
    public long RunMustExceed;

    /// <summary>Where the backstop started the signal, had nothing else done so before; <see cref="long.MaxValue"/>: nowhere.</summary>
    public long BackstopStart;

    public void Reset(RisingThresholds delays)
    {
        DelaysReached = 0;
        AreasReached = 0;
        RunMustExceed = delays.AtOrNever(0);
        BackstopStart = long.MaxValue;
    }

    /// <summary>Nothing has signalled in this stretch, at any threshold.</summary>
    public readonly bool IsSilent => (DelaysReached | AreasReached) == 0 && BackstopStart == long.MaxValue;

    public void BeginRun(long position)
    {
        RunStart = position;
        RunArea = 0;
    }

    /// <summary>
    /// The length of the run that ends or stands at <paramref name="position"/>. Delays whose start would come after the backstop's do not
    /// count as outlasted: the backstop serves them.
    /// </summary>
    public readonly long LengthNotAfterBackstop(long position) =>
        (BackstopStart < position ? BackstopStart + 1 : position) - RunStart;
}
