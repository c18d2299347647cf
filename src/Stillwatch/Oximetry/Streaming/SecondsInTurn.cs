using System.Numerics.Tensors;
using Stillwatch.Oximetry.Breathing;
using Stillwatch.Oximetry.States;

namespace Stillwatch.Oximetry.Streaming;

/// <summary>
/// Judges the seconds one after another: a second's samples and beats are taken once all its beats are known, and it is judged when the beats of the
/// averaging window around it have been taken as well.
/// </summary>
internal sealed class SecondsInTurn
{
    /// <summary>After so many seconds without light it may be another finger: what was learnt of the pulse is forgotten. Own choice.</summary>
    public const int ForgetAfterSeconds = 4;

    private readonly StreamInput input;
    private readonly OximetrySettings settings;
    private readonly SecondGrid grid;
    private readonly Timeline timeline;
    private readonly FoundPulses found;
    private readonly IOximetrySink sink;
    private readonly LightJudge judge;
    private readonly BeatBoard board = new();
    private readonly BreathingRate breathing;
    private readonly Presence[] presence;
    private readonly double[][] present;
    private readonly double halfWindow;
    private readonly int bandSamples, takenLate, judgedLater;
    private long nextTaken, nextJudged, lastTaken;

    /// <param name="input">What comes.</param>
    /// <param name="settings">What is asked of it.</param>
    /// <param name="grid">Of the seconds.</param>
    /// <param name="timeline">Where the samples are.</param>
    /// <param name="found">Where the pulses come from.</param>
    /// <param name="sink">Where the readings go.</param>
    /// <param name="bandSamples">How far the band-pass looks.</param>
    /// <param name="takenLate">Seconds from a second's end until all its beats are certain.</param>
    public SecondsInTurn(StreamInput input, OximetrySettings settings, SecondGrid grid, Timeline timeline, FoundPulses found, IOximetrySink sink, int bandSamples, int takenLate)
    {
        this.input = input;
        this.settings = settings;
        this.grid = grid;
        this.timeline = timeline;
        this.found = found;
        this.sink = sink;
        this.bandSamples = bandSamples;
        this.takenLate = takenLate;
        halfWindow = settings.Averaging.Seconds / 2;
        judgedLater = (int)Math.Ceiling(halfWindow - 0.5);
        judge = new LightJudge(grid.RateHz, input.IsLight, input.HasRed, settings.Averaging.Seconds);
        breathing = new BreathingRate(settings.BreathingWindow.Seconds, sink);
        presence = new Presence[LatencySeconds + 2];
        present = [.. Enumerable.Range(0, 4).Select(_ => new double[grid.MostInASecond])];
    }

    /// <summary>Of a second: samples that are numbers, those of them that are no light, and whether enough lie in segments.</summary>
    private record struct Presence(int Numbers, int Dark, bool IsTaken);

    public int LatencySeconds => takenLate + judgedLater;

    /// <summary>The next second has come, and all of it was taken in.</summary>
    public void Came(long second, ReadOnlySpan<double> pulse)
    {
        presence[second % presence.Length] = Count(pulse);
        if (second - takenLate < nextTaken) return;
        Take(nextTaken++);
        if (nextTaken - judgedLater > nextJudged) Judge(nextJudged++);
    }

    /// <summary>So many seconds came in all; those still due are judged.</summary>
    /// <param name="seconds">Number of seconds that have begun.</param>
    /// <param name="endSeconds">Where the last sample's time is over.</param>
    public void End(long seconds, double endSeconds)
    {
        while (nextTaken < seconds) Take(nextTaken++);
        while (nextJudged < seconds) Judge(nextJudged++);
        breathing.End(endSeconds);
    }

    private void Take(long second)
    {
        long from = grid.FirstIndexOf(second), to = grid.FirstIndexOf(second + 1);
        timeline.SkipTo(to);
        bool isTaken = TakeSamples(second, from, (int)(to - from));
        presence[second % presence.Length].IsTaken = isTaken;
        if (isTaken)
        {
            lastTaken = second;
        }
        else if (second - lastTaken == ForgetAfterSeconds)
        {
            while (nextJudged < second) Judge(nextJudged++); // what comes after the gap tells nothing of them
            judge.Reset();
            board.Clear();
        }

        while (found.Count > 0 && found.First.Upstroke < to)
        {
            // What is found only after its second was told can be told no more. No patient's light does that; samples without any order do.
            if (found.First.Upstroke >= from) TakePulse(found.First);
            found.RemoveFirst();
        }

        breathing.PassTo(second + 1);
    }

    private void Judge(long second)
    {
        var was = presence[second % presence.Length];
        SecondReading reading;
        if (was.IsTaken) reading = Reading(second);
        else if (2 * was.Dark > was.Numbers) reading = new(double.NaN, double.NaN, double.NaN, double.NaN, 0, LightState.SensorOff);
        else reading = new(double.NaN, double.NaN, double.NaN, double.NaN, was.Numbers > 0 ? 0 : double.NaN, LightState.NoSamples);
        sink.Take(checked((int)second), reading);
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

        return new Presence(numbers, input.IsLight ? dark : 0, false);
    }

    private SecondReading Reading(long second)
    {
        double from = second + 0.5 - halfWindow, to = second + 0.5 + halfWindow;
        var judged = judge.JudgeSecond(second, from, to);
        double rate = judged.State == LightState.Valid ? PulseRate.Of(board.Intervals(from, to)) : double.NaN;
        if (double.IsNaN(rate))
        {
            var state = judged.State == LightState.Valid ? LightState.Weak : judged.State;
            return new(double.NaN, double.NaN, double.NaN, double.NaN, judged.Quality, state);
        }

        double spo2 = settings.Curve.SaturationPercent(judged.Ratio);
        var shown = !input.HasRed || !double.IsNaN(spo2) ? LightState.Valid : double.IsNaN(judged.Ratio) ? LightState.NoRed : LightState.BeyondCurve;
        return new(rate, spo2, double.IsNaN(spo2) ? double.NaN : judged.Ratio, judged.PerfusionPercent, judged.Quality, shown);
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

        bool hasRed = !red.IsEmpty && !double.IsNaN(TensorPrimitives.Sum(rawRed));
        judge.TakeSecond(second, rawPulse, hasRed ? rawRed : default, pulse, hasRed ? red : default);
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
