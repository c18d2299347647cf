namespace Stillwatch.Reports.Drawing;

/// <summary>Round numbers along an axis.</summary>
internal static class Ticks
{
    /// <summary>Multiples of 1, 2 or 5 times a power of ten within [from, to], at most about <paramref name="atMost"/> of them.</summary>
    public static IReadOnlyList<double> Round(double from, double to, int atMost)
    {
        double step = Step(to - from, atMost);
        var ticks = new List<double>();
        for (double i = Math.Ceiling(from / step - 1e-9); i * step <= to + step * 1e-9; i++) ticks.Add(Math.Round(i * step, 10) + 0.0); // adding zero turns −0 into 0
        return ticks;
    }

    /// <summary>The smallest round step that needs at most <paramref name="atMost"/> steps.</summary>
    public static double Step(double span, int atMost)
    {
        if (!(span > 0)) return 1;
        double raw = span / Math.Max(1, atMost);
        double power = Math.Pow(10, Math.Floor(Math.Log10(raw)));
        foreach (double factor in (ReadOnlySpan<double>)[1, 2, 5, 10])
        {
            if (factor * power >= raw * (1 - 1e-9)) return factor * power;
        }

        return 10 * power;
    }

    /// <summary>The next round number at or above a maximum, for the top of an axis that starts at zero.</summary>
    public static double Top(double maximum, int atMost)
    {
        if (!(maximum > 0)) return 1;
        double step = Step(maximum, atMost);
        return Math.Ceiling(maximum / step - 1e-9) * step;
    }
}
