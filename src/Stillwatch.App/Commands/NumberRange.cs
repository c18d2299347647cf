using System.Globalization;

namespace Stillwatch.App.Commands;

/// <summary>A range on the command line: <c>a..b</c>, or <c>a..b/step</c>; both ends are in it.</summary>
/// <param name="From">First value.</param>
/// <param name="To">Last value, if a whole number of steps leads to it.</param>
/// <param name="Step">Between values.</param>
public sealed record NumberRange(decimal From, decimal To, decimal Step)
{
    /// <summary>More values than this on one axis is a mistake, or a map that nobody can read.</summary>
    public const int MostValues = 4000;

    public int Count => (int)((To - From) / Step) + 1;

    public IEnumerable<decimal> Values => Enumerable.Range(0, Count).Select(i => From + i * Step);

    public override string ToString() => $"{From}..{To}/{Step}";

    /// <summary>Reads a range or says in one line what is wrong with it.</summary>
    /// <param name="text">As given.</param>
    /// <param name="least">Least allowed value.</param>
    /// <param name="most">Greatest allowed value.</param>
    /// <param name="defaultStep">Step where none is given.</param>
    /// <param name="range">The range, if the return value is null.</param>
    public static string? TryRead(string text, decimal least, decimal most, decimal defaultStep, out NumberRange range)
    {
        range = new NumberRange(least, most, defaultStep);
        string form = $"expected a..b or a..b/step with numbers from {least} to {most}, such as {least}..{most}/{defaultStep}";
        string[] halves = text.Split('/');
        string[] ends = halves[0].Split("..");
        if (halves.Length > 2 || ends.Length is < 1 or > 2 || !Number(ends[0], out decimal from)) return form;
        decimal to = from;
        decimal step = defaultStep;
        if (ends.Length == 2 && !Number(ends[1], out to)) return form;
        if (halves.Length == 2 && !Number(halves[1], out step)) return form;
        if (from < least || to > most) return $"{form}; {from}..{to} lies outside";
        if (to < from) return $"{form}; here the end lies before the start";
        if (step < 0.001m) return $"{form}; the step must be at least 0.001";
        if ((to - from) / step >= MostValues) return $"{form}; that would be more than {MostValues} values";
        range = new NumberRange(from, to, step);
        return null;
    }

    private static bool Number(string text, out decimal value) =>
        decimal.TryParse(text, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out value);
}
