using Stillwatch.Time;

namespace Stillwatch.Formats.Csv;

/// <summary>How dates such as 03/04/2026 are to be read.</summary>
public enum DateOrder
{
    /// <summary>Decided by the file where it can be (a component above 12); otherwise assumed day first, with an issue.</summary>
    Ask,
    DayFirst,
    MonthFirst,

    /// <summary>26/04/03 is 3 April 2026. A year of four digits in front is always read so.</summary>
    YearFirst,
}

/// <summary>What the caller knows about a table besides.</summary>
public sealed record CsvReadOptions : ReadOptions
{
    public static readonly CsvReadOptions Default = new();

    /// <summary>The period of the rows (<c>--period</c>). Stands in for a missing time column; beside one, it becomes the declared P of rule R1.</summary>
    public Duration? DeclaredPeriod { get; init; }

    /// <summary>The exact rate of the rows (<c>--rate</c>), for waveforms whose period is not whole milliseconds. Used as <see cref="DeclaredPeriod"/> is, and goes before it.</summary>
    public SampleRate? DeclaredRate { get; init; }

    /// <summary>The period of the rows as declared by either; null: not declared.</summary>
    public Duration? RowPeriod => DeclaredRate?.Period ?? DeclaredPeriod;

    /// <summary>How dates of three short numbers are read (<c>--date-order</c>).</summary>
    public DateOrder DateOrder { get; init; }

    /// <summary>Separator and decimal mark where the user knows better; null: found from the file.</summary>
    public char? Separator { get; init; }

    public char? DecimalMark { get; init; }

    /// <summary>A longer line is refused: it is no line of a table, or a quote or line end is missing.</summary>
    public int LineLengthLimit { get; init; } = 1 << 20;

    public int ColumnLimit { get; init; } = 4096;

    /// <summary>Channels held at once; further ones are listed as an issue.</summary>
    public int ChannelLimit { get; init; } = 64;
}
