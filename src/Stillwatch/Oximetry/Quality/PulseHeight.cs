using System.Numerics.Tensors;

namespace Stillwatch.Oximetry.Quality;

/// <summary>How high a pulse stands in the light itself, over the mean light: the perfusion index of one beat, as a share.</summary>
/// <remarks>
/// Convention (there is no standard one): greatest minus least light of the beat, trough to peak, over the mean of the infrared light from trough to trough.
/// Not taken from the band-passed light, whose slow part follows the pulse: that reads an eighth too low at 70 beats a minute and a third too low at 160.
/// Round feet and peaks are read within 1 % of the height; a foot with a corner, sharper than a pulse's, up to 3 % low.
/// </remarks>
public static class PulseHeight
{
    private const double SmoothSeconds = 0.04; // own choice: a foot is sharper than that by little, and noise is halved at 125 a second
    private const double SearchSeconds = 0.06; // the band-pass rounds feet and peaks, and so moves them by about this

    /// <summary>Height over mean; NaN for a beat without a rise, or light that is not above zero.</summary>
    /// <param name="light">Raw infrared light from trough to next trough, both included; falls when blood comes.</param>
    /// <param name="peakIndex">About where the peak is.</param>
    /// <param name="rateHz">Samples a second.</param>
    public static double Share(ReadOnlySpan<double> light, int peakIndex, double rateHz)
    {
        int half = (int)(SmoothSeconds / 2 * rateHz), search = (int)Math.Round(SearchSeconds * rateHz);
        int last = light.Length - 1;
        var (trough, before) = Extreme(light, 0, Math.Min(search, peakIndex), half, greatest: true);
        var (nextTrough, after) = Extreme(light, Math.Max(last - search, peakIndex), last, half, greatest: true);
        var (peak, least) = Extreme(light, Math.Max(peakIndex - search, trough + 1), Math.Min(peakIndex + search, nextTrough - 1), half, greatest: false);
        double line = before + (after - before) * (peak - trough) / (nextTrough - trough);
        double mean = TensorPrimitives.Sum(light) / light.Length;
        return line > least && mean > 0 ? (line - least) / mean : double.NaN;
    }

    private static (int Index, double Level) Extreme(ReadOnlySpan<double> light, int from, int to, int half, bool greatest)
    {
        var (index, level) = (from, double.NaN);
        for (int i = from; i <= to; i++)
        {
            int low = Math.Max(0, i - half), high = Math.Min(light.Length - 1, i + half);
            double mean = TensorPrimitives.Sum(light[low..(high + 1)]) / (high - low + 1);
            if (double.IsNaN(level) || (greatest ? mean > level : mean < level)) (index, level) = (i, mean);
        }

        return (index, level);
    }
}
