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
    /// <param name="patient">A pseudonym.</param>
    /// <param name="category">The patient category.</param>
    /// <param name="name">A name to show.</param>
    /// <param name="start">What is known of the wall clock.</param>
    /// <param name="spO2">Whose valid time is the denominator.</param>
    /// <param name="conditioning">Its averaging is left aside: valid time is the same for all settings.</param>
    /// <param name="signals">The engine's.</param>
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
