using Stillwatch.Signals;
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

/// <summary>What the caller knows about a file, and how much of it to hold. The default reads an ordinary file by itself.</summary>
public sealed record CsvReadOptions
{
    public static readonly CsvReadOptions Default = new();

    /// <summary>Columns named by the user (<c>--map</c>); they win over what the header says.</summary>
    public CsvColumnMap Map { get; init; } = CsvColumnMap.Empty;

    /// <summary>The SpO2 column to use (<c>--channel</c>): a header name, or #n by its number. Null: the first that holds usable numbers.</summary>
    public string? Channel { get; init; }

    /// <summary>The kinds to hold in memory; null: every kind that is recognised. Mapped columns are always held.</summary>
    public IReadOnlySet<ChannelKind>? Wanted { get; init; }

    /// <summary>The period of the rows (<c>--period</c>). Stands in for a missing time column; beside one, it becomes the declared P of rule R1.</summary>
    public Duration? DeclaredPeriod { get; init; }

    /// <summary>How dates of three short numbers are read (<c>--date-order</c>).</summary>
    public DateOrder DateOrder { get; init; }

    /// <summary>Separator and decimal mark where the user knows better; null: found from the file.</summary>
    public char? Separator { get; init; }

    public char? DecimalMark { get; init; }

    /// <summary>What the source applied before it gave out its values, where that is known.</summary>
    public SourceAveraging SourceAveraging { get; init; } = SourceAveraging.Unknown;

    /// <summary>Called now and then with the bytes read so far, on the reading thread.</summary>
    public Action<long>? Progress { get; init; }

    /// <summary>A longer line is refused: it is no line of a table, or a quote or line end is missing.</summary>
    public int LineLengthLimit { get; init; } = 1 << 20;

    public int ColumnLimit { get; init; } = 4096;

    /// <summary>Channels held at once; further ones are listed as an issue.</summary>
    public int ChannelLimit { get; init; } = 64;
}
