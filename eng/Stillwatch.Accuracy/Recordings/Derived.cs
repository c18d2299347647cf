using Stillwatch.Oximetry;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Accuracy.Recordings;

/// <summary>The product's chain as a user would run it on these recordings.</summary>
internal static class Derived
{
    /// <summary>The channels that are named, or all of them, through the chain.</summary>
    public static DerivedRecording Of(Recording recording, OximetrySettings settings, params string[] labels)
    {
        var channels = recording.Channels.Where(c => labels.Length == 0 || labels.Contains(c.Label.Trim())).ToList();
        if (labels.Length > 0 && channels.Count != labels.Length)
            throw new InvalidDataException($"{recording.Name}: found {string.Join(", ", recording.Channels.Select(c => c.Label))}, expected {string.Join(", ", labels)}.");
        return Derivation.Of(recording with { Channels = channels }, settings);
    }

    /// <summary>Settings for windows: a reading tells of the averaging time around its second, so that of the middle second is the window's own.</summary>
    public static OximetrySettings Averaged(int windowSeconds, BeatMethod method = BeatMethod.Default) =>
        new() { Averaging = Duration.FromSeconds(windowSeconds), Beats = method };

    /// <summary>Pulse rate of the middle second of a window, from which the averaging reaches to both its ends; NaN: refused, or no such second.</summary>
    public static double PulseRateAround(DerivedRecording derived, double fromSeconds, int windowSeconds)
    {
        int second = (int)fromSeconds + windowSeconds / 2;
        return second < derived.Seconds.Count ? derived.Seconds[second].PulseRatePerMinute : double.NaN;
    }
}
