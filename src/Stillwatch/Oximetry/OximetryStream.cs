using Stillwatch.Oximetry.Beats;
using Stillwatch.Oximetry.Streaming;

namespace Stillwatch.Oximetry;

/// <summary>
/// Light in, beats and numerics out, second by second. Samples are gathered to whole seconds before anything is done with them, so that the cutting
/// in which they come changes nothing, not the last bit. Memory does not grow and nothing is allocated once it runs.
/// </summary>
/// <remarks>
/// The reading of a second tells of the averaging window around that second (half of it before, half after), and is given <see cref="LatencySeconds"/> after
/// the second's end: a bedside monitor that averages as long shows the same change half the window later. A value that is NaN, infinite or (of light) not
/// above zero is a missing sample. Holes of up to 0.1 s are bridged by a straight line, longer ones end the segment: the band-pass is mirrored at
/// its ends, beats on both sides stand, an interval across it does not. Perfusion is the band-passed trough-to-peak of −ln(infrared), which for
/// pulses of a few percent is that of the infrared light over its mean, × 100. Not safe for several threads.
/// </remarks>
[System.Diagnostics.CodeAnalysis.SuppressMessage("Naming", "CA1711", Justification = "A stream of samples, not of bytes: the word of the trade.")]
public sealed class OximetryStream
{
    public const double LeastAveragingSeconds = 2;

    public const double GreatestAveragingSeconds = 40;

    private readonly SecondGrid grid;
    private readonly Intake intake;
    private readonly SecondsInTurn seconds;
    private readonly bool hasRed;
    private readonly double[] pulseOfSecond, redOfSecond;
    private long second;
    private int gathered, wanted;
    private bool ended;

    /// <exception cref="ArgumentOutOfRangeException">The rate is not between 25 and 500 a second, or the averaging not between 2 and 40 s.</exception>
    public OximetryStream(StreamInput input, OximetrySettings settings, IOximetrySink sink)
    {
        ArgumentNullException.ThrowIfNull(input);
        ArgumentNullException.ThrowIfNull(settings);
        ArgumentNullException.ThrowIfNull(sink);
        double rateHz = input.Rate.Hertz;
        if (rateHz is < StreamInput.LeastRateHz or > StreamInput.GreatestRateHz)
            throw new ArgumentOutOfRangeException(nameof(input), rateHz, "Found a rate that is not between 25 and 500 samples a second.");
        if (settings.Averaging.Seconds is < LeastAveragingSeconds or > GreatestAveragingSeconds)
            throw new ArgumentOutOfRangeException(nameof(settings), settings.Averaging, $"Found an averaging that is not between {LeastAveragingSeconds} and {GreatestAveragingSeconds} s.");
        hasRed = input.HasRed;
        grid = new SecondGrid(input.Rate);
        var detector = BeatDetectors.Create(settings.Beats, rateHz);
        int latencyMost = (int)Math.Ceiling(detector.LatencySamples / rateHz + Segment.LongestPulseSeconds) + 4; // a rise, the band-pass, a bridge
        var timeline = new Timeline((latencyMost + 5) * grid.MostInASecond, hasRed);
        var found = new FoundPulses();
        var segment = new Segment(input, detector, timeline, found);
        intake = new Intake(input, segment);
        int takenLate = (int)Math.Ceiling((segment.LatencySamples + intake.BridgedSamples) / rateHz);
        seconds = new SecondsInTurn(input, settings, grid, timeline, found, sink, segment.BandSamples, takenLate);
        pulseOfSecond = new double[grid.MostInASecond];
        redOfSecond = hasRed ? new double[grid.MostInASecond] : [];
        wanted = (int)grid.FirstIndexOf(1);
    }

    /// <summary>How long after a second's end its reading is given.</summary>
    public int LatencySeconds => seconds.LatencySeconds;

    /// <summary>Takes the next samples.</summary>
    /// <param name="pulse">Infrared light, or the pleth; NaN: no number.</param>
    /// <param name="red">As many; empty where the stream has no red.</param>
    /// <exception cref="ArgumentException">The two are not of one length.</exception>
    public void Push(ReadOnlySpan<double> pulse, ReadOnlySpan<double> red)
    {
        if (red.Length != (hasRed ? pulse.Length : 0)) throw new ArgumentException($"Found {red.Length} samples of red beside {pulse.Length}, expected {(hasRed ? pulse.Length : 0)}.", nameof(red));
        ThrowIfEnded();
        while (pulse.Length > 0)
        {
            int length = Math.Min(pulse.Length, wanted - gathered);
            pulse[..length].CopyTo(pulseOfSecond.AsSpan(gathered));
            pulse = pulse[length..];
            if (hasRed)
            {
                red[..length].CopyTo(redOfSecond.AsSpan(gathered));
                red = red[length..];
            }

            gathered += length;
            if (gathered == wanted) FinishSecond();
        }
    }

    /// <summary>So many samples are missing.</summary>
    public void PushGap(long samples)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(samples);
        ThrowIfEnded();
        while (samples > 0)
        {
            int length = (int)Math.Min(samples, wanted - gathered);
            pulseOfSecond.AsSpan(gathered, length).Fill(double.NaN);
            if (hasRed) redOfSecond.AsSpan(gathered, length).Fill(double.NaN);
            gathered += length;
            samples -= length;
            if (gathered == wanted) FinishSecond();
        }
    }

    /// <summary>No more samples: the readings that are still due are given. A second that has begun has one too.</summary>
    public void End()
    {
        ThrowIfEnded();
        double endSeconds = grid.SecondsAt(grid.FirstIndexOf(second) + gathered);
        if (gathered > 0) FinishSecond();
        intake.End();
        seconds.End(second, endSeconds);
        ended = true;
    }

    private void ThrowIfEnded()
    {
        if (ended) throw new InvalidOperationException("Found more after the end of the stream, expected a new stream.");
    }

    private void FinishSecond()
    {
        var pulse = pulseOfSecond.AsSpan(0, gathered);
        var red = hasRed ? redOfSecond.AsSpan(0, gathered) : default;
        intake.Take(grid.FirstIndexOf(second), pulse, red);
        seconds.Came(second, pulse);
        second++;
        gathered = 0;
        wanted = (int)(grid.FirstIndexOf(second + 1) - grid.FirstIndexOf(second));
    }
}
