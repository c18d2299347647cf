namespace Stillwatch.Oximetry.Quality;

/// <summary>
/// Skewness of the samples, as of a whole population: m3 / m2^1.5. Best of eight indices of pleth quality in Elgendi, Bioengineering 2016;3:21. A pulse with a
/// steep rise and a long fall lies above 0, a pure wave at 0.
/// </summary>
public static class Skewness
{
    /// <returns>NaN where the samples do not move or hold NaN.</returns>
    public static double Of(ReadOnlySpan<double> samples)
    {
        double mean = 0;
        foreach (double sample in samples) mean += sample;
        mean /= samples.Length;
        double squares = 0, cubes = 0;
        foreach (double sample in samples)
        {
            double distance = sample - mean, square = distance * distance;
            squares += square;
            cubes += square * distance;
        }

        double deviation = Math.Sqrt(squares / samples.Length);
        return deviation > 0 ? cubes / samples.Length / (deviation * deviation * deviation) : double.NaN;
    }
}
