using Stillwatch.Quantities;
using Stillwatch.Rehearsal.Patients;
using Stillwatch.Rehearsal.Sensor;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Rehearsal.Scenarios;

/// <summary>
/// An invented monitor: what averaging and a disturbed sensor make of the truth, in whole numbers once a second. It knows nothing of light;
/// the road through light is the sensor's.
/// </summary>
/// <remarks>
/// How it errs is common practice told in numbers, no source: a disturbance that is as strong as the pulse pulls the reading towards 85 %
/// (equal changes in both lights), a rhythm takes the pulse rate with it, a slipped sensor and a weak pulse make the reading doubtful. Seconds of
/// poor quality are left out; the last numbers stand for <see cref="HoldSeconds"/>, then there are none.
/// </remarks>
internal sealed class ScreenNumbers
{
    /// <summary>How long numbers stand that nothing new supports.</summary>
    private const int HoldSeconds = 15;

    private const double PullsTowardsPercent = 85;
    private const double PoorQuality = 0.2;

    private readonly RehearsalRun run;
    private readonly SeededRandom random;
    private readonly ValueColumn.Builder spo2 = new();
    private readonly ValueColumn.Builder pulseRate = new();
    private readonly ValueColumn.Builder perfusion = new();
    private readonly ValueColumn.Builder quality = new();
    private readonly TimeAxis.Builder times = new();
    private readonly Queue<Seen> window = new();
    private double noise;
    private double pulseNoise;
    private (double SpO2, double Pulse)? last;
    private int unsupportedSeconds;

    private ScreenNumbers(RehearsalRun run)
    {
        this.run = run;
        random = run.Scenario.Chance(run.Seed, 3);
    }

    private readonly record struct Seen(double SpO2, double Pulse, double Quality);

    public static Recording Of(RehearsalRun run)
    {
        var screen = new ScreenNumbers(run);
        for (int t = 0; t < run.Seconds; t++) screen.Second(t, run.Patient[t], run.Sensor[t]);
        return screen.Build();
    }

    private void Second(int t, in PatientMoment patient, in SensorMoment sensor)
    {
        var seen = See(patient, sensor);
        // The monitor goes on averaging while nobody hears from it.
        if (sensor.Off) window.Clear();
        else window.Enqueue(seen);
        while (window.Count > run.Scenario.AveragingSeconds) window.Dequeue();
        Decide(sensor.Off);
        if (sensor.FeedLost) return;
        times.Add(t * 1000L);
        spo2.Add(last is { } n ? Whole(Math.Clamp(n.SpO2, 1, 100)) : ValueColumn.Missing);
        pulseRate.Add(last is { } p ? Whole(Math.Clamp(p.Pulse, 20, 300)) : ValueColumn.Missing);
        perfusion.Add(sensor.Off ? ValueColumn.Missing : Hundredths(Perfusion(patient, sensor)));
        quality.Add(sensor.Off ? 0 : Whole(100 * seen.Quality));
    }

    /// <summary>What this second alone would read.</summary>
    private Seen See(in PatientMoment patient, in SensorMoment sensor)
    {
        noise = 0.9 * noise + 0.15 * random.Normal();
        pulseNoise = 0.8 * pulseNoise + 0.5 * random.Normal();
        // All disturbances beside the height of the pulse. Motion is told in pulses of 1 %.
        double pulse = Perfusion(patient, sensor);
        double moving = sensor.Motion / pulse;
        double flickering = 100 * sensor.Flicker / (Math.Sqrt(2) * pulse);
        double weak = 0.15 / pulse;
        double disturbance = moving * moving + flickering * flickering + weak * weak;
        double pull = Math.Min(0.95, (moving * moving + flickering * flickering) / (1 + disturbance) + 0.5 * sensor.Slip);
        double jitter = 1 + 4 * weak + 8 * moving / (1 + moving);
        double seen = (1 - pull) * patient.SiteSaturationPercent + pull * PullsTowardsPercent + noise * jitter;
        double rhythm = moving > flickering ? sensor.MotionHz * 60 : sensor.FlickerHz * 60;
        double taken = rhythm > 0 ? Math.Min(0.95, pull * 1.2) : 0;
        double rate = (1 - taken) * patient.PulseRatePerMinute + taken * rhythm + pulseNoise * (1 + 4 * weak + 6 * moving);
        return new Seen(seen, rate, (1 - 0.6 * sensor.Slip) / (1 + disturbance));
    }

    /// <summary>The numbers to show from the good seconds in the window; held for a while, then gone.</summary>
    private void Decide(bool off)
    {
        double spo2Sum = 0, pulseSum = 0;
        int good = 0;
        foreach (var second in window)
        {
            if (second.Quality < PoorQuality) continue;
            spo2Sum += second.SpO2;
            pulseSum += second.Pulse;
            good++;
        }

        if (2 * good >= Math.Min(window.Count, run.Scenario.AveragingSeconds) && good > 0)
        {
            last = (spo2Sum / good, pulseSum / good);
            unsupportedSeconds = 0;
        }
        else if (off || ++unsupportedSeconds > HoldSeconds) last = null;
    }

    /// <summary>Stray light and light past the tissue add to the mean and not to the pulse.</summary>
    private static double Perfusion(in PatientMoment patient, in SensorMoment sensor) =>
        Math.Max(0.02, patient.PerfusionPercent * (1 - sensor.Slip / 2) / (1 + sensor.Ambient));

    private Recording Build()
    {
        var axis = times.Build(new Duration(1000));
        return new Recording(
            run.Scenario.Name,
            run.Start,
            [
                new Channel("SpO2", ChannelKind.SpO2, "%", axis, spo2.Build()),
                new Channel("Pulse", ChannelKind.PulseRate, "/min", axis, pulseRate.Build()),
                new Channel("PI", ChannelKind.PerfusionIndex, "%", axis, perfusion.Build()),
                new Channel("Quality", ChannelKind.SignalQuality, "%", axis, quality.Build()),
            ],
            new SourceAveraging(Duration.FromSeconds(run.Scenario.AveragingSeconds)),
            []);
    }

    private static int Whole(double value) => (int)Math.Round(value, MidpointRounding.AwayFromZero) * FixedPoint.One;

    private static int Hundredths(double value) => (int)Math.Round(value * 100, MidpointRounding.AwayFromZero) * (FixedPoint.One / 100);
}
