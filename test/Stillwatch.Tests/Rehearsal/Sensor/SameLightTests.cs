using CsCheck;
using Stillwatch.Rehearsal.Patients;
using Stillwatch.Rehearsal.Sensor;

namespace Stillwatch.Tests.Rehearsal.Sensor;

/// <summary>The same seed and the same moments give the same light, however it is asked for; and nobody's light can spoil another's.</summary>
public sealed class SameLightTests
{
    private static readonly long Stories = Environment.GetEnvironmentVariable("STILLWATCH_FULL") == "1" ? 2000 : 30;

    private static readonly Gen<SensorMoment> AnySensor = Gen.Select(Gen.Double[0, 5], Gen.Double[0, 4], Gen.Double[0, 0.1], Gen.Double[0, 20], Gen.Double[0, 6], Gen.Double[0, 1], Gen.Int[0, 19])
        .Select((motion, hertz, flicker, flickerHertz, ambient, slip, fate) =>
            fate < 8 ? default : new SensorMoment(fate % 2 == 0 ? motion : 0, hertz > 2 ? hertz : 0, fate % 3 == 0 ? flicker : 0, flickerHertz, fate % 5 == 0 ? ambient : 0, fate % 4 == 0 ? slip : 0, fate == 18, fate == 19));

    private static readonly Gen<PatientMoment> AnyPatient = Gen.Select(Gen.Double[50, 100], Gen.Double[0, 250], Gen.Double[0, 60], Gen.Double[0, 2], Gen.Double[0, 8])
        .Select((saturation, pulse, breaths, effort, perfusion) => new PatientMoment(saturation, saturation, saturation * 0.75, pulse, breaths, effort * 0.8, effort, perfusion, 100, 40));

    private static readonly Gen<(PatientMoment Patient, SensorMoment Sensor)[]> AnyStory = Gen.Select(AnyPatient, AnySensor).Array[2, 15];

    [Fact]
    public void The_same_seed_gives_the_same_light_to_the_last_count()
    {
        var trial = new SensorTrial { Seconds = 30, Sensor = new() { Motion = 1 } };
        var one = trial.Light(OpticalSensorSettings.Default, 51);
        var again = trial.Light(OpticalSensorSettings.Default, 51);
        var other = trial.Light(OpticalSensorSettings.Default, 52);
        Assert.Equal(one.Red(), again.Red());
        Assert.Equal(one.Infrared(), again.Infrared());
        Assert.Equal(one.BeatSeconds, again.BeatSeconds);
        Assert.NotEqual(one.Infrared(), other.Infrared());
        Assert.NotEqual(one.BeatSeconds, other.BeatSeconds);
    }

    [Fact]
    public void Light_taken_second_by_second_is_the_light_taken_at_once()
    {
        Gen.Select(AnyStory, Gen.ULong).Sample((story, seed) =>
        {
            var whole = Record(story, seed);
            var sensor = new OpticalSensor(OpticalSensorSettings.Default, seed);
            var red = new List<double>();
            var (beats, breaths) = (new List<double>(), new List<double>());
            for (int s = 0; s < story.Length; s++)
            {
                // Spans longer than a second, as a caller with a larger buffer has: what lies behind the second stays untouched.
                var (redSecond, infraredSecond, truth, disturbances) = (new int[200], new int[200], new double[200], new Disturbances[200]);
                Array.Fill(redSecond, -7);
                sensor.Second(story[s].Patient, story[Math.Min(s + 1, story.Length - 1)].Patient, story[s].Sensor, new LightSecond
                {
                    Red = redSecond,
                    Infrared = infraredSecond,
                    SaturationPercent = truth,
                    Disturbances = disturbances,
                    Beats = beats,
                    Breaths = breaths,
                });
                Assert.All(redSecond[125..], c => Assert.Equal(-7, c));
                red.AddRange(redSecond.Take(125).Select(c => c == int.MinValue ? double.NaN : c));
            }

            Assert.Equal(whole.Red(), red);
            Assert.Equal(whole.BeatSeconds, beats.Where(b => b <= (125 * story.Length - 1) / 125.0));
            Assert.Equal(whole.BreathSeconds, breaths);
        }, iter: Stories);
    }

    [Fact]
    public void What_comes_later_changes_nothing_of_what_was()
    {
        Gen.Select(AnyStory, AnyStory, Gen.ULong).Sample((story, later, seed) =>
        {
            var shorter = Record(story, seed);
            var longer = Record([.. story, .. later], seed);
            int same = 125 * (story.Length - 1); // the last second leads to another moment
            Assert.Equal(shorter.Infrared()[..same], longer.Infrared()[..same]);
            Assert.Equal(shorter.Red()[..same], longer.Red()[..same]);
            Assert.Equal(shorter.Disturbances.Take(same), longer.Disturbances.Take(same));
            double until = story.Length - 1;
            Assert.Equal(shorter.BeatSeconds.Where(b => b < until), longer.BeatSeconds.Where(b => b < until));
        }, iter: Stories);
    }

    [Fact]
    public void Any_story_gives_counts_in_range_and_beats_in_order()
    {
        Gen.Select(AnyStory, Gen.ULong).Sample((story, seed) =>
        {
            var light = Record(story, seed);
            Assert.All(light.Infrared().Concat(light.Red()).Where(c => !double.IsNaN(c)), c => Assert.InRange(c, 0, 262_143));
            Assert.True(light.BeatSeconds.Zip(light.BeatSeconds.Skip(1)).All(p => p.Second > p.First));
            Assert.True(light.BreathSeconds.Zip(light.BreathSeconds.Skip(1)).All(p => p.Second > p.First));
            Assert.All(light.BeatSeconds, b => Assert.InRange(b, 0, story.Length));
        }, iter: Stories);
    }

    [Fact]
    public void A_long_night_takes_no_more_memory_than_a_short_one()
    {
        var sensor = new OpticalSensor(OpticalSensorSettings.Default, 53);
        var (red, infrared, truth, disturbances) = (new int[125], new int[125], new double[125], new Disturbances[125]);
        var (beats, breaths) = (new List<double>(16), new List<double>(16));
        var patient = new SensorTrial().Moments()[0];
        Pass(50);
        long before = GC.GetAllocatedBytesForCurrentThread();
        Pass(500);
        Assert.Equal(0, GC.GetAllocatedBytesForCurrentThread() - before);

        void Pass(int seconds)
        {
            for (int s = 0; s < seconds; s++)
            {
                beats.Clear();
                breaths.Clear();
                sensor.Second(patient, patient, new SensorMoment { Motion = s % 2, Slip = 0.1 }, new LightSecond
                {
                    Red = red,
                    Infrared = infrared,
                    SaturationPercent = truth,
                    Disturbances = disturbances,
                    Beats = beats,
                    Breaths = breaths,
                });
            }
        }
    }

    [Fact]
    public void A_moment_that_no_patient_has_is_refused_with_what_was_found_and_expected()
    {
        var moments = new SensorTrial { Seconds = 5 }.Moments();
        moments[3] = moments[3] with { SiteSaturationPercent = double.NaN };
        var error = Assert.Throws<ArgumentException>(() => RehearsalLight.Record(moments, new SensorMoment[5], OpticalSensorSettings.Default, 1));
        Assert.Contains("Second 2, SiteSaturationPercent: found NaN, expected 0 to 100", error.Message, StringComparison.Ordinal); // it is where second 2 leads to
        Assert.Throws<ArgumentException>(() => new SensorTrial { Seconds = 5, Sensor = new() { Slip = 1.5 } }.Light(OpticalSensorSettings.Default, 1));
        Assert.Throws<ArgumentException>(() => new SensorTrial { PulseRatePerMinute = -1 }.Light(OpticalSensorSettings.Default, 1));
        Assert.Throws<ArgumentException>(() => RehearsalLight.Record([], [], OpticalSensorSettings.Default, 1));
        Assert.Throws<ArgumentException>(() => RehearsalLight.Record(new SensorTrial { Seconds = 5 }.Moments(), new SensorMoment[4], OpticalSensorSettings.Default, 1));
    }

    [Fact]
    public void Settings_of_no_sensor_are_refused()
    {
        var error = Assert.Throws<ArgumentOutOfRangeException>(() => new OpticalSensor(OpticalSensorSettings.Default with { Bits = 25 }, 1));
        Assert.Contains("Bits: found 25, expected 8 to 24", error.Message, StringComparison.Ordinal);
        Assert.Throws<ArgumentOutOfRangeException>(() => new OpticalSensor(OpticalSensorSettings.Default with { NoisePercent = double.NaN }, 1));
        Assert.Throws<ArgumentOutOfRangeException>(() => new OpticalSensor(OpticalSensorSettings.Default with { SamplesPerSecond = 10 }, 1));
        Assert.Throws<ArgumentOutOfRangeException>(() => new OpticalSensor(OpticalSensorSettings.Default with { Shape = PulseShape.Adult with { RiseShare = 0 } }, 1));
        Assert.Throws<ArgumentOutOfRangeException>(() => new OpticalSensor(OpticalSensorSettings.Default with { Blood = (BloodTable)9 }, 1));
    }

    private static RehearsedLight Record((PatientMoment Patient, SensorMoment Sensor)[] story, ulong seed) =>
        RehearsalLight.Record([.. story.Select(s => s.Patient)], [.. story.Select(s => s.Sensor)], OpticalSensorSettings.Default, seed);
}
