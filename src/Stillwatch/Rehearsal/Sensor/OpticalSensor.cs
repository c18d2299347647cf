using Stillwatch.Rehearsal.Patients;
using Stillwatch.Signals;

namespace Stillwatch.Rehearsal.Sensor;

/// <summary>
/// The red and infrared light of a rehearsed patient's finger or foot, second by second, as a converter would count it. The same seed and moments
/// give the same light; memory does not grow.
/// </summary>
/// <remarks>
/// Beer and Lambert: the light of each lamp is e^−(absorption × path) for arterial blood, whose path the pulse lengthens, and venous blood, which
/// breathing, movement and its own pulse move; tissue is a constant in the level. On top: light beside the tissue, light from elsewhere,
/// noise, drift, and the converter's steps and ends. Scattering, skin and other haemoglobins are left out, so theory's own curve, not an empirical
/// one, leads back to the truth. Each cause of chance has a source of its own: without noise, or without movement, the beats stay where they were.
/// </remarks>
public sealed class OpticalSensor
{
    private const double UsualSaturation = 0.97;
    private const double UsualVenousSaturation = 0.75;
    private const double ArterialPathCentimetres = 0.005; // lasting, beside what the pulse adds; our own choice
    private const double VenousPathCentimetres = 0.015;
    private const double DriftSeconds = 60;
    private const double DriftUnlike = 0.2;
    private const double StrengthSeconds = 0.15; // how fast a movement or a slip comes and goes
    private const double VenousDelayShare = 0.12;
    private const double MotionUnit = 0.01; // the usual pulse at a perfusion of 1 %

    private readonly OpticalSensorSettings settings;
    private readonly PulseWave wave;
    private readonly BloodColour blood;
    private readonly HeartClock heart;
    private readonly BreathClock breath;
    private readonly MovementSource movement;
    private readonly SeededRandom redNoise, infraredNoise, driftChance;
    private readonly double step, strengthKept, driftKept, fullScale;
    private long samples;
    private double pace = 1, amplitude;
    private double motion, motionHz, slip;
    private double flickerTurn;
    private double redDrift, infraredDrift;

    /// <exception cref="ArgumentOutOfRangeException">The settings are of no sensor.</exception>
    public OpticalSensor(OpticalSensorSettings settings, ulong seed)
    {
        ArgumentNullException.ThrowIfNull(settings);
        this.settings = settings.Checked();
        wave = new PulseWave(settings.Shape);
        blood = BloodColour.Of(settings.Blood, settings.Infrared);
        heart = new HeartClock(settings.SinusVariation, settings.SlowVariation, SeededRandom.For(seed, 1));
        breath = new BreathClock(settings.BreathVariation, SeededRandom.For(seed, 2));
        movement = new MovementSource(settings.SamplesPerSecond, SeededRandom.For(seed, 3));
        redNoise = SeededRandom.For(seed, 4);
        infraredNoise = SeededRandom.For(seed, 5);
        driftChance = SeededRandom.For(seed, 6);
        flickerTurn = SeededRandom.For(seed, 7).Unit();
        step = 1.0 / settings.SamplesPerSecond;
        strengthKept = Math.Exp(-step / StrengthSeconds);
        driftKept = Math.Exp(-1 / DriftSeconds);
        fullScale = (1 << settings.Bits) - 1;
        redDrift = DriftUnlike * driftChance.Normal();
        infraredDrift = driftChance.Normal();
        redDrift += infraredDrift;
    }

    /// <summary>Samples that each call of <see cref="Second"/> writes.</summary>
    public int SamplesPerSecond => settings.SamplesPerSecond;

    /// <summary>Seconds written so far.</summary>
    public long Seconds => samples / settings.SamplesPerSecond;

    /// <summary>Writes the next second.</summary>
    /// <param name="now">The patient at its beginning.</param>
    /// <param name="next">The patient at its end; between, straight lines.</param>
    /// <param name="sensor">What happens to the sensor throughout it.</param>
    /// <param name="into">Where to.</param>
    /// <exception cref="ArgumentException">A span is too short, or a moment holds what is no number or is out of its range.</exception>
    public void Second(in PatientMoment now, in PatientMoment next, in SensorMoment sensor, in LightSecond into)
    {
        int count = settings.SamplesPerSecond;
        if (into.Red.Length < count || into.Infrared.Length < count || into.SaturationPercent.Length < count || into.Disturbances.Length < count)
            throw new ArgumentException($"Found spans shorter than a second, expected at least {count} samples in each.", nameof(into));
        MomentCheck.Check(now, Seconds);
        MomentCheck.Check(next, Seconds);
        MomentCheck.Check(sensor, Seconds);

        double redDriftFrom = redDrift, infraredDriftFrom = infraredDrift;
        MoveDrift();
        var disturbances = DisturbancesOf(sensor);
        for (int i = 0; i < count; i++)
        {
            double part = i * step;
            double seconds = (samples + i) * step;
            double saturation = Between(now.SiteSaturationPercent, next.SiteSaturationPercent, part);
            double effort = Between(now.BreathEffort, next.BreathEffort, part);
            if (breath.Advance(step, Between(now.RespiratoryRatePerMinute, next.RespiratoryRatePerMinute, part)) && effort > 0) into.Breaths.Add(seconds);
            double perfusion = Between(now.PerfusionPercent, next.PerfusionPercent, part);
            double depth = Between(now.BreathDepth, next.BreathDepth, part);
            if (heart.Reaches(seconds, Between(now.PulseRatePerMinute, next.PulseRatePerMinute, part), Math.Min(depth, 2) * breath.Wave)) BeginBeat(perfusion, effort, into.Beats);

            var light = Tissue(saturation * 0.01, Between(now.VenousSaturationPercent, next.VenousSaturationPercent, part) * 0.01, effort, perfusion, seconds, sensor);
            double drift = settings.DriftPercent * 0.01;
            light = light.Times(1 + drift * Between(redDriftFrom, redDrift, part), 1 + drift * Between(infraredDriftFrom, infraredDrift, part));
            light = WithSlip(light, seconds, sensor);
            if (sensor.Off) light = new Pair(settings.OffLevel, settings.OffLevel);
            Convert(light, sensor, disturbances, into, i);
            into.SaturationPercent[i] = saturation;
        }

        samples += count;
    }

    private void BeginBeat(double perfusion, double effort, IList<double> beats)
    {
        pace = PulseWave.PaceOf(heart.LengthSeconds);
        amplitude = LogAmplitude(perfusion * 0.01) * Math.Max(0, 1 + settings.BreathAmplitude * Math.Min(effort, 3) * breath.Wave);
        double upstroke = heart.StartSeconds + wave.SteepestShare(pace) * heart.LengthSeconds;
        if (upstroke >= 0) beats.Add(upstroke);
    }

    /// <summary>The depth in natural-log units whose light has the given amplitude, trough to peak, over its mean.</summary>
    private double LogAmplitude(double perfusion)
    {
        double log = perfusion;
        for (int i = 0; i < 8; i++)
        {
            double mean = 1 - log * wave.Mean + 0.5 * log * log * wave.MeanSquare; // of e^(−log · height), to the second order
            log = -Math.Log(1 - Math.Min(0.9, perfusion * mean));
        }

        return log;
    }

    // Light through the tissue over that of a quiet finger.
    private Pair Tissue(double saturation, double venous, double effort, double perfusion, double seconds, in SensorMoment sensor)
    {
        double redArterial = blood.Red(saturation), infraredArterial = blood.Infrared(saturation);
        double redVenous = blood.Red(venous), infraredVenous = blood.Infrared(venous);
        double arterialRatio = redArterial / infraredArterial, venousRatio = redVenous / infraredVenous;

        // Of infrared light, natural-log units; more blood, less light.
        double pulse = 0, venousPulse = 0;
        if (heart.Beats)
        {
            double share = heart.ShareAt(seconds);
            pulse = amplitude * wave.At(share, pace);
            if (settings.VenousPulse > 0) venousPulse = settings.VenousPulse * amplitude * wave.At(share < VenousDelayShare ? share - VenousDelayShare + 1 : share - VenousDelayShare, pace);
        }

        double breathing = -0.5 * 0.01 * settings.BreathBaselinePercent * Math.Sqrt(perfusion) * Math.Min(effort, 5) * breath.Wave;
        double venousMoved = venousPulse + breathing;

        double red = ArterialPathCentimetres * (redArterial - blood.Red(UsualSaturation)) + VenousPathCentimetres * (redVenous - blood.Red(UsualVenousSaturation));
        double infrared = ArterialPathCentimetres * (infraredArterial - blood.Infrared(UsualSaturation)) + VenousPathCentimetres * (infraredVenous - blood.Infrared(UsualVenousSaturation));
        red += arterialRatio * pulse + venousRatio * venousMoved;
        infrared += pulse + venousMoved;

        motion = strengthKept * motion + (1 - strengthKept) * sensor.Motion;
        if (sensor.Motion > 0 || motion > 1e-6)
        {
            if (sensor.Motion > 0) motionHz = sensor.MotionHz; // what dies away keeps its rhythm
            movement.Advance(motionHz);
            double strength = MotionUnit * motion;
            double unlike = settings.MotionUnlike;
            infrared += strength * movement.Common;
            red += strength * (1 + settings.MotionVenousShare * (venousRatio - 1)) * (Math.Sqrt(1 - unlike * unlike) * movement.Common + unlike * movement.Other);
        }

        return new Pair(Math.Exp(-red), Math.Exp(-infrared));
    }

    // Light beside the tissue is added to the light through it: half of all at slip 1. The skin's edge moves it with the pulse, alike in both lamps.
    private Pair WithSlip(Pair light, double seconds, in SensorMoment sensor)
    {
        slip = strengthKept * slip + (1 - strengthKept) * sensor.Slip;
        if (slip < 1e-9) return light;
        double share = 0.5 * slip;
        double beside = share / (1 - share) * Math.Exp(heart.Beats ? -settings.EdgePulse * amplitude * wave.At(heart.ShareAt(seconds), pace) : 0);
        return new Pair(light.Red + beside, light.Infrared + beside);
    }

    private void Convert(Pair light, in SensorMoment sensor, Disturbances disturbances, in LightSecond into, int index)
    {
        double noise = settings.NoisePercent * 0.01;
        double red = light.Red + noise * redNoise.Normal(), infrared = light.Infrared + noise * infraredNoise.Normal();
        flickerTurn += sensor.FlickerHz * step;
        flickerTurn -= Math.Floor(flickerTurn);
        double outside = sensor.Off ? settings.AmbientUnshaded : 1;
        double ambient = outside * sensor.Ambient;
        double elsewhere = settings.AmbientLeft * ambient + (sensor.Flicker > 0 ? outside * sensor.Flicker * Math.Sin(2 * Math.PI * flickerTurn) : 0);
        bool flooded = ambient > settings.AmbientLimit;

        // What comes from elsewhere meets the amplifier of infrared and red alike: so much of the infrared level in both.
        int redCount = Count(settings.Brightness * settings.RedLevel * red + settings.InfraredLevel * elsewhere, flooded);
        int infraredCount = Count(settings.Brightness * settings.InfraredLevel * infrared + settings.InfraredLevel * elsewhere, flooded);
        if (redCount == 0 || infraredCount == 0 || redCount == (int)fullScale || infraredCount == (int)fullScale) disturbances |= Disturbances.Clipped;
        into.Disturbances[index] = disturbances;
        into.Red[index] = sensor.FeedLost ? CountColumn.Missing : redCount;
        into.Infrared[index] = sensor.FeedLost ? CountColumn.Missing : infraredCount;
    }

    private int Count(double light, bool flooded) => flooded ? (int)fullScale : (int)Math.Clamp(Math.Floor(light * fullScale + 0.5), 0, fullScale);

    private void MoveDrift()
    {
        double fresh = Math.Sqrt(1 - driftKept * driftKept);
        double common = driftChance.Normal(), own = driftChance.Normal();
        double difference = redDrift - infraredDrift;
        infraredDrift = driftKept * infraredDrift + fresh * common;
        redDrift = infraredDrift + driftKept * difference + fresh * DriftUnlike * own;
    }

    private static Disturbances DisturbancesOf(in SensorMoment sensor) =>
        (sensor.Motion > 0 ? Disturbances.Motion : 0) | (sensor.Flicker > 0 ? Disturbances.Flicker : 0) | (sensor.Ambient > 0 ? Disturbances.Ambient : 0)
        | (sensor.Slip > 0 ? Disturbances.Slip : 0) | (sensor.Off ? Disturbances.Off : 0) | (sensor.FeedLost ? Disturbances.FeedLost : 0);

    private static double Between(double from, double to, double part) => from + (to - from) * part;

    private readonly record struct Pair(double Red, double Infrared)
    {
        public Pair Times(double red, double infrared) => new(Red * red, Infrared * infrared);
    }
}
