using Stillwatch.Rehearsal.Patients;

namespace Stillwatch.Rehearsal.Sensor;

/// <summary>
/// A patient without physiology: everything constant, or on a straight line from start to end. For measuring what numbers from light are worth over
/// a range, where a story would only be in the way.
/// </summary>
public sealed record SensorTrial
{
    public int Seconds { get; init; } = 60;

    /// <summary>Of the arterial blood under the sensor.</summary>
    public double SaturationPercent { get; init; } = 97;

    /// <summary>At the last second; null: as at the first.</summary>
    public double? LastSaturationPercent { get; init; }

    /// <summary>Venous below arterial saturation.</summary>
    public double VenousDifferencePercent { get; init; } = 22;

    public double PulseRatePerMinute { get; init; } = 72;

    public double? LastPulseRatePerMinute { get; init; }

    public double PerfusionPercent { get; init; } = 2;

    public double? LastPerfusionPercent { get; init; }

    public double RespiratoryRatePerMinute { get; init; } = 15;

    public double? LastRespiratoryRatePerMinute { get; init; }

    public double BreathEffort { get; init; } = 1;

    /// <summary>Throughout; <c>default</c>: a quiet finger.</summary>
    public SensorMoment Sensor { get; init; }

    /// <summary>The patient of this trial, second by second.</summary>
    public PatientMoment[] Moments()
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(Seconds, 1);
        var moments = new PatientMoment[Seconds];
        for (int i = 0; i < Seconds; i++)
        {
            double part = Seconds == 1 ? 0 : (double)i / (Seconds - 1);
            double saturation = Line(SaturationPercent, LastSaturationPercent, part);
            moments[i] = new PatientMoment(
                ArterialSaturationPercent: saturation,
                SiteSaturationPercent: saturation,
                VenousSaturationPercent: Math.Max(0, saturation - VenousDifferencePercent),
                PulseRatePerMinute: Line(PulseRatePerMinute, LastPulseRatePerMinute, part),
                RespiratoryRatePerMinute: Line(RespiratoryRatePerMinute, LastRespiratoryRatePerMinute, part),
                BreathDepth: BreathEffort,
                BreathEffort: BreathEffort,
                PerfusionPercent: Line(PerfusionPercent, LastPerfusionPercent, part),
                AlveolarOxygenTorr: 100,
                ArterialCarbonDioxideTorr: 40);
        }

        return moments;
    }

    /// <summary>The light of this trial, with its truth.</summary>
    public RehearsedLight Light(OpticalSensorSettings settings, ulong seed) =>
        RehearsalLight.Record(Moments(), Enumerable.Repeat(Sensor, Seconds).ToArray(), settings, seed);

    /// <summary>The light of this trial where the sensor has a story of its own.</summary>
    /// <param name="settings">Of the sensor.</param>
    /// <param name="seed">Of all chance in it.</param>
    /// <param name="sensor">What happens to the sensor in a second, counted from 0.</param>
    public RehearsedLight Light(OpticalSensorSettings settings, ulong seed, Func<int, SensorMoment> sensor) =>
        RehearsalLight.Record(Moments(), Enumerable.Range(0, Seconds).Select(sensor).ToArray(), settings, seed);

    private static double Line(double first, double? last, double part) => first + ((last ?? first) - first) * part;
}
