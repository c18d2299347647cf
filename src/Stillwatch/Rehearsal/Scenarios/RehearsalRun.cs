using Stillwatch.Rehearsal.Patients;
using Stillwatch.Rehearsal.Sensor;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Rehearsal.Scenarios;

/// <summary>A scenario lived through once, from a seed: the truth, what happened to the sensor, and what a monitor would have shown.</summary>
public sealed class RehearsalRun
{
    private RehearsalRun(
        RehearsalScenario scenario, ulong seed, IReadOnlyList<PatientDrive> drives, IReadOnlyList<PatientMoment> patient,
        IReadOnlyList<SensorMoment> sensor, IReadOnlyList<TruthEpisode> episodes)
    {
        Scenario = scenario;
        Seed = seed;
        Drives = drives;
        Patient = patient;
        Sensor = sensor;
        Episodes = episodes;
        Numerics = ScreenNumbers.Of(this);
        Truth = TruthRecording.Of(this);
    }

    public RehearsalScenario Scenario { get; }

    public ulong Seed { get; }

    /// <summary>One for every second.</summary>
    public IReadOnlyList<PatientDrive> Drives { get; }

    /// <summary>One for every second.</summary>
    public IReadOnlyList<PatientMoment> Patient { get; }

    /// <summary>One for every second.</summary>
    public IReadOnlyList<SensorMoment> Sensor { get; }

    /// <summary>What truly happened, by start; stretches of different kinds overlap.</summary>
    public IReadOnlyList<TruthEpisode> Episodes { get; }

    public int Seconds => Patient.Count;

    /// <summary>Invented, local, without a zone.</summary>
    public RecordingStart Start => new RecordingStart.Local(new DateTime(2026, 3, 2, 0, 0, 0, DateTimeKind.Unspecified) + Scenario.StartsAt.ToTimeSpan());

    /// <summary>What a monitor would have given out: SpO2, pulse rate, perfusion index and quality, a row a second; no row while the feed is lost.</summary>
    public Recording Numerics { get; }

    /// <summary>The truth, a row a second throughout; the true saturation at the site is its SpO2, so that whatever looks at a recording can look at it.</summary>
    public Recording Truth { get; }

    internal static RehearsalRun Of(RehearsalScenario scenario, ulong seed, ScenarioScript script, int seconds)
    {
        var drives = new PatientDrive[seconds];
        var sensor = new SensorMoment[seconds];
        for (int t = 0; t < seconds; t++)
        {
            drives[t] = script.DriveAt(t);
            sensor[t] = script.SensorAt(t);
        }

        var patient = InventedPatient.Live(scenario.Patient, drives, scenario.Chance(seed, 2));
        var end = new SampleTime(seconds * 1000L);
        var written = script.Episodes.Where(e => e.Span.Start < end).Select(e => e with { Span = new TimeSlice(e.Span.Start, e.Span.End < end ? e.Span.End : end) });
        var episodes = written.Concat(TrueStretches.Of(scenario, drives, patient)).OrderBy(e => e.Span.Start).ThenBy(e => e.Kind).ToList();
        return new RehearsalRun(scenario, seed, drives, patient, sensor, episodes);
    }
}
