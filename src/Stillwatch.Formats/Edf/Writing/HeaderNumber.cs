using System.Globalization;

namespace Stillwatch.Formats.Edf.Writing;

/// <summary>Numbers in header fields of eight characters.</summary>
internal static class HeaderNumber
{
    private const int Length = 8;
    private const string Form = "0.#######";

    /// <summary>The exact text; null where eight characters do not hold it.</summary>
    public static string? TextOf(decimal value)
    {
        string text = value.ToString(Form, CultureInfo.InvariantCulture);
        return text.Length <= Length && decimal.Parse(text, CultureInfo.InvariantCulture) == value ? text : null;
    }

    /// <summary>Whether millionths have an exact text; quicker than making it.</summary>
    public static bool Fits(long micro)
    {
        long size = Math.Abs(micro), whole = size / 1_000_000, parts = size % 1_000_000;
        int length = micro < 0 ? 2 : 1;
        for (; whole >= 10; whole /= 10) length++;
        if (parts > 0)
        {
            length += 7;
            for (; parts % 10 == 0; parts /= 10) length--;
        }

        return length <= Length;
    }

    /// <summary>The nearest number at or below (or above) that has an exact text, with as many decimals as fit; null beyond eight digits.</summary>
    public static decimal? Outwards(double value, bool up)
    {
        if (!(Math.Abs(value) < 99_999_999)) return null;
        for (int decimals = 6; decimals >= 0; decimals--)
        {
            decimal scale = (decimal)Math.Pow(10, decimals);
            decimal scaled = (decimal)value * scale;
            decimal rounded = (up ? Math.Ceiling(scaled) : Math.Floor(scaled)) / scale;
            if (TextOf(rounded) is not null) return rounded;
        }

        return null;
    }
}
