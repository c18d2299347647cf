namespace Stillwatch.Reports.Drawing;

/// <summary>
/// A single-hue scale from paper to deep violet whose lightness falls in even steps, so that it reads the same on a grey
/// printer. Steps are even in the lightness of OKLab (Ottosson 2020; conversion constants from memory, held only by the
/// tests that the steps fall evenly in sRGB luminance too).
/// </summary>
internal static class Ramp
{
    private const double Lightest = 0.975;
    private const double Darkest = 0.27;
    private const double HueRadians = 5.00; // violet: no alarm colour

    /// <summary>The colour at a share of the scale, 0 lightest to 1 darkest.</summary>
    public static string At(double share)
    {
        double lightness = Lightest + (Darkest - Lightest) * Math.Clamp(share, 0, 1);
        double chroma = 0.125 * Math.Sin(Math.PI * Math.Pow(Math.Clamp(share, 0, 1), 0.75));
        var (red, green, blue) = ToSrgb(lightness, chroma * Math.Cos(HueRadians), chroma * Math.Sin(HueRadians));
        return $"#{red:x2}{green:x2}{blue:x2}";
    }

    /// <summary>Black or white, whichever reads better on the colour at a share of the scale: always at least 4.5:1.</summary>
    public static string InkOn(double share) => Luminance(At(share)) < 0.179 ? Ink.Paper : "#000000";

    /// <summary>Relative luminance of a colour, 0–1, as WCAG 2.2 defines it.</summary>
    public static double Luminance(string colour)
    {
        double Linear(int from)
        {
            double c = Convert.ToInt32(colour.Substring(from, 2), 16) / 255.0;
            return c <= 0.04045 ? c / 12.92 : Math.Pow((c + 0.055) / 1.055, 2.4);
        }

        return 0.2126 * Linear(1) + 0.7152 * Linear(3) + 0.0722 * Linear(5);
    }

    private static (byte Red, byte Green, byte Blue) ToSrgb(double lightness, double a, double b)
    {
        double l = Cube(lightness + 0.3963377774 * a + 0.2158037573 * b);
        double m = Cube(lightness - 0.1055613458 * a - 0.0638541728 * b);
        double s = Cube(lightness - 0.0894841775 * a - 1.2914855480 * b);
        return (
            Channel(4.0767416621 * l - 3.3077115913 * m + 0.2309699292 * s),
            Channel(-1.2684380046 * l + 2.6097574011 * m - 0.3413193965 * s),
            Channel(-0.0041960863 * l - 0.7034186147 * m + 1.7076147010 * s));
    }

    private static double Cube(double x) => x * x * x;

    private static byte Channel(double linear)
    {
        double c = Math.Clamp(linear, 0, 1);
        double encoded = c <= 0.0031308 ? 12.92 * c : 1.055 * Math.Pow(c, 1 / 2.4) - 0.055;
        return (byte)Math.Round(encoded * 255);
    }
}
