using Stillwatch.Alarms;
using Stillwatch.Conditioning;
using Stillwatch.Replay;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Tuning.Ward;

/// <summary>One recording with the signals that one settings set gave on it: the ward adds these up.</summary>
/// <param name="Patient">A pseudonym; recordings with the same one are pooled.</param>
/// <param name="Category">The patient category.</param>
/// <param name="Name">A name to show, never a patient's.</param>
/// <param name="Start">What is known of the wall clock.</param>
/// <param name="Connected">First row to end.</param>
/// <param name="Valid">Stretches with a value of the unaveraged SpO2 series, in time order.</param>
/// <param name="Signals">Of an unattended, non-latching run (R12).</param>
public sealed record WardRecording(
    string Patient, PatientCategory Category, string Name, RecordingStart Start,
    TimeSlice Connected, IReadOnlyList<TimeSlice> Valid, IReadOnlyList<ReplayedSignal> Signals)
{
    /// <summary>Runs the engine over a recording; null where it has no SpO2, whose valid time is the denominator.</summary>
    /// <exception cref="ArgumentException">The settings contradict the rules.</exception>
    public static WardRecording? Of(string patient, PatientCategory category, Recording recording, AlarmSettings settings) =>
        ConditionedSource.SpO2Of(recording, settings.Technical.QualityThresholdMicro) is { } spO2
            ? Of(patient, category, recording.Name, recording.Start, spO2, settings.SpO2Conditioning, Replayer.Run(recording, settings).Signals)
            : null;

    /// <summary>Signals that were already come by, with the denominators of the SpO2 they belong to. Valid time is that of the unaveraged series: the same for all settings.</summary>
    public static WardRecording Of(
        string patient, PatientCategory category, string name, RecordingStart start,
        ConditionedSource spO2, ConditioningSettings conditioning, IReadOnlyList<ReplayedSignal> signals)
    {
        var series = ConditionedSeries.Of(spO2, conditioning with { Averaging = Duration.Zero });
        var valid = new List<TimeSlice>();
        foreach (var piece in series.Pieces)
        {
            if (valid.Count > 0 && valid[^1].End == piece.Start) valid[^1] = valid[^1] with { End = piece.End };
            else valid.Add(new TimeSlice(piece.Start, piece.End));
        }

        return new WardRecording(patient, category, name, start, new TimeSlice(series.Start, series.End), valid, signals);
    }

    public Duration ValidTime => new(Valid.Sum(v => v.Length.Milliseconds));
}
