using System.Numerics.Tensors;

namespace Stillwatch.Oximetry.Quality;

/// <summary>How much of a stretch of raw light stands at an end of the converter, without knowing where its ends are.</summary>
/// <param name="ClippedShare">Share of the samples that lie in flat tops or bottoms.</param>
/// <param name="FlatShare">Share of the samples in the longest run of one value, if it is a run at all: 1 where nothing moves.</param>
public readonly record struct Clipping(double ClippedShare, double FlatShare)
{
    /// <summary>Fewer equal samples are no flat top. Own choice.</summary>
    public const int LeastRun = 6;

    /// <summary>
    /// A flat top is a run of at least <see cref="LeastRun"/> equal samples at the stretch's greatest or least value which is entered and left by steps of at
    /// least two of the stretch's smallest steps. A crest or foot that is merely rounded to whole counts is entered by one: under a parabola that stays
    /// within one count for n samples, the next step is 4/n of a count. So a slow run-off that is cut at the bottom of a coarse converter is missed.
    /// </summary>
    public static Clipping Of(ReadOnlySpan<double> raw)
    {
        // A run of LeastRun samples holds one of every LeastRun − 1 samples together with its neighbour: most light is done with after looking at those.
        int first = -1;
        for (int i = 0; i + 1 < raw.Length && first < 0; i += LeastRun - 1)
        {
            if (raw[i] == raw[i + 1]) first = i;
        }

        return first < 0 ? default : Runs(raw, first);
    }

    private static Clipping Runs(ReadOnlySpan<double> raw, int from)
    {
        double least = TensorPrimitives.Min(raw), greatest = TensorPrimitives.Max(raw), finest = FinestStep(raw);
        while (from > 0 && raw[from - 1] == raw[from]) from--;
        int clipped = 0, longest = 0;
        for (int start = from; start < raw.Length;)
        {
            int end = start + 1;
            while (end < raw.Length && raw[end] == raw[start]) end++;
            int run = end - start;
            if (run >= LeastRun)
            {
                longest = Math.Max(longest, run);
                bool isAtEnd = raw[start] == least || raw[start] == greatest;
                bool isEntered = start == 0 || Math.Abs(raw[start] - raw[start - 1]) >= 1.999 * finest;
                bool isLeft = end == raw.Length || Math.Abs(raw[end] - raw[start]) >= 1.999 * finest;
                if (isAtEnd && isEntered && isLeft && run < raw.Length) clipped += run;
            }

            start = end;
        }

        return new Clipping((double)clipped / raw.Length, (double)longest / raw.Length);
    }

    private static double FinestStep(ReadOnlySpan<double> raw)
    {
        double finest = double.PositiveInfinity;
        for (int i = 1; i < raw.Length; i++)
        {
            double step = Math.Abs(raw[i] - raw[i - 1]);
            if (step > 0 && step < finest) finest = step;
        }

        return finest;
    }
}
