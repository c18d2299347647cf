using Stillwatch.Rehearsal.Patients;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Rehearsal.Sensor;

/// <summary>Light that was rehearsed, with its truth beside every sample.</summary>
public sealed record RehearsedLight
{
    /// <summary>Two channels of counts on one even axis: red light, infrared light. A lost feed is counts without a number.</summary>
    public required Recording Recording { get; init; }

    public required SampleRate Rate { get; init; }

    /// <summary>True saturation of the arterial blood under the sensor, one for each sample.</summary>
    public required IReadOnlyList<double> SaturationPercent { get; init; }

    /// <summary>One for each sample.</summary>
    public required IReadOnlyList<Disturbances> Disturbances { get; init; }

    /// <summary>See <see cref="LightSecond.Beats"/>; those that lie within the recording.</summary>
    public required IReadOnlyList<double> BeatSeconds { get; init; }

    /// <summary>See <see cref="LightSecond.Breaths"/>.</summary>
    public required IReadOnlyList<double> BreathSeconds { get; init; }

    /// <summary>The patient, second by second.</summary>
    public required IReadOnlyList<PatientMoment> Patient { get; init; }

    /// <summary>The sensor, second by second.</summary>
    public required IReadOnlyList<SensorMoment> Sensor { get; init; }

    /// <summary>Counts of red light as numbers; NaN: none.</summary>
    public double[] Red() => Values(ChannelKind.RedLight);

    /// <summary>Counts of infrared light as numbers; NaN: none.</summary>
    public double[] Infrared() => Values(ChannelKind.InfraredLight);

    private double[] Values(ChannelKind kind)
    {
        var channel = Recording.Find(kind)!;
        var values = new double[channel.Times.Count];
        var part = new double[TimeAxis.ChunkLength];
        int done = 0;
        for (int chunk = 0; chunk < channel.Times.ChunkCount; chunk++)
        {
            int length = channel.CopyValues(chunk, part);
            part.AsSpan(0, length).CopyTo(values.AsSpan(done));
            done += length;
        }

        return values;
    }
}

/// <summary>Puts a patient under a sensor and keeps the light in memory: about 20 bytes a sample. Longer stretches are streamed by <see cref="OpticalSensor"/> itself.</summary>
public static class RehearsalLight
{
    /// <param name="moments">The patient, one moment a second; within a second straight lines lead to the next.</param>
    /// <param name="sensorMoments">What happens to the sensor in each of these seconds; as many.</param>
    /// <param name="settings">Of the sensor.</param>
    /// <param name="seed">Of all chance in it.</param>
    /// <exception cref="ArgumentException">The two lists differ in length, are empty, or hold what no patient or sensor can have.</exception>
    public static RehearsedLight Record(IReadOnlyList<PatientMoment> moments, IReadOnlyList<SensorMoment> sensorMoments, OpticalSensorSettings settings, ulong seed)
    {
        ArgumentNullException.ThrowIfNull(moments);
        ArgumentNullException.ThrowIfNull(sensorMoments);
        if (moments.Count == 0) throw new ArgumentException("Found no moments of the patient, expected at least one.", nameof(moments));
        if (moments.Count != sensorMoments.Count)
            throw new ArgumentException($"Found {sensorMoments.Count} moments of the sensor, expected {moments.Count}, one for each of the patient's.", nameof(sensorMoments));

        var sensor = new OpticalSensor(settings, seed);
        int perSecond = sensor.SamplesPerSecond, count = checked(perSecond * moments.Count);
        var (red, infrared) = (new CountColumn.Builder(), new CountColumn.Builder());
        var (redSecond, infraredSecond) = (new int[perSecond], new int[perSecond]);
        var (saturation, disturbances) = (new double[count], new Disturbances[count]);
        var (beats, breaths) = (new List<double>(), new List<double>());
        for (int second = 0; second < moments.Count; second++)
        {
            sensor.Second(moments[second], moments[Math.Min(second + 1, moments.Count - 1)], sensorMoments[second], new LightSecond
            {
                Red = redSecond,
                Infrared = infraredSecond,
                SaturationPercent = saturation.AsSpan(second * perSecond, perSecond),
                Disturbances = disturbances.AsSpan(second * perSecond, perSecond),
                Beats = beats,
                Breaths = breaths,
            });
            red.Add(redSecond);
            infrared.Add(infraredSecond);
        }

        while (beats.Count > 0 && beats[^1] > (count - 1) / (double)perSecond) beats.RemoveAt(beats.Count - 1);
        var rate = SampleRate.Of(perSecond, 1000);
        var times = TimeAxis.Even(default, rate, count);
        return new RehearsedLight
        {
            Recording = new Recording("rehearsal", new RecordingStart.Unknown(),
            [
                new Channel("Red", ChannelKind.RedLight, "", times, red.Build(Calibration.Counts)),
                new Channel("Infrared", ChannelKind.InfraredLight, "", times, infrared.Build(Calibration.Counts)),
            ], SourceAveraging.Unknown, []),
            Rate = rate,
            SaturationPercent = saturation,
            Disturbances = disturbances,
            BeatSeconds = beats,
            BreathSeconds = breaths,
            Patient = moments,
            Sensor = sensorMoments,
        };
    }
}
