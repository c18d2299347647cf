namespace Stillwatch.Oximetry.Streaming;

/// <summary>Makes one reading of every second, from the beats of the averaging window around it.</summary>
internal sealed class Readings
{
    private readonly StreamInput input;
    private readonly OximetrySettings settings;
    private readonly BeatBoard board;
    private readonly IOximetrySink sink;
    private readonly double averagingSeconds;
    private readonly PulseRate pulseRate = new();
    private readonly int[] present;
    private double[] intervals = new double[64], ratios = new double[64];
    private long next;

    public Readings(StreamInput input, OximetrySettings settings, BeatBoard board, IOximetrySink sink)
    {
        this.input = input;
        this.settings = settings;
        this.board = board;
        this.sink = sink;
        averagingSeconds = settings.Averaging.Seconds;
        LatencySeconds = (int)Math.Ceiling(averagingSeconds / 2 + 4);
        present = new int[LatencySeconds + 2];
    }

    public int LatencySeconds { get; }

    public void SecondCame(long second, ReadOnlySpan<double> pulse, ReadOnlySpan<double> red)
    {
        int good = 0;
        foreach (double value in pulse) good += double.IsFinite(value) ? 1 : 0;
        present[second % present.Length] = good;
        if (second - LatencySeconds >= next) Give(next++);
    }

    public void End(long seconds)
    {
        while (next < seconds) Give(next++);
    }

    private void Give(long second)
    {
        double middle = second + 0.5, from = middle - averagingSeconds / 2, to = middle + averagingSeconds / 2;
        board.ForgetBefore(from - 10);
        int intervalCount = 0, ratioCount = 0;
        double amplitude = 0, last = double.NaN;
        int beatCount = 0;
        foreach (var beat in board.Beats)
        {
            if (beat.UpstrokeSeconds >= from && beat.UpstrokeSeconds < to)
            {
                if (beat.UpstrokeSeconds - last < Segment.LongestBeatSeconds) Put(ref intervals, ref intervalCount, beat.UpstrokeSeconds - last);
                if (!double.IsNaN(beat.Ratio)) Put(ref ratios, ref ratioCount, beat.Ratio);
                amplitude += beat.Amplitude;
                beatCount++;
            }

            last = beat.UpstrokeSeconds;
        }

        double rate = pulseRate.Of(intervals.AsSpan(0, intervalCount));
        bool hasSamples = present[second % present.Length] > 0, shown = hasSamples && !double.IsNaN(rate);
        double ratio = double.NaN;
        if (shown && ratioCount >= 3)
        {
            ratios.AsSpan(0, ratioCount).Sort();
            ratio = ratios[ratioCount / 2];
        }

        double spo2 = settings.Curve.SaturationPercent(ratio);
        double perfusion = shown && input.IsLight ? 100 * amplitude / beatCount : double.NaN;
        var state = !hasSamples ? LightState.NoSamples : shown ? LightState.Valid : LightState.Weak;
        sink.Take((int)second, new SecondReading(shown ? rate : double.NaN, spo2, double.IsNaN(spo2) ? double.NaN : ratio, perfusion, hasSamples ? (shown ? 1 : 0) : double.NaN, state));
    }

    private static void Put(ref double[] list, ref int count, double value)
    {
        if (count == list.Length) Array.Resize(ref list, list.Length * 2);
        list[count++] = value;
    }
}
