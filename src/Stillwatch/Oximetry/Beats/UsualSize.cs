namespace Stillwatch.Oximetry.Beats;

/// <summary>
/// How large pulses usually are, for a threshold that follows them: each pulse moves it by a share of the way, one that is more than twice as large counting
/// as twice; six such in a row are the new size, which a jerk does not make. While none comes for a while it fades, by half each second, until a weaker pulse is found.
/// </summary>
/// <param name="rateHz">Of the samples.</param>
/// <param name="share">Of the way that one pulse moves it.</param>
/// <param name="part">Of the size that the threshold is: a pulse that only the faded threshold let pass makes the faded size the usual one.</param>
internal struct UsualSize(double rateHz, double share, double part)
{
    private const double MostOfSize = 2;
    private const int LargeInARow = 6;
    private const double LeastPart = 1e-9; // of the first size

    private readonly double sink = Math.Pow(0.5, 1 / rateHz);
    private double usual, faded, least, largest;
    private int large;

    /// <summary>What a pulse must reach.</summary>
    public readonly double Threshold => part * faded;

    public void Start(double size)
    {
        usual = faded = size;
        least = LeastPart * size;
        large = 0;
        largest = 0;
    }

    /// <summary>Another sample without a pulse, after too long a time without one.</summary>
    public void Fade() => faded = Math.Max(least, faded * sink);

    public void Take(double size)
    {
        if (size < part * usual) usual = faded; // pulses have become weaker; a slow heart alone does not lower the size
        bool isLarge = size > MostOfSize * usual;
        large = isLarge ? large + 1 : 0;
        largest = isLarge ? Math.Max(largest, size) : 0;
        if (large == LargeInARow)
        {
            usual = largest;
            large = 0;
            largest = 0;
        }
        else
        {
            usual += share * (Math.Min(size, MostOfSize * usual) - usual);
        }

        faded = usual;
    }
}
