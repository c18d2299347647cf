using Stillwatch.Quantities;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Rehearsal;

/// <summary>Composes one invented night from a profile: truth first, then what a sensor and its averaging make of it.</summary>
internal sealed class NightComposer
{
    private readonly RehearsalProfile profile;
    private readonly SeededRandom random;
    private readonly int seconds;
    private readonly double[] truth;
    private readonly double[] pulse;
    private readonly double[] sensorError; // percentage points that movement takes off the reading
    private readonly bool[] off;
    private readonly List<TruthEpisode> episodes = [];
    private readonly List<TimeSlice> taken = [];

    private NightComposer(RehearsalProfile profile, SeededRandom random, int seconds)
    {
        this.profile = profile;
        this.random = random;
        this.seconds = seconds;
        truth = new double[seconds];
        pulse = new double[seconds];
        sensorError = new double[seconds];
        off = new bool[seconds];
    }

    public static RehearsalNight Compose(RehearsalProfile profile, SeededRandom random, int seconds, string name, DateTime start, bool declines)
    {
        var composer = new NightComposer(profile, random, seconds);
        composer.Rest(declines);
        composer.SignificantEvents();
        composer.ShortDips();
        composer.Motions();
        composer.SensorOff();
        var recording = composer.Record(name, start);
        composer.episodes.Sort((a, b) => a.Span.Start.CompareTo(b.Span.Start));
        return new RehearsalNight(recording, composer.truth, composer.episodes);
    }

    /// <summary>Saturation and pulse wander about their means (first-order autoregression, 5 and 2 min memory).</summary>
    private void Rest(bool declines)
    {
        double saturationOffset = 0, pulseOffset = 0;
        double keepSlow = Math.Exp(-1.0 / 300), keepFast = Math.Exp(-1.0 / 120);
        int declineFrom = seconds / 2;
        for (int t = 0; t < seconds; t++)
        {
            saturationOffset = saturationOffset * keepSlow + profile.Wander * Math.Sqrt(1 - keepSlow * keepSlow) * random.Normal();
            pulseOffset = pulseOffset * keepFast + 4 * Math.Sqrt(1 - keepFast * keepFast) * random.Normal();
            double decline = declines && t > declineFrom ? profile.DeclinePerHour * (t - declineFrom) / 3600 : 0;
            truth[t] = Math.Min(99.5, profile.Saturation + saturationOffset - decline);
            pulse[t] = profile.PulseRate + pulseOffset + decline * 2;
        }

        if (declines && profile.DeclinePerHour > 0) episodes.Add(new TruthEpisode(TruthKind.SlowDecline, Slice(declineFrom, seconds - declineFrom)));
    }

    private void SignificantEvents()
    {
        for (int i = 0; i < profile.SignificantPerNight; i++)
        {
            double nadir = random.Between(profile.SignificantNadir.Low, profile.SignificantNadir.High);
            double fall = (profile.Saturation - nadir) / random.Between(0.2, 0.6);
            double hold = random.Between(profile.SignificantHoldSeconds.Low, profile.SignificantHoldSeconds.High);
            double rise = random.Between(12, 35);
            int length = (int)(fall + hold + rise);
            if (Place(length, apartSeconds: 240) is not { } at) continue;
            Dip(at, nadir, fall, hold, rise);
            episodes.Add(new TruthEpisode(TruthKind.SignificantDesaturation, Slice(at, length)));
        }
    }

    private void ShortDips()
    {
        int count = (int)Math.Round(profile.ShortDipsPerHour * seconds / 3600 * random.Between(0.8, 1.2));
        for (int i = 0; i < count; i++)
        {
            double nadir = random.Between(85.5, 89.2);
            double fall = random.Between(8, 20), hold = random.Between(2, 14), rise = random.Between(5, 12);
            int length = (int)(fall + hold + rise);
            if (Place(length, apartSeconds: 20) is not { } at) continue;
            Dip(at, nadir, fall, hold, rise);
            episodes.Add(new TruthEpisode(TruthKind.ShortDip, Slice(at, length)));
        }
    }

    private void Motions()
    {
        int count = (int)Math.Round(profile.MotionsPerHour * seconds / 3600 * random.Between(0.8, 1.2));
        for (int i = 0; i < count; i++)
        {
            int length = (int)random.Between(12, 45);
            if (Place(length, apartSeconds: 20) is not { } at) continue;
            double depth = random.Between(4, 13);
            for (int t = 0; t < length; t++)
            {
                sensorError[at + t] = Math.Max(sensorError[at + t], depth * Math.Sin(Math.PI * (t + 0.5) / length));
                pulse[at + t] += 18 * random.Normal();
            }

            episodes.Add(new TruthEpisode(TruthKind.Motion, Slice(at, length)));
        }
    }

    private void SensorOff()
    {
        for (int i = 0; i < profile.SensorOffPerNight; i++)
        {
            int length = (int)random.Between(20, 400);
            if (Place(length, apartSeconds: 60) is not { } at) continue;
            Array.Fill(off, true, at, length);
            episodes.Add(new TruthEpisode(TruthKind.SensorOff, Slice(at, length)));
        }
    }

    /// <summary>A free place of some length, clear of what is already there; null when the night is too full.</summary>
    private int? Place(int length, int apartSeconds)
    {
        for (int attempt = 0; attempt < 60; attempt++)
        {
            int at = 300 + random.Index(Math.Max(1, seconds - length - 600));
            var wide = Slice(at - apartSeconds, length + 2 * apartSeconds);
            if (taken.Exists(t => t.Overlaps(wide))) continue;
            taken.Add(Slice(at, length));
            return at;
        }

        return null;
    }

    private void Dip(int at, double nadir, double fall, double hold, double rise)
    {
        int length = (int)(fall + hold + rise);
        for (int t = 0; t < length; t++)
        {
            double share = t < fall ? t / fall : t < fall + hold ? 1 : 1 - (t - fall - hold) / rise;
            double here = truth[at + t];
            truth[at + t] = here + (nadir + (here - profile.Saturation) * 0.3 - here) * share;
            pulse[at + t] += profile.PulseResponse * share;
        }
    }

    /// <summary>What comes out of the monitor: averaged, with movement, noise and dropouts, in whole numbers, zero when the sensor is off.</summary>
    private Recording Record(string name, DateTime start)
    {
        var spo2 = new ValueColumn.Builder();
        var pulseRate = new ValueColumn.Builder();
        var perfusion = new ValueColumn.Builder();
        double sum = 0, noise = 0, logPerfusion = 0;
        int window = profile.SourceAveragingSeconds;
        for (int t = 0; t < seconds; t++)
        {
            sum += truth[t] - sensorError[t] - (t >= window ? truth[t - window] - sensorError[t - window] : 0);
            noise = 0.9 * noise + 0.12 * random.Normal();
            logPerfusion = 0.995 * logPerfusion + 0.03 * random.Normal();
            double shown = Math.Clamp(sum / Math.Min(t + 1, window) + noise, 1, 100);
            double heldPulse = Math.Clamp(pulse[t], 30, 240);
            double index = Math.Clamp(profile.Perfusion * Math.Exp(logPerfusion), 0.05, 20);
            spo2.Add(off[t] ? 0 : FixedPoint.RoundToWhole((int)(shown * FixedPoint.One)));
            pulseRate.Add(off[t] ? 0 : FixedPoint.RoundToWhole((int)(heldPulse * FixedPoint.One)));
            perfusion.Add(off[t] ? ValueColumn.Missing : (int)Math.Round(index * 100) * 10_000);
        }

        var times = TimeAxis.Even(default, new Duration(1000), seconds);
        return new Recording(
            name,
            new RecordingStart.Local(start),
            [
                new Channel("SpO2", ChannelKind.SpO2, "%", times, spo2.Build()),
                new Channel("Pulse", ChannelKind.PulseRate, "/min", times, pulseRate.Build()),
                new Channel("PI", ChannelKind.PerfusionIndex, "%", times, perfusion.Build()),
            ],
            new SourceAveraging(Duration.FromSeconds(profile.SourceAveragingSeconds)),
            []);
    }

    private static TimeSlice Slice(int startSecond, int lengthSeconds) =>
        new(new SampleTime(startSecond * 1000L), new SampleTime((startSecond + lengthSeconds) * 1000L));
}
