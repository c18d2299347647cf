using Stillwatch.Signals;

namespace Stillwatch.Formats;

/// <summary>What the caller knows about a file of any format, and how much of it to hold. The default reads an ordinary file by itself.</summary>
public record ReadOptions
{
    /// <summary>Columns or signals named by the user (<c>--map</c>); they win over what the file says.</summary>
    public ColumnMap Map { get; init; } = ColumnMap.Empty;

    /// <summary>The SpO2 column or signal to use (<c>--channel</c>): a label, or #n by its number. Null: the first that holds usable numbers.</summary>
    public string? Channel { get; init; }

    /// <summary>
    /// The kinds to hold in memory; null: all. Of a table, null means every kind that is recognised; its other columns of numbers come along where
    /// <see cref="ChannelKind.Other"/> is named. What is mapped is always held. The signals of a binary file that are not wanted are passed over, not decoded.
    /// </summary>
    public IReadOnlySet<ChannelKind>? Wanted { get; init; }

    /// <summary>What the source applied before it gave out its values, where that is known.</summary>
    public SourceAveraging SourceAveraging { get; init; } = SourceAveraging.Unknown;

    /// <summary>Called now and then with the bytes read so far, on the reading thread.</summary>
    public Action<long>? Progress { get; init; }
}
