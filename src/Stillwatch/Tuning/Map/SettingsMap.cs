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
}
