using System.Globalization;
using System.Text;

namespace Stillwatch.App.Tests.Running;

/// <summary>Small tables of light made by a formula, for what commands say of files; what numbers are worth is measured elsewhere.</summary>
internal static class InventedLight
{
    /// <summary>Red and infrared at 125 a second: pulses at 75 a minute with a ratio of ratios of 0.6; on request half a minute without tissue.</summary>
    public static string RedAndInfrared(int seconds = 60, bool withSensorOff = false, bool withInfrared = true, int rateHz = 125)
    {
        var text = new StringBuilder(withInfrared ? "Time (s),Red,Infrared\n" : "Time (s),Red\n");
        for (int i = 0; i < seconds * rateHz; i++)
        {
            double t = (double)i / rateHz;
            bool off = withSensorOff && t >= 30;
            double pulse = PulseAt(t / 0.8 - Math.Floor(t / 0.8));
            double red = off ? 120 + i % 3 : 40_000 * Math.Exp(-0.012 * pulse + Unrest(i, t, 1)), infrared = off ? 150 + i % 2 : 60_000 * Math.Exp(-0.02 * pulse + Unrest(i, t, 2));
            text.Append(t.ToString("0.###", CultureInfo.InvariantCulture)).Append(',').Append((int)red);
            if (withInfrared) text.Append(',').Append((int)infrared);
            text.Append('\n');
        }

        return text.ToString();
    }

    /// <summary>One pleth without times, for <c>--map time=none --rate</c>.</summary>
    public static string Pleth(int seconds = 60, int rateHz = 125)
    {
        var text = new StringBuilder("PLETH\n");
        for (int i = 0; i < seconds * rateHz; i++)
        {
            double t = (double)i / rateHz;
            text.Append((0.4 + 0.2 * PulseAt(t / 0.8 - Math.Floor(t / 0.8)) + 5 * Unrest(i, t, 3)).ToString("0.#####", CultureInfo.InvariantCulture)).Append('\n');
        }

        return text.ToString();
    }

    // Rises fast, falls slowly, with a second, smaller wave, and is nowhere flat: about 1 from trough to peak.
    private static double PulseAt(double phase) => 0.42 * (Math.Sin(2 * Math.PI * phase) + 0.45 * Math.Sin(4 * Math.PI * phase) + 0.12 * Math.Sin(6 * Math.PI * phase));

    // A breath every four seconds, and a little that is never twice the same, as no converter is still.
    private static double Unrest(int sample, double t, int salt) => 0.002 * Math.Sin(2 * Math.PI * t / 4) + 0.0001 * Math.Sin(sample * 12.9898 + salt * 78.233 + Math.Sin(sample * 0.7));
}
