using Stillwatch.Oximetry;
using Stillwatch.Reports.Model;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Reports.Tests.Samples;

/// <summary>Light drawn by a formula, with numbers and states put beside it by hand: what a page shows, not what the chain finds.</summary>
internal static class InventedLight
{
    private const int RateHz = 125;
    private const double BeatSeconds = 0.8;

    /// <summary>Ten minutes: settling, motion from 200 to 240 s, sensor off from 400 to 430 s, no samples from 500 to 520 s, a fall of SpO2 in between.</summary>
    public static LightReportModel Page(int seconds = 600, bool red = true, RecordingStart? start = null) => new()
    {
        Title = "invented.csv: numbers derived from light",
        IsInvented = true,
        Light = Section(seconds, red, start),
        Cautions = ["Derived by Stillwatch from light with a named textbook curve: not the monitor's reading, and not for diagnosis.", "A second caution."],
        Provenance = new Provenance { Software = "Stillwatch 0.1.0", Inputs = [new InputFile("invented.csv", new string('b', 64), 3)] },
    };

    public static LightSection Section(int seconds = 600, bool red = true, RecordingStart? start = null)
    {
        var times = TimeAxis.Even(default, SampleRate.Of(RateHz, 1000), seconds * RateHz);
        var channels = new List<Channel> { Light("IR", red ? ChannelKind.InfraredLight : ChannelKind.Pleth, times, 52_000, 600, red ? -1 : 1) };
        if (red) channels.Add(Light("RED", ChannelKind.RedLight, times, 38_000, 260, -1));
        var derived = Derived(seconds, red);
        return new LightSection
        {
            Recording = new Recording("invented.csv", start ?? new RecordingStart.Unknown(), channels, SourceAveraging.Unknown, []),
            Derived = derived,
            Summary = DerivedSummary.Of(derived),
            Detector = "default",
        };
    }

    public static DerivedRecording Derived(int seconds, bool red) => new()
    {
        Plan = new OpticalPlan
        {
            PulseLabel = "IR",
            RedLabel = red ? "RED" : null,
            FallsWithBlood = red,
            IsLight = red,
            Rate = SampleRate.Of(RateHz, 1000),
            Candidates = [new ChannelCandidate("IR", 0.93, true, "the clearest pulse"), new ChannelCandidate("RED", red ? 0.88 : 0.2, red, red ? "its label says red light" : "the pulse is less clear")],
        },
        Settings = new OximetrySettings(),
        Start = default,
        Beats = [.. Enumerable.Range(0, (int)(seconds / BeatSeconds)).Select(i => BeatAt(i, red)).Where(b => StateAt((int)b.UpstrokeSeconds) is LightState.Valid or LightState.Settling or LightState.Motion)],
        Seconds = [.. Enumerable.Range(0, seconds).Select(s => ReadingAt(s, red))],
        Breathing = [.. Enumerable.Range(0, seconds / 32).Select(w => new BreathingReading(w * 32, 32, w is 6 or 7 or 13 ? double.NaN : 14 + w % 3, 14, 15, double.NaN))],
    };

    public static LightState StateAt(int second) => second switch
    {
        < 4 => LightState.Settling,
        >= 200 and < 212 or >= 215 and < 240 => LightState.Motion,
        >= 240 and < 244 => LightState.Weak,
        >= 400 and < 430 => LightState.SensorOff,
        >= 500 and < 520 => LightState.NoSamples,
        >= 520 and < 524 => LightState.Settling,
        _ => LightState.Valid,
    };

    private static SecondReading ReadingAt(int second, bool red)
    {
        var state = StateAt(second);
        double quality = state switch { LightState.NoSamples => double.NaN, LightState.Valid => 0.93 - 0.05 * (second % 7) / 7, LightState.Motion => 0.3, _ => 0.1 };
        if (state != LightState.Valid) return new SecondReading(double.NaN, double.NaN, double.NaN, double.NaN, quality, state);
        double spO2 = 96.5 - 11 * Math.Exp(-Math.Pow((second - 300) / 40.0, 2));
        return new SecondReading(75 + 4 * Math.Sin(second / 40.0), red ? spO2 : double.NaN, red ? (110 - spO2) / 25 : double.NaN, red ? 1.2 + 0.3 * Math.Sin(second / 90.0) : double.NaN, quality, state);
    }

    private static Beat BeatAt(int index, bool red)
    {
        double upstroke = index * BeatSeconds + 0.1;
        return new Beat(upstroke, upstroke - 0.1, upstroke + 0.13, 0.0118, 52_000, red ? 0.55 + 0.02 * (index % 3) : double.NaN, 0.9);
    }

    // A pulse that rises fast and falls slowly with a second, smaller wave, on a breath; in motion it wanders, off it is flat.
    private static Channel Light(string label, ChannelKind kind, TimeAxis times, double level, double amplitude, int sign)
    {
        var values = Enumerable.Range(0, times.Count).Select(i =>
        {
            double t = (double)i / RateHz;
            var state = StateAt((int)t);
            if (state == LightState.NoSamples) return (int?)null;
            if (state == LightState.SensorOff) return (int)(level * 1.6);
            double phase = t / BeatSeconds - Math.Floor(t / BeatSeconds);
            double pulse = Math.Exp(-Math.Pow((phase - 0.28) / 0.13, 2)) + 0.35 * Math.Exp(-Math.Pow((phase - 0.62) / 0.12, 2));
            double wander = state == LightState.Motion ? 3 * Math.Sin(t * 5.1) + 2 * Math.Sin(t * 11.7) : 0.25 * Math.Sin(t * 1.5);
            return (int)(level + sign * amplitude * (pulse + wander));
        });
        return new Channel(label, kind, "", times, CountColumn.Of(Calibration.Counts, values));
    }
}
