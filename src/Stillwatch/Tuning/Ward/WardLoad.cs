using Stillwatch.Alarms;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Tuning.Ward;

/// <summary>
/// The alarm load of one kind of signal: starts and minutes, and the time they are counted over. Physiological load is per 24 h of
/// valid time, technical load per 24 h connected (R12); the two are never added together.
/// </summary>
/// <param name="Signals">Starts of signals.</param>
/// <param name="Active">Time with an active signal; two at once count twice.</param>
/// <param name="Over">The denominator.</param>
public sealed record Load(long Signals, Duration Active, Duration Over)
{
    public static readonly Load None = new(0, Duration.Zero, Duration.Zero);

    /// <summary>Null without any time to count over: no load is not the same as no time.</summary>
    public double? SignalsPerDay => Over > Duration.Zero ? Signals * (24 / Over.Hours) : null;

    public double? MinutesPerDay => Over > Duration.Zero ? Active.Minutes * (24 / Over.Hours) : null;

    public static Load operator +(Load left, Load right) => new(left.Signals + right.Signals, left.Active + right.Active, left.Over + right.Over);
}

/// <summary>One patient's recordings together: how many, the loads pooled over all of them, and the shares of the ward's signals of each kind, 0–1.</summary>
public sealed record WardPatient(
    string Patient, IReadOnlyList<PatientCategory> Categories, int Recordings, Load Physiological, Load Technical,
    double ShareOfPhysiological, double ShareOfTechnical);

/// <summary>One alarm condition's part in the load.</summary>
public sealed record ConditionLoad(AlarmCondition Condition, long Signals, Duration Active);

/// <summary>How much a ward's monitors signal under one settings set, and who and what makes it.</summary>
public sealed record WardLoad
{
    public required int Recordings { get; init; }

    public required Load Physiological { get; init; }

    public required Load Technical { get; init; }

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

    private static WardPatient PatientOf(string patient, List<WardRecording> nights, Load allPhysiological, Load allTechnical)
    {
        var physiological = Sum(nights, PhysiologicalOf);
        var technical = Sum(nights, TechnicalOf);
        return new WardPatient(
            patient, [.. nights.Select(n => n.Category).Distinct().Order()], nights.Count, physiological, technical,
            Share(physiological, allPhysiological), Share(technical, allTechnical));
    }

    private static double Share(Load part, Load all) => all.Signals == 0 ? 0 : part.Signals / (double)all.Signals;

    private static Load Sum(IReadOnlyList<WardRecording> recordings, Func<WardRecording, Load> of) =>
        recordings.Aggregate(Load.None, (sum, r) => sum + of(r));

    private static Load PhysiologicalOf(WardRecording recording) => LoadOf(recording, physiological: true, recording.ValidTime);

    private static Load TechnicalOf(WardRecording recording) => LoadOf(recording, physiological: false, recording.Connected.Length);

    private static Load LoadOf(WardRecording recording, bool physiological, Duration over)
    {
        var counted = recording.Signals.Where(s => s.Condition.IsPhysiological() == physiological).ToList();
        return new Load(counted.Count, new Duration(counted.Sum(s => s.Active.Milliseconds)), over);
    }
}
