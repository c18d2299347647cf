using System.Globalization;
using Stillwatch.Quantities;

namespace Stillwatch.Formats.Csv.Text;

internal enum NumberReading
{
    Number,

    /// <summary>A number with more than six decimals, taken to the nearest millionth.</summary>
    Rounded,

    /// <summary>A number beyond what a channel can hold (±2147.483647).</summary>
    TooLarge,
    NotANumber,
}

/// <summary>Decimal numbers of cells into millionths, exact. A thousands separator is never guessed: such a cell is no number.</summary>
internal static class DecimalText
{
    private const int LengthLimit = 64;
    private const decimal Largest = int.MaxValue / 1_000_000m;

    /// <summary>
    /// The everyday forms (97, 97.5, -0.25): up to four digits, up to six decimals. False for anything else, which may still
    /// be a number: <see cref="Read"/> decides. Where both say yes they say the same, which a test holds.
    /// </summary>
    public static bool TryReadPlain(ReadOnlySpan<char> cell, char decimalMark, out int micro)
    {
        micro = 0;
        int at = 0;
        bool negative = cell.Length > 0 && cell[0] == '-';
        if (negative) at = 1;
        int whole = 0;
        int firstDigit = at;
        while (at < cell.Length && char.IsAsciiDigit(cell[at]) && at - firstDigit < 4) whole = whole * 10 + (cell[at++] - '0');
        if (at == firstDigit || whole > 2146) return false;
        int fraction = 0;
        if (at < cell.Length)
        {
            if (cell[at++] != decimalMark) return false;
            int decimals = cell.Length - at;
            if (decimals is 0 or > 6) return false;
            for (; at < cell.Length; at++)
            {
                if (!char.IsAsciiDigit(cell[at])) return false;
                fraction = fraction * 10 + (cell[at] - '0');
            }

            for (; decimals < 6; decimals++) fraction *= 10;
        }

        micro = whole * FixedPoint.One + fraction;
        if (negative) micro = -micro;
        return true;
    }

    public static NumberReading Read(ReadOnlySpan<char> cell, char decimalMark, out int micro)
    {
        micro = 0;
        var reading = ReadDecimal(cell, decimalMark, out decimal value);
        if (reading != NumberReading.Number) return reading;
        if (Math.Abs(value) > Largest) return NumberReading.TooLarge;
        micro = FixedPoint.ToMicro(value);
        return micro == value * FixedPoint.One ? NumberReading.Number : NumberReading.Rounded;
    }

    /// <summary>Any decimal number, with an exponent or not, with blanks around it or not.</summary>
    public static NumberReading ReadDecimal(ReadOnlySpan<char> cell, char decimalMark, out decimal value)
    {
        value = 0;
        var text = cell.Trim();
        if (text.Length is 0 or > LengthLimit) return NumberReading.NotANumber;
        Span<char> plain = stackalloc char[LengthLimit];
        for (int i = 0; i < text.Length; i++)
        {
            char c = text[i];
            if (c == decimalMark) c = '.';
            else if (!char.IsAsciiDigit(c) && c is not ('+' or '-' or 'e' or 'E')) return NumberReading.NotANumber;
            plain[i] = c;
        }

        const NumberStyles style = NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint | NumberStyles.AllowExponent;
        plain = plain[..text.Length];
        if (decimal.TryParse(plain, style, CultureInfo.InvariantCulture, out value)) return NumberReading.Number;
        return double.TryParse(plain, style, CultureInfo.InvariantCulture, out _) ? NumberReading.TooLarge : NumberReading.NotANumber;
    }

    /// <summary>A number under either decimal mark; for telling numbers from text before the mark is known.</summary>
    public static bool LooksLikeNumber(ReadOnlySpan<char> cell) =>
        ReadDecimal(cell, '.', out _) != NumberReading.NotANumber || ReadDecimal(cell, ',', out _) != NumberReading.NotANumber;
}
