namespace Stillwatch.Formats.Parquet;

/// <summary>A column of our Parquet files; numbers as in Apache Parquet's parquet.thrift.</summary>
/// <param name="Name">Units last.</param>
/// <param name="Type">1: INT32, 2: INT64, 5: DOUBLE, 6: BYTE_ARRAY.</param>
/// <param name="IsOptional">Whether a row may have none.</param>
/// <param name="IsConstant">One value for all rows of a row group, held in its dictionary.</param>
internal sealed record ParquetColumn(string Name, int Type, bool IsOptional, bool IsConstant);

/// <summary>How our Parquet files are laid out: tidy rows, a row group a channel and <see cref="RowsPerGroup"/> rows at most, gzip pages.</summary>
internal static class ParquetLayout
{
    public const string MetadataKey = "stillwatch.recording";
    public const int RowsPerGroup = 16 * 8192;

    public const int Int32 = 1, Int64 = 2, Double = 5, ByteArray = 6;
    public const int Plain = 0, Rle = 3, RleDictionary = 8;
    public const int Gzip = 2;
    public const int DataPage = 0, DictionaryPage = 2;

    public const int ChannelNumber = 0, Label = 1, Time = 2, Value = 3, Count = 4;

    public static readonly IReadOnlyList<ParquetColumn> Columns =
    [
        new("channel_number", Int32, false, true),
        new("channel", ByteArray, false, true),
        new("time_ms", Int64, false, false),
        new("value", Double, true, false),
        new("count", Int32, true, false),
    ];

    public static ReadOnlySpan<byte> Magic => "PAR1"u8;
}
