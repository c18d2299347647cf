using System.Globalization;

namespace Stillwatch.Tests.Physiology;

/// <summary>A row of a text table: cells between bars, the last one usually the source.</summary>
internal sealed class Cells(string row)
{
    private readonly string[] cells = row.Split('|', StringSplitOptions.TrimEntries);

    public int Count => cells.Length;

    public string this[int index] => cells[index];

    public double Number(int index) => double.Parse(cells[index], CultureInfo.InvariantCulture);

    public decimal Decimal(int index) => decimal.Parse(cells[index], CultureInfo.InvariantCulture);

    /// <summary>How far a result may lie from a printed value: half of its last printed digit, and a rounding of the double.</summary>
    public double HalfDigit(int index)
    {
        int point = cells[index].IndexOf('.');
        int decimals = point < 0 ? 0 : cells[index].Length - point - 1;
        return 0.5000001 * Math.Pow(10, -decimals);
    }

    /// <summary>Asserts that a result rounds to the printed value.</summary>
    public void Holds(int index, double result)
    {
        double off = Math.Abs(result - Number(index));
        Assert.True(off <= HalfDigit(index), $"{result} does not round to {cells[index]} in: {string.Join(" | ", cells)}");
    }
}
