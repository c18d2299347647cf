using System.Numerics;
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using Stillwatch.Time;

namespace Stillwatch.Tuning.Map;

/// <summary>One plane of a settings map: limits × delays, or limits × area thresholds.</summary>
/// <remarks>Null cells (R7, R8) hold −1 everywhere. Counts are starts of signals of an unattended, non-latching run (R12).</remarks>
public sealed class MapPlane
{
    private readonly int[]? timesToSignalMilliseconds;
    private readonly int limits;
    private readonly int thresholds;

    /// <param name="signals">Signal starts per [limit, threshold].</param>
    /// <param name="activeMilliseconds">Milliseconds of active signal per [limit, threshold]; lost time is not active.</param>
    /// <param name="missed">Must-catch events missed per [limit, threshold].</param>
    /// <param name="late">Must-catch events late per [limit, threshold].</param>
    /// <param name="timesToSignal">Milliseconds from onset to signal per event, limit, threshold (in that order); −1 missed or null cell; null when not kept.</param>
    public MapPlane(long[,] signals, long[,] activeMilliseconds, int[,] missed, int[,] late, int[]? timesToSignal)
    {
        Signals = signals;
        ActiveMilliseconds = activeMilliseconds;
        Missed = missed;
        Late = late;
        timesToSignalMilliseconds = timesToSignal;
        limits = signals.GetLength(0);
        thresholds = signals.GetLength(1);
    }

    public long[,] Signals { get; }

    public long[,] ActiveMilliseconds { get; }

    public int[,] Missed { get; }

    public int[,] Late { get; }

    public bool IsNull(int limitIndex, int thresholdIndex) => Signals[limitIndex, thresholdIndex] < 0;

    public bool HasTimesToSignal => timesToSignalMilliseconds is not null;

    /// <summary>From an event's onset to its signal under one cell: the worst over the event's parts; zero when already active; null when any part is missed, or the cell is null.</summary>
    public Duration? TimeToSignal(int eventIndex, int limitIndex, int thresholdIndex)
    {
        if (timesToSignalMilliseconds is null) throw new InvalidOperationException("Times to signal were not kept: ask for them in the request.");
        int milliseconds = timesToSignalMilliseconds[(eventIndex * limits + limitIndex) * thresholds + thresholdIndex];
        return milliseconds < 0 ? null : new Duration(milliseconds);
    }

    /// <summary>Cell by cell; a cell that is null stays null. Events stand in the order of the planes.</summary>
    internal static MapPlane Sum(IReadOnlyList<MapPlane> planes)
    {
        var times = planes.All(p => p.timesToSignalMilliseconds is not null)
            ? planes.SelectMany(p => p.timesToSignalMilliseconds!).ToArray()
            : null;
        return new MapPlane(
            SumCells([.. planes.Select(p => p.Signals)]),
            SumCells([.. planes.Select(p => p.ActiveMilliseconds)]),
            SumCells([.. planes.Select(p => p.Missed)]),
            SumCells([.. planes.Select(p => p.Late)]),
            times);
    }

    private static T[,] SumCells<T>(IReadOnlyList<T[,]> all)
        where T : unmanaged, INumber<T>
    {
        var sum = (T[,])all[0].Clone();
        var cells = Flat(sum);
        for (int i = 1; i < all.Count; i++)
        {
            var more = Flat(all[i]);
            for (int k = 0; k < cells.Length; k++)
            {
                // A null cell is null in every map of one request.
                if (cells[k] >= T.Zero) cells[k] = checked(cells[k] + more[k]);
            }
        }

        return sum;
    }

    internal static Span<T> Flat<T>(T[,] cells) =>
        MemoryMarshal.CreateSpan(ref Unsafe.As<byte, T>(ref MemoryMarshal.GetArrayDataReference(cells)), cells.Length);
}
