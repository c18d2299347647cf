using Stillwatch.Oximetry.Feed;
using Stillwatch.Oximetry.Planning;
using Stillwatch.Signals;

namespace Stillwatch.Oximetry;

/// <summary>From a recording's light, or its pleth, to beats and numerics.</summary>
public static class Derivation
{
    /// <summary>Derives all that the recording's light gives.</summary>
    /// <exception cref="NoLightException">No channel of the recording can hold a pulse.</exception>
    public static DerivedRecording Of(Recording recording, OximetrySettings settings)
    {
        ArgumentNullException.ThrowIfNull(recording);
        ArgumentNullException.ThrowIfNull(settings);
        var chosen = OpticalPlanner.Choose(recording, settings);
        var all = new Collected();
        var summary = LightRun.Through(chosen.Feed, chosen.InputAt(chosen.Feed.Rate), settings, all);
        return new DerivedRecording
        {
            Plan = chosen.Plan with { Resampling = summary.Resampling },
            Settings = settings,
            Start = chosen.Feed.Start,
            Beats = all.Beats,
            Seconds = all.Seconds,
            Breathing = all.Breathing,
        };
    }

    private sealed class Collected : IOximetrySink
    {
        public List<Beat> Beats { get; } = [];

        public List<SecondReading> Seconds { get; } = [];

        public List<BreathingReading> Breathing { get; } = [];

        public void Take(in Beat beat) => Beats.Add(beat);

        public void Take(int secondIndex, in SecondReading reading) => Seconds.Add(reading);

        public void Take(in BreathingReading reading) => Breathing.Add(reading);
    }
}

/// <summary>A recording in which no channel can hold a pulse.</summary>
/// <param name="found">What there is instead.</param>
/// <param name="expected">What is needed.</param>
/// <param name="likelyCause">And what helps; null: nothing in the channels tells.</param>
public sealed class NoLightException(string found, string expected, string? likelyCause = null) : Exception($"Found {found}, expected {expected}.")
{
    public string Found => found;

    public string Expected => expected;

    public string? LikelyCause => likelyCause;
}
