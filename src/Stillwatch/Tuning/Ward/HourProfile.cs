using Stillwatch.Alarms;
using Stillwatch.Replay;
using Stillwatch.Time;

namespace Stillwatch.Tuning.Ward;

/// <summary>One hour of the clock face over all recordings whose clock is known.</summary>
/// <param name="Hour">0–23, on the clock of each recording.</param>
/// <param name="Physiological">Over valid time within this hour; minutes are booked to the hour in which the signal started.</param>
/// <param name="Technical">Over connected time within this hour.</param>
public sealed record ClockHour(int Hour, AlarmLoad Physiological, AlarmLoad Technical);

/// <summary>Load by hour of the day.</summary>
/// <param name="Hours">Twenty-four, from midnight.</param>
/// <param name="RecordingsWithClock">How many recordings it rests on.</param>
/// <param name="RecordingsWithoutClock">How many are left out because nothing is known of their clock.</param>
/// <remarks>Clock faces are taken as the recordings give them; a change to or from summer time inside a recording is not known here.</remarks>
public sealed record HourProfile(IReadOnlyList<ClockHour> Hours, int RecordingsWithClock, int RecordingsWithoutClock)
{
    private const long HourMilliseconds = 3_600_000;
    private const long DayMilliseconds = 24 * HourMilliseconds;

    /// <summary>Null where no recording has a known clock.</summary>
    public static HourProfile? Of(IReadOnlyList<WardRecording> recordings)
    {
        var known = recordings.Where(r => r.Start.IsKnown).ToList();
        if (known.Count == 0) return null;
        var physiological = new int[24];
        var technical = new int[24];
        var physiologicalActive = new long[24];
        var technicalActive = new long[24];
        var valid = new long[24];
        var connected = new long[24];
        foreach (var recording in known)
        {
            long origin = OriginOfDay(recording.Start);
            Spread(recording.Connected, origin, connected);
            foreach (var slice in recording.Valid) Spread(slice, origin, valid);
            foreach (var signal in recording.Signals)
            {
                int hour = HourAt(origin + signal.Start.Milliseconds);
                bool isPhysiological = signal.Condition.IsPhysiological();
                (isPhysiological ? physiological : technical)[hour]++;
                (isPhysiological ? physiologicalActive : technicalActive)[hour] += signal.Active.Milliseconds;
            }
        }

        return new HourProfile(
            [
                .. Enumerable.Range(0, 24).Select(h => new ClockHour(
                    h,
                    new AlarmLoad(physiological[h], new Duration(physiologicalActive[h]), new Duration(valid[h])),
                    new AlarmLoad(technical[h], new Duration(technicalActive[h]), new Duration(connected[h])))),
            ],
            known.Count, recordings.Count - known.Count);
    }

    /// <summary>Milliseconds since midnight, on the recording's own clock, at its origin.</summary>
    private static long OriginOfDay(RecordingStart start) => (long)(start switch
    {
        RecordingStart.TimeOfDay t => t.Time.ToTimeSpan(),
        RecordingStart.Local l => l.DateTime.TimeOfDay,
        RecordingStart.Zoned z => z.DateTime.TimeOfDay,
        _ => throw new ArgumentException($"Found start '{start}', expected one with a clock.", nameof(start)),
    }).TotalMilliseconds;

    private static int HourAt(long milliseconds) => (int)(((milliseconds % DayMilliseconds) + DayMilliseconds) % DayMilliseconds / HourMilliseconds);

    private static void Spread(TimeSlice slice, long origin, long[] byHour)
    {
        long at = origin + slice.Start.Milliseconds, end = origin + slice.End.Milliseconds;
        while (at < end)
        {
            long hourEnd = (Math.DivRem(at, HourMilliseconds) is var (hours, rest) && rest < 0 ? hours : hours + 1) * HourMilliseconds;
            long next = Math.Min(end, hourEnd);
            byHour[HourAt(at)] += next - at;
            at = next;
        }
    }
}
