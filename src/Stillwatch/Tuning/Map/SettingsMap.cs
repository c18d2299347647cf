using Stillwatch.Conditioning;
using Stillwatch.Time;
using Stillwatch.Tuning.MustCatch;

namespace Stillwatch.Tuning.Map;

/// <summary>Alarm load over a whole grid of settings, with missed and late must-catch events on top; exact, from one pass.</summary>
public sealed class SettingsMap
{
    internal SettingsMap(MapRequest request, MapPlane byDelay, MapPlane byArea, Duration valid, Duration connected, int mustCatchEvents)
    {
        Request = request;
        ByDelay = byDelay;
        ByArea = byArea;
        Valid = valid;
        Connected = connected;
        MustCatchEvents = mustCatchEvents;
    }

    public MapRequest Request { get; }

    /// <summary>Limits × delays, area threshold zero.</summary>
    public MapPlane ByDelay { get; }

    /// <summary>Limits × area thresholds, delay zero.</summary>
    public MapPlane ByArea { get; }

    /// <summary>Valid time of the unaveraged series, so that it is the same for every candidate.</summary>
    public Duration Valid { get; }

    public Duration Connected { get; }

    public int MustCatchEvents { get; }

    /// <summary>What the limits are limits of.</summary>
    public ConditionedQuantity Quantity { get; internal init; }

    /// <summary>Draws the map of one recording's channel.</summary>
    /// <param name="source">SpO2 or pulse rate; a pulse map has no upper bound on limit + margin.</param>
    /// <param name="request">Grid, side, margin, backstop, conditioning. Either plane may be empty, and then costs nothing.</param>
    /// <param name="events">Must-catch events of this recording, found in the unaveraged series so that they are the same for every candidate (R13); none for maps that are not of low SpO2.</param>
    /// <exception cref="ArgumentException">The request contradicts itself (a list that does not rise, a backstop on a high map …).</exception>
    /// <remarks>Cost grows with the rows and with the limits that changing values cross, not with the number of settings.</remarks>
    public static SettingsMap Of(ConditionedSource source, MapRequest request, IReadOnlyList<MustCatchEvent> events)
    {
        var drawing = new MapDrawing(request, source.Quantity, events);
        ConditionedScan.Run(source, request.Conditioning, ref drawing.Pass);
        var times = source.Channel.Times;
        bool averages = request.Conditioning.Averaging > times.Period;
        var valid = averages ? ValidTime(source, request.Conditioning) : new Duration(drawing.Pass.TotalActive);
        return drawing.Finish(valid, times.Span);
    }

    /// <summary>The same from a series already conditioned as the request says, for a caller that draws several maps of one series.</summary>
    /// <param name="series">Conditioned with the request's <see cref="MapRequest.Conditioning"/>.</param>
    /// <param name="quantity">What the series is of.</param>
    /// <param name="valid">Valid time of the unaveraged series.</param>
    /// <param name="request">As for a source.</param>
    /// <param name="events">As for a source.</param>
    /// <exception cref="ArgumentException">The request contradicts itself.</exception>
    public static SettingsMap Of(ConditionedSeries series, ConditionedQuantity quantity, Duration valid, MapRequest request, IReadOnlyList<MustCatchEvent> events)
    {
        var drawing = new MapDrawing(request, quantity, events);
        series.Replay(ref drawing.Pass);
        return drawing.Finish(valid, series.Connected);
    }

    /// <summary>Adds up maps of several recordings, drawn for the same request: the map of a unit, a category or a resample.</summary>
    /// <exception cref="ArgumentException">No map, or maps of different requests.</exception>
    /// <remarks>Times to signal stand in the order of the maps and, within each, of its events. Null cells stay null.</remarks>
    public static SettingsMap Sum(IReadOnlyList<SettingsMap> maps)
    {
        if (maps.Count == 0) throw new ArgumentException("Sum of maps: found none, expected at least one.", nameof(maps));
        var first = maps[0];
        for (int i = 1; i < maps.Count; i++)
        {
            if (maps[i].Quantity != first.Quantity || !maps[i].Request.IsSameAs(first.Request))
                throw new ArgumentException($"Sum of maps: found map {i} drawn for another quantity or request than the first, expected one grid, side, margin, backstop and conditioning for all.", nameof(maps));
        }

        return new SettingsMap(
            first.Request,
            MapPlane.Sum([.. maps.Select(m => m.ByDelay)]),
            MapPlane.Sum([.. maps.Select(m => m.ByArea)]),
            new Duration(maps.Sum(m => m.Valid.Milliseconds)),
            new Duration(maps.Sum(m => m.Connected.Milliseconds)),
            maps.Sum(m => m.MustCatchEvents))
        { Quantity = first.Quantity };
    }

    private static Duration ValidTime(ConditionedSource source, ConditioningSettings conditioning)
    {
        var time = new ValidTimeCount();
        ConditionedScan.Run(source, conditioning with { Averaging = Duration.Zero }, ref time);
        return new Duration(time.Milliseconds);
    }

    /// <summary>Adds up the time with a value.</summary>
    private struct ValidTimeCount : IConditionedVisitor
    {
        private long since;
        private bool open;

        public long Milliseconds { get; private set; }

        public void Value(long milliseconds, int micro, Arrival arrival)
        {
            if (open) return;
            since = milliseconds;
            open = true;
        }

        public void Lost(long milliseconds)
        {
            Milliseconds += milliseconds - since;
            open = false;
        }

        public void End(long milliseconds)
        {
            if (open) Milliseconds += milliseconds - since;
            open = false;
        }
    }
}
