using Stillwatch.Dsp;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Oximetry.Feed;

/// <summary>Rows of uneven times, interpolated onto an even grid; each channel by its own numbers.</summary>
internal sealed class ResampledRows
{
    /// <summary>A step longer than so many median steps is a gap: between more rows than that a pulse's upstroke would be invented.</summary>
    private const double LongestInSteps = 4;

    private readonly IFrameSink sink;
    private readonly EvenResampler pulse;
    private readonly EvenResampler? red;
    private readonly double[] pulseFrames = new double[TimeAxis.ChunkLength];
    private readonly double[] redFrames;
    private readonly LeftOutError error;
    private readonly RowJoiner rows;
    private int frames;
    private long given, gap, missing;

    private ResampledRows(GridChoice choice, bool hasRed, IFrameSink sink)
    {
        this.sink = sink;
        double longest = LongestInSteps * choice.StepMilliseconds / 1000;
        pulse = new EvenResampler(choice.Rate.Hertz, longest);
        red = hasRed ? new EvenResampler(choice.Rate.Hertz, longest) : null;
        redFrames = hasRed ? new double[TimeAxis.ChunkLength] : [];
        error = new LeftOutError(longest);
        rows = new RowJoiner(choice.StepMilliseconds / 4000.0);
    }

    public static FeedSummary Run(Channel pulse, Channel? red, GridChoice choice, IFrameSink sink)
    {
        var run = new ResampledRows(choice, red is not null, sink);
        var times = PairedAxes.Longer(pulse, red);
        var milliseconds = new long[TimeAxis.ChunkLength];
        var pulseValues = new double[TimeAxis.ChunkLength];
        var redValues = new double[TimeAxis.ChunkLength];
        for (int chunk = 0; chunk < times.ChunkCount; chunk++)
        {
            int length = times.CopyChunk(chunk, milliseconds);
            ChannelChunks.CopyPair(pulse, red, chunk, pulseValues, redValues);
            for (int i = 0; i < length; i++)
            {
                if (run.rows.Add((milliseconds[i] - choice.Start.Milliseconds) / 1000.0, pulseValues[i], redValues[i], out var row)) run.Take(row);
            }
        }

        if (run.rows.End(out var lastRow)) run.Take(lastRow);
        return run.End(choice);
    }

    private void Take(JoinedRow row)
    {
        pulse.Take(row.Seconds, row.Pulse);
        red?.Take(row.Seconds, row.Red);
        error.Take(row.Seconds, row.Pulse);
        Drain();
    }

    private FeedSummary End(GridChoice choice)
    {
        pulse.End();
        red?.End();
        Drain();
        FlushFrames();
        FlushGap();
        return new FeedSummary(
            choice.Rate, choice.Start, given, missing, FeedGrid.Resampled, double.NaN, rows.Joined,
            new ResamplingReport(choice.Rate.Hertz, error.GreatestStepSeconds, error.RelativeError) { JoinedRows = rows.Joined, CountedHz = choice.CountedHz });
    }

    private void Drain()
    {
        long certain = red is null ? pulse.Certain : Math.Min(pulse.Certain, red.Certain);
        while (given < certain)
        {
            double p = pulse[given], r = red?[given] ?? double.NaN;
            if (double.IsNaN(p) && double.IsNaN(r))
            {
                // Nothing can be drawn before the next row, so of a gap of any length only its end needs looking at.
                FlushFrames();
                long run = RunWithout(certain);
                (gap, missing, given) = (gap + run, missing + run, given + run);
                continue;
            }

            FlushGap();
            pulseFrames[frames] = p;
            if (red is not null) redFrames[frames] = r;
            given++;
            if (++frames == pulseFrames.Length) FlushFrames();
        }
    }

    private long RunWithout(long certain)
    {
        long drawn = Math.Max(pulse.Drawn, red?.Drawn ?? 0);
        if (drawn <= given) return certain - given;
        long to = given + 1;
        while (to < certain && double.IsNaN(pulse[to]) && double.IsNaN(red?[to] ?? double.NaN)) to++;
        return to - given;
    }

    private void FlushFrames()
    {
        if (frames > 0) sink.Take(pulseFrames.AsSpan(0, frames), red is null ? [] : redFrames.AsSpan(0, frames));
        frames = 0;
    }

    private void FlushGap()
    {
        if (gap > 0) sink.TakeGap(gap);
        gap = 0;
    }
}
