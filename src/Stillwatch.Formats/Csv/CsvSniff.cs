namespace Stillwatch.Formats.Csv;

/// <summary>What the first lines of a file show of its layout.</summary>
/// <param name="EncodingName">As found or assumed.</param>
/// <param name="Separator">Between cells.</param>
/// <param name="DecimalMark">In numbers.</param>
/// <param name="HeaderLineNumber">From 1; null without a header row.</param>
/// <param name="FirstRowLineNumber">The first line of values.</param>
/// <param name="Columns">The header of each column, or its number (#3) where it has none.</param>
public sealed record CsvSniff(string EncodingName, char Separator, char DecimalMark, int? HeaderLineNumber, int FirstRowLineNumber, IReadOnlyList<string> Columns);
