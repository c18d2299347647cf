namespace Stillwatch.Dsp;

/// <summary>
/// Brings uneven samples onto an even grid as they come: sample k of the grid lies at k / rate seconds. Between rows runs
/// <see cref="HermiteCurve"/>; a step that is too long is a gap, whose samples are NaN.
/// </summary>
/// <remarks>
/// A sample is certain once the second row after it is there, or once more time has passed than a step may take; so
/// <see cref="Certain"/> lags by two steps. Read what has become certain after each <see cref="Take"/>: only the last
/// <see cref="Held"/> samples are kept. Allocates nothing after its start.
/// </remarks>
public sealed class EvenResampler
{
    // A row's time and a grid's are each rounded once; nearer than this they are the same.
    private const double SameSeconds = 1e-9;

    private readonly double rateHz;
    private readonly double longestStepSeconds;
    private readonly double[] ring;

    private CurvePoint third, second, last; // of the stretch without gaps that goes on, the newest last
    private int points; // of these three that are set
    private long drawnTo; // samples before it lie in the ring
    private double passedSeconds = double.NegativeInfinity;

    /// <param name="rateHz">Of the grid.</param>
    /// <param name="longestStepSeconds">The longest step from number to number that is bridged.</param>
    public EvenResampler(double rateHz, double longestStepSeconds)
    {
        ArgumentOutOfRangeException.ThrowIfNotEqual(rateHz is > 0 and <= 1e6, true, nameof(rateHz));
        ArgumentOutOfRangeException.ThrowIfNotEqual(longestStepSeconds is > 0 and <= 3600, true, nameof(longestStepSeconds));
        this.rateHz = rateHz;
        this.longestStepSeconds = longestStepSeconds;
        Held = checked((int)Math.Min(4 * longestStepSeconds * rateHz + 16, 1 << 26));
        ring = new double[Held];
    }

    /// <summary>Samples from 0 up to here are certain.</summary>
    public long Certain { get; private set; }

    /// <summary>From here on, certain samples are all NaN.</summary>
    public long Drawn => drawnTo;

    /// <summary>How many of the newest samples can still be read: four of the longest steps, and a few.</summary>
    public int Held { get; }

    /// <summary>The next row. NaN and infinities: no number; only time passes.</summary>
    /// <exception cref="ArgumentException">The time does not lie after the one before it, or is no number.</exception>
    public void Take(double seconds, double value)
    {
        if (!double.IsFinite(seconds) || seconds <= passedSeconds)
            throw new ArgumentException($"Found a row at {seconds} s, expected one after {passedSeconds} s. Likely cause: rows out of order.", nameof(seconds));
        passedSeconds = seconds;
        bool apart = points > 0 && seconds - last.Seconds > longestStepSeconds;
        if (apart) Close();
        if (!double.IsFinite(value))
        {
            if (points == 0) Certain = Math.Max(Certain, FirstAfter(seconds));
            return;
        }

        var next = new CurvePoint(seconds, value);
        if (points == 0) Certain = Math.Max(Certain, FirstFrom(seconds));
        else if (points > 1) DrawSecondToLast(next);
        (third, second, last) = (second, last, next);
        points = Math.Min(points + 1, 3);
    }

    /// <summary>No row follows: what is still open becomes certain, up to the last row.</summary>
    public void End()
    {
        Close();
        if (double.IsFinite(passedSeconds)) Certain = Math.Max(Certain, FirstAfter(passedSeconds));
    }

    /// <summary>A certain sample; NaN: none.</summary>
    /// <exception cref="ArgumentOutOfRangeException">It is not certain yet.</exception>
    public double this[long index]
    {
        get
        {
            ArgumentOutOfRangeException.ThrowIfNegative(index);
            ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(index, Certain);
            return index < drawnTo ? ring[index % Held] : double.NaN;
        }
    }

    /// <summary>The next row's <paramref name="next"/> decides the curve before the last one.</summary>
    private void DrawSecondToLast(CurvePoint next)
    {
        for (long k = Open(second.Seconds); k / rateHz <= last.Seconds + SameSeconds; k++)
        {
            double at = k / rateHz;
            Put(k, points == 2 ? HermiteCurve.AtStart(second, last, next, at) : HermiteCurve.Between(third, second, last, next, at));
        }
    }

    private void Close()
    {
        if (points == 0) return;
        for (long k = Open(points == 1 ? last.Seconds : second.Seconds); k / rateHz <= last.Seconds + SameSeconds; k++)
        {
            double at = k / rateHz;
            Put(k, points switch { 1 => last.Value, 2 => HermiteCurve.Line(second, last, at), _ => HermiteCurve.AtEnd(third, second, last, at) });
        }

        points = 0;
    }

    /// <summary>The first sample not drawn yet, from a time on; what lies between is a gap, and the ring is told so.</summary>
    private long Open(double fromSeconds)
    {
        long open = Math.Max(drawnTo, FirstFrom(fromSeconds));
        for (long k = Math.Max(drawnTo, open - Held); k < open; k++) ring[k % Held] = double.NaN;
        drawnTo = open;
        Certain = Math.Max(Certain, open);
        return open;
    }

    private void Put(long index, double value)
    {
        ring[index % Held] = value;
        drawnTo = index + 1;
        Certain = Math.Max(Certain, drawnTo);
    }

    private long FirstFrom(double seconds) => Math.Max(0, checked((long)Math.Ceiling((seconds - SameSeconds) * rateHz)));

    private long FirstAfter(double seconds) => Math.Max(0, checked((long)Math.Floor((seconds + SameSeconds) * rateHz) + 1));
}
