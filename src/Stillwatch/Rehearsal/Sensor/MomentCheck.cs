using Stillwatch.Rehearsal.Patients;

namespace Stillwatch.Rehearsal.Sensor;

/// <summary>Refuses moments that no patient and no sensor can have: one bad second would spoil all that come after it.</summary>
internal static class MomentCheck
{
    public static void Check(in PatientMoment moment, long second)
    {
        Within(moment.SiteSaturationPercent, 0, 100, nameof(moment.SiteSaturationPercent), second);
        Within(moment.VenousSaturationPercent, 0, 100, nameof(moment.VenousSaturationPercent), second);
        Within(moment.PulseRatePerMinute, 0, 400, nameof(moment.PulseRatePerMinute), second);
        Within(moment.RespiratoryRatePerMinute, 0, 300, nameof(moment.RespiratoryRatePerMinute), second);
        Within(moment.BreathDepth, 0, 100, nameof(moment.BreathDepth), second);
        Within(moment.BreathEffort, 0, 100, nameof(moment.BreathEffort), second);
        Within(moment.PerfusionPercent, 0, 50, nameof(moment.PerfusionPercent), second);
    }

    public static void Check(in SensorMoment moment, long second)
    {
        Within(moment.Motion, 0, 1000, nameof(moment.Motion), second);
        Within(moment.MotionHz, 0, 50, nameof(moment.MotionHz), second);
        Within(moment.Flicker, 0, 1000, nameof(moment.Flicker), second);
        Within(moment.FlickerHz, 0, 1000, nameof(moment.FlickerHz), second);
        Within(moment.Ambient, 0, 1e6, nameof(moment.Ambient), second);
        Within(moment.Slip, 0, 1, nameof(moment.Slip), second);
    }

    private static void Within(double value, double least, double most, string name, long second)
    {
        if (!(value >= least && value <= most)) throw new ArgumentException($"Second {second}, {name}: found {value}, expected {least} to {most}; the moment before it or its own rule may be wrong.", name);
    }
}
