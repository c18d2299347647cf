namespace Stillwatch.Rehearsal.Sensor;

/// <summary>
/// The shape of one pulse of blood volume: a systolic wave, steeper before its crest than after, and a dicrotic wave behind it. In shares of
/// a beat at 75 a minute; faster or slower hearts stretch systole by the square root of the beat's length.
/// </summary>
/// <remarks>Our own drawing, no source: it only has to look like a pulse, with a crest, a notch and a run-off that can be moved.</remarks>
public sealed record PulseShape
{
    public static readonly PulseShape Adult = new();

    /// <summary>Quick crest, deep notch.</summary>
    public static readonly PulseShape Young = new() { RiseShare = 0.16, FallShare = 0.13, DicroticHeight = 0.42, DicroticDelayShare = 0.37, DicroticWidthShare = 0.065 };

    /// <summary>Late round crest, the dicrotic wave lost in it.</summary>
    public static readonly PulseShape Old = new() { RiseShare = 0.26, FallShare = 0.16, DicroticHeight = 0.42, DicroticDelayShare = 0.24, DicroticWidthShare = 0.12, RunOffShare = 0.27 };

    /// <summary>Nearly one wave.</summary>
    public static readonly PulseShape Newborn = new() { RiseShare = 0.23, FallShare = 0.17, DicroticHeight = 0.20, DicroticDelayShare = 0.32 };

    /// <summary>From trough to crest, about.</summary>
    public double RiseShare { get; init; } = 0.19;

    /// <summary>Width of the systolic wave behind its crest (one standard deviation).</summary>
    public double FallShare { get; init; } = 0.15;

    /// <summary>Of the dicrotic wave over the systolic one; 0: none.</summary>
    public double DicroticHeight { get; init; } = 0.38;

    /// <summary>Behind the systolic crest.</summary>
    public double DicroticDelayShare { get; init; } = 0.33;

    /// <summary>Width of the dicrotic wave before its crest.</summary>
    public double DicroticWidthShare { get; init; } = 0.08;

    /// <summary>How slowly blood runs off to the next beat: width of the dicrotic wave behind its crest.</summary>
    public double RunOffShare { get; init; } = 0.24;
}

/// <summary>A <see cref="PulseShape"/> worked out: 0 at the trough, where every beat begins and ends, 1 at the crest.</summary>
internal sealed class PulseWave
{
    private const int Steps = 4096;

    private readonly double[] heights = new double[Steps + 1];

    public PulseWave(PulseShape shape)
    {
        // Laid round a circle, so that the end of a beat meets the beginning of the next without a corner, and turned until the trough comes first.
        var raw = new double[Steps];
        for (int i = 0; i < Steps; i++)
        {
            double share = (double)i / Steps;
            raw[i] = Wave(share, shape.RiseShare, shape.RiseShare / 2.7, shape.FallShare)
                + shape.DicroticHeight * Wave(share, shape.RiseShare + shape.DicroticDelayShare, shape.DicroticWidthShare, shape.RunOffShare);
        }

        int trough = 0;
        for (int i = 1; i < Steps; i++)
        {
            if (raw[i] < raw[trough]) trough = i;
        }

        double least = raw[trough], span = raw.Max() - least;
        for (int i = 0; i <= Steps; i++) heights[i] = (raw[(trough + i) % Steps] - least) / span;
        Mean = heights.Take(Steps).Average();
        MeanSquare = heights.Take(Steps).Average(h => h * h);
    }

    /// <summary>Mean height over a beat at 75 a minute.</summary>
    public double Mean { get; }

    public double MeanSquare { get; }

    /// <param name="share">How much of the beat has gone, 0 to 1.</param>
    /// <param name="pace">See <see cref="PaceOf"/>.</param>
    public double At(double share, double pace)
    {
        double place = share / (share + pace * (1 - share)) * Steps;
        int index = (int)place;
        if (index >= Steps) return heights[Steps];
        return heights[index] + (place - index) * (heights[index + 1] - heights[index]);
    }

    /// <summary>How systole is stretched within a beat: 1 at 75 a minute, less in longer beats, so that its length goes with the root of the beat's.</summary>
    public static double PaceOf(double beatSeconds) => Math.Sqrt(0.8 / beatSeconds);

    /// <summary>Where blood volume rises fastest, as a share of the beat.</summary>
    public double SteepestShare(double pace)
    {
        const int grid = 400;
        const double step = 0.5 / grid; // the upstroke lies in the first half
        int best = 1;
        double steepest = double.NegativeInfinity;
        for (int i = 1; i < grid; i++)
        {
            double slope = Slope(i);
            if (slope > steepest) (best, steepest) = (i, slope);
        }

        double before = Slope(best - 1), after = Slope(best + 1), curve = before - 2 * steepest + after;
        return (best + (curve < 0 ? 0.5 * (before - after) / curve : 0)) * step;

        double Slope(int index) => At((index + 0.5) * step, pace) - At(Math.Max(0, (index - 0.5) * step), pace);
    }

    private static double Wave(double share, double crest, double before, double after)
    {
        double sum = 0;
        for (int turn = -2; turn <= 2; turn++)
        {
            double distance = share - crest + turn;
            double width = distance < 0 ? before : after;
            sum += Math.Exp(-0.5 * distance * distance / (width * width));
        }

        return sum;
    }
}
