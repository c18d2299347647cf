using Stillwatch.Alarms;
using Stillwatch.Replay;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Tuning.Ward;

/// <summary>One patient's recordings together: how many, the loads pooled over all of them, and the shares of the ward's signals of each kind, 0–1.</summary>
public sealed record WardPatient(
    string Patient, IReadOnlyList<PatientCategory> Categories, int Recordings, AlarmLoad Physiological, AlarmLoad Technical,
    double ShareOfPhysiological, double ShareOfTechnical);

/// <summary>One alarm condition's part in the load.</summary>
public sealed record ConditionLoad(AlarmCondition Condition, long Signals, Duration Active);

/// <summary>
/// How much a ward's monitors signal under one settings set, and who and what makes it. Physiological load is per 24 h of valid
/// time, technical load per 24 h connected (R12); the two are never added together. A patient's recordings are pooled first.
/// </summary>
public sealed record WardLoad
{
    public required int Recordings { get; init; }

    public required AlarmLoad Physiological { get; init; }

    public required AlarmLoad Technical { get; init; }

    /// <summary>The most physiological signals first.</summary>
    public required IReadOnlyList<WardPatient> Patients { get; init; }

    /// <summary>Conditions that signalled, the most first, physiological before technical.</summary>
    public required IReadOnlyList<ConditionLoad> Conditions { get; init; }

    /// <summary>By clock hour; null where no recording has a known clock.</summary>
    public required HourProfile? Hours { get; init; }

    /// <summary>The middle patient's physiological load per day: half of the patients have less.</summary>
    public required double? MedianPatientSignalsPerDay { get; init; }

    /// <summary>The share of physiological signals that the loudest tenth of the patients gives (at least one patient), 0–1; null without signals.</summary>
    public double? ShareOfTopTenth => ShareOfTop(TopTenth);

    /// <summary>A tenth of the patients, rounded up.</summary>
    public int TopTenth => (Patients.Count + 9) / 10;

    /// <summary>The share of physiological signals that the loudest <paramref name="count"/> patients give; null without signals.</summary>
    public double? ShareOfTop(int count) =>
        Physiological.Signals == 0 ? null : Patients.Take(count).Sum(p => p.Physiological.Signals) / (double)Physiological.Signals;

    /// <param name="recordings">In any order: the answer does not depend on it.</param>
    public static WardLoad Of(IReadOnlyList<WardRecording> recordings)
    {
        var physiological = Sum(recordings, PhysiologicalOf);
        var technical = Sum(recordings, TechnicalOf);
        List<WardPatient> patients =
        [
            .. recordings.GroupBy(r => r.Patient)
                .Select(nights => PatientOf(nights.Key, [.. nights], physiological, technical))
                .OrderByDescending(p => p.Physiological.Signals).ThenByDescending(p => p.Technical.Signals)
                .ThenBy(p => p.Patient, StringComparer.Ordinal),
        ];
        List<double> loads = [.. patients.Select(p => p.Physiological.SignalsPerDay).OfType<double>().Order()];
        return new WardLoad
        {
            Recordings = recordings.Count,
            Physiological = physiological,
            Technical = technical,
            Patients = patients,
            Conditions =
            [
                .. recordings.SelectMany(r => r.Signals).GroupBy(s => s.Condition)
                    .Select(g => new ConditionLoad(g.Key, g.LongCount(), new Duration(g.Sum(s => s.Active.Milliseconds))))
                    .OrderByDescending(c => c.Condition.IsPhysiological()).ThenByDescending(c => c.Signals).ThenBy(c => c.Condition),
            ],
            Hours = HourProfile.Of(recordings),
            MedianPatientSignalsPerDay = loads.Count == 0 ? null : (loads[(loads.Count - 1) / 2] + loads[loads.Count / 2]) / 2,
        };
    }

    private static WardPatient PatientOf(string patient, List<WardRecording> nights, AlarmLoad allPhysiological, AlarmLoad allTechnical)
    {
        var physiological = Sum(nights, PhysiologicalOf);
        var technical = Sum(nights, TechnicalOf);
        return new WardPatient(
            patient, [.. nights.Select(n => n.Category).Distinct().Order()], nights.Count, physiological, technical,
            Share(physiological, allPhysiological), Share(technical, allTechnical));
    }

    private static double Share(AlarmLoad part, AlarmLoad all) => all.Signals == 0 ? 0 : part.Signals / (double)all.Signals;

    private static AlarmLoad Sum(IReadOnlyList<WardRecording> recordings, Func<WardRecording, AlarmLoad> of) =>
        recordings.Select(of).Aggregate(
            default(AlarmLoad), (sum, load) => new AlarmLoad(sum.Signals + load.Signals, sum.Active + load.Active, sum.Per + load.Per));

    private static AlarmLoad PhysiologicalOf(WardRecording recording) => LoadOf(recording, physiological: true, recording.ValidTime);

    private static AlarmLoad TechnicalOf(WardRecording recording) => LoadOf(recording, physiological: false, recording.Connected.Length);

    private static AlarmLoad LoadOf(WardRecording recording, bool physiological, Duration per)
    {
        var counted = recording.Signals.Where(s => s.Condition.IsPhysiological() == physiological).ToList();
        return new AlarmLoad(counted.Count, new Duration(counted.Sum(s => s.Active.Milliseconds)), per);
    }
}
