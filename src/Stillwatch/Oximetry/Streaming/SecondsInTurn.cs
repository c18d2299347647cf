using System.Numerics.Tensors;
using Stillwatch.Oximetry.Breathing;
using Stillwatch.Oximetry.States;

namespace Stillwatch.Oximetry.Streaming;

/// <summary>Judges the seconds one after another, each a fixed time after it came: its samples, its beats, then what is said of it.</summary>
internal sealed class SecondsInTurn
{
    private readonly StreamInput input;
    private readonly OximetrySettings settings;
    private readonly SecondGrid grid;
    private readonly Timeline timeline;
    private readonly FoundPulses found;
    private readonly IOximetrySink sink;
    private readonly LightJudge judge;
    private readonly BeatBoard board;
    private readonly BreathingRate breathing;
    private readonly Presence[] presence;
    private readonly double[][] present;
    private readonly int bandSamples;
    private long next;
    private long lastWithSamples = -1;
    private long settledSince;

    public SecondsInTurn(StreamInput input, OximetrySettings settings, SecondGrid grid, Timeline timeline, FoundPulses found, IOximetrySink sink, int bandSamples, int latencySeconds)
    {
        this.input = input;
        this.settings = settings;
        this.grid = grid;
        this.timeline = timeline;
        this.found = found;
        this.sink = sink;
        this.bandSamples = bandSamples;
        LatencySeconds = latencySeconds;
        double averagingSeconds = settings.Averaging.Seconds;
        judge = new LightJudge(grid.RateHz, input.IsLight, input.HasRed, averagingSeconds);
        board = new BeatBoard(averagingSeconds);
        breathing = new BreathingRate(settings.BreathingWindow.Seconds, sink);
        presence = new Presence[latencySeconds + 2];
        present = [.. Enumerable.Range(0, 4).Select(_ => new double[grid.MostInASecond])];
    }

    /// <summary>Samples of a second that are numbers, and those that are numbers but no light.</summary>
    private readonly record struct Presence(int Numbers, int Dark);

    public int LatencySeconds { get; }

    /// <summary>The next second has come, and all of it was taken in.</summary>
    public void Came(long second, ReadOnlySpan<double> pulse)
    {
        presence[second % presence.Length] = Count(pulse);
        if (second - LatencySeconds >= next) Judge(next++);
    }

    /// <summary>So many seconds came in all; those still due are judged.</summary>
    /// <param name="seconds">Number of seconds that have begun.</param>
    /// <param name="endSeconds">Where the last sample's time is over.</param>
    public void End(long seconds, double endSeconds)
    {
        while (next < seconds) Judge(next++);
        breathing.End(endSeconds);
    }

    private Presence Count(ReadOnlySpan<double> pulse)
    {
        int numbers = 0, dark = 0;
        foreach (double value in pulse)
        {
            if (!double.IsFinite(value)) continue;
            numbers++;
            if (value <= 0) dark++;
        }

        return new Presence(numbers, input.IsLight ? dark : 0);
    }

    private void Judge(long second)
    {
        long from = grid.FirstIndexOf(second), to = grid.FirstIndexOf(second + 1);
        timeline.SkipTo(to);
        bool has = TakeSamples(second, from, (int)(to - from));
        while (found.Count > 0 && found.First.Upstroke < to)
        {
            TakePulse(found.First);
            found.RemoveFirst();
        }

        breathing.PassTo(second + 1);
        var was = presence[second % presence.Length];
        SecondReading reading;
        if (has) reading = Reading(second);
        else if (2 * was.Dark >= to - from) reading = new(double.NaN, double.NaN, double.NaN, double.NaN, 0, LightState.SensorOff);
        else reading = new(double.NaN, double.NaN, double.NaN, double.NaN, was.Numbers > 0 ? 0 : double.NaN, LightState.NoSamples);
        sink.Take(checked((int)second), reading);
    }

    private SecondReading Reading(long second)
    {
        var judged = judge.JudgeSecond(second + 1);
        double rate = judged.State == LightState.Valid ? PulseRate.Of(board.IntervalsUpTo(second + 1)) : double.NaN;
        if (double.IsNaN(rate))
        {
            var state = judged.State;
            if (state == LightState.Valid) state = second - settledSince < settings.Averaging.Seconds ? LightState.Settling : LightState.Weak;
            return new(double.NaN, double.NaN, double.NaN, double.NaN, judged.Quality, state);
        }

        double spo2 = settings.Curve.SaturationPercent(judged.Ratio);
        return new(rate, spo2, double.IsNaN(spo2) ? double.NaN : judged.Ratio, judged.PerfusionPercent, judged.Quality, LightState.Valid);
    }

    /// <summary>Gives the judge the samples that are in a segment; false where they are fewer than half.</summary>
    private bool TakeSamples(long second, long from, int length)
    {
        var pulse = timeline.Pulse.Slice(from, length);
        var rawPulse = timeline.RawPulse.Slice(from, length);
        ReadOnlySpan<double> red = timeline.Red is null ? default : timeline.Red.Slice(from, length);
        ReadOnlySpan<double> rawRed = timeline.RawRed is null ? default : timeline.RawRed.Slice(from, length);
        if (double.IsNaN(TensorPrimitives.Sum(pulse)))
        {
            int kept = 0;
            for (int i = 0; i < length; i++)
            {
                if (double.IsNaN(pulse[i])) continue;
                present[0][kept] = rawPulse[i];
                present[1][kept] = pulse[i];
                if (!red.IsEmpty)
                {
                    present[2][kept] = rawRed[i];
                    present[3][kept] = red[i];
                }

                kept++;
            }

            if (2 * kept < length) return false;
            rawPulse = present[0].AsSpan(0, kept);
            pulse = present[1].AsSpan(0, kept);
            rawRed = red.IsEmpty ? default : present[2].AsSpan(0, kept);
            red = red.IsEmpty ? default : present[3].AsSpan(0, kept);
        }

        if (second - lastWithSamples > settings.Averaging.Seconds || lastWithSamples < 0)
        {
            judge.Reset();
            board.Clear();
            settledSince = second;
        }

        lastWithSamples = second;
        bool hasRed = !red.IsEmpty && !double.IsNaN(TensorPrimitives.Sum(rawRed));
        judge.TakeSecond(rawPulse, hasRed ? rawRed : default, pulse, hasRed ? red : default);
        return true;
    }

    private void TakePulse(in FoundPulse pulse)
    {
        int length = (int)(pulse.EndIndex - pulse.TroughIndex) + 1, peak = (int)(pulse.PeakIndex - pulse.TroughIndex);
        var raw = timeline.RawPulse.Slice(pulse.TroughIndex, length);
        bool hasRed = timeline.Red is not null && IsRedWhole(pulse);
        double upstroke = grid.SecondsAt(pulse.Upstroke);
        var judged = judge.TakeBeat(new BeatCut
        {
            UpstrokeSeconds = upstroke,
            PeakIndex = peak,
            Pulse = timeline.Pulse.Slice(pulse.TroughIndex, length),
            Red = hasRed ? timeline.Red!.Slice(pulse.TroughIndex, length) : default,
            RawPulse = raw,
            RawRed = hasRed ? timeline.RawRed!.Slice(pulse.TroughIndex, length) : default,
        });
        if (!(judged.Amplitude > 0)) return;
        double baseline = TensorPrimitives.Sum(raw[..^1]) / (length - 1);
        var beat = new Beat(
            upstroke, grid.SecondsAt(pulse.TroughIndex), grid.SecondsAt(pulse.PeakIndex), judged.Amplitude, baseline, input.IsLight ? judged.Ratio : double.NaN, judged.Quality);
        board.Add(beat, pulse.SegmentFirstIndex);
        breathing.Take(beat);
        sink.Take(beat);
    }

    /// <summary>Whether no red sample is missing that the band-pass looked at for this pulse.</summary>
    private bool IsRedWhole(in FoundPulse pulse)
    {
        var raw = timeline.RawRed!;
        long from = Math.Max(Math.Max(raw.StartIndex, pulse.SegmentFirstIndex), pulse.TroughIndex - bandSamples);
        long to = Math.Min(raw.EndIndex, pulse.EndIndex + bandSamples + 1);
        return !double.IsNaN(TensorPrimitives.Sum(raw.Slice(from, (int)(to - from))));
    }
}
