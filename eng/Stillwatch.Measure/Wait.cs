namespace Stillwatch.Measure;

/// <summary>How long a person waited for one thing, several times.</summary>
/// <param name="What">From which act to what is seen.</param>
/// <param name="Asked">What it should be; empty: nothing was asked.</param>
/// <param name="Milliseconds">Each time, in order; the first is often the slowest, and is kept.</param>
internal sealed record Wait(string What, string Asked, IReadOnlyList<double> Milliseconds)
{
    public double Median
    {
        get
        {
            double[] sorted = [.. Milliseconds.Order()];
            return (sorted[(sorted.Length - 1) / 2] + sorted[sorted.Length / 2]) / 2;
        }
    }

    public double Worst => Milliseconds.Max();
}
