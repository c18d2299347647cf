namespace Stillwatch.Oximetry.Quality;

/// <summary>How much of a stretch of raw light stands at an end of the converter, without knowing where its ends are.</summary>
/// <param name="ClippedShare">Share of the samples that lie in flat tops or bottoms.</param>
/// <param name="FlatShare">Share of the samples in the longest run of one value: 1 where nothing moves at all.</param>
public readonly record struct Clipping(double ClippedShare, double FlatShare)
{
    /// <summary>Fewer equal samples are no flat top. Own choice.</summary>
    public const int LeastRun = 6;

    /// <summary>
    /// A flat top is a run of at least <see cref="LeastRun"/> equal samples at the stretch's greatest or least value which is entered or left by a step of at
    /// least two of the stretch's smallest steps. A crest that is merely rounded to whole counts is entered and left by one: under a parabola that stays
    /// within one count for n samples, the next step is 4/n of a count.
    /// </summary>
    public static Clipping Of(ReadOnlySpan<double> raw)
    {
        if (raw.IsEmpty) return new Clipping(0, 0);
        double least = raw[0], greatest = raw[0], finest = double.PositiveInfinity;
        for (int i = 1; i < raw.Length; i++)
        {
            double step = Math.Abs(raw[i] - raw[i - 1]);
            if (step > 0 && step < finest) finest = step;
            least = Math.Min(least, raw[i]);
            greatest = Math.Max(greatest, raw[i]);
        }

        int clipped = 0, longest = 1;
        for (int start = 0; start < raw.Length;)
        {
            int end = start + 1;
            while (end < raw.Length && raw[end] == raw[start]) end++;
            int run = end - start;
            longest = Math.Max(longest, run);
            if (run >= LeastRun && (raw[start] == least || raw[start] == greatest))
            {
                double entered = start > 0 ? Math.Abs(raw[start] - raw[start - 1]) : 0;
                double left = end < raw.Length ? Math.Abs(raw[end] - raw[start]) : 0;
                if (Math.Max(entered, left) >= 1.999 * finest) clipped += run;
            }

            start = end;
        }

        return new Clipping((double)clipped / raw.Length, (double)longest / raw.Length);
    }
}
