namespace Stillwatch.Storage.Sql;

/// <summary>What a column holds, in words that both databases share.</summary>
internal enum ColumnType
{
    Text,
    Whole,
    Truth,
    Bytes,
}

internal sealed record StoreColumn(string Name, ColumnType Type);
