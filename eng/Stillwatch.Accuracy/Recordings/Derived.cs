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

    /// <summary>Settings for windows: averaged over the window, so that the reading of its last second is the window's own.</summary>
    public static OximetrySettings Averaged(int windowSeconds, BeatMethod method = BeatMethod.Default) =>
        new() { Averaging = Duration.FromSeconds(windowSeconds), Beats = method };

    /// <summary>Pulse rate of the second that ends at a time of the derivation; NaN: refused, or no such second.</summary>
    public static double PulseRateUpTo(DerivedRecording derived, double endSeconds)
    {
        int second = (int)endSeconds - 1;
        return second >= 0 && second < derived.Seconds.Count ? derived.Seconds[second].PulseRatePerMinute : double.NaN;
    }
}
