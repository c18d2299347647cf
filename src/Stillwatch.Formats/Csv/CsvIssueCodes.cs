using Stillwatch.Formats.Labels;

namespace Stillwatch.Formats.Csv;

/// <summary>The stable names of what the CSV reader lists.</summary>
public static class CsvIssueCodes
{
    // A line that is not a row of the recording. Exactly one of these is counted for each such line.
    public const string RowBlank = "row.blank";
    public const string RowText = "row.text";
    public const string RowTooManyCells = "row.too-many-cells";
    public const string RowOpenQuote = "row.open-quote";
    public const string TimeUnreadable = "time.unreadable";
    public const string TimeRepeated = "time.repeated";

    // Lines before the table.
    public const string FilePreamble = "file.preamble";
    public const string HeaderUnits = "header.units";

    // A cell of a held column that gave no number. Exactly one of these is counted for each such cell.
    public const string ValueText = "value.text";
    public const string ValueTooLarge = ChannelIssueCodes.ValueTooLarge;

    // A number that was taken with a remark.
    public const string ValueRounded = "value.rounded";
    public const string ValueUnit = "value.unit";
    public const string ValueWord = "value.word";
    public const string ValueScaled = ChannelIssueCodes.ValueScaled;
    public const string ValueScaleUnclear = ChannelIssueCodes.ValueScaleUnclear;

    // A row that was taken with a remark.
    public const string CellsMissing = "cells.missing";
    public const string CellsSurplusEmpty = "cells.surplus-empty";
    public const string TimeOutOfOrder = "time.out-of-order";
    public const string TimeMidnight = "time.midnight";
    public const string TimeRounded = "time.rounded";

    // The file as a whole.
    public const string FileEncoding = "file.encoding";
    public const string FileSeparator = "file.separator";
    public const string FileDecimalMark = "file.decimal-mark";
    public const string FileNoRows = "file.no-rows";
    public const string HeaderAbsent = "header.absent";
    public const string HeaderDuplicate = "header.duplicate";
    public const string HeaderMisaligned = "header.misaligned";
    public const string HeaderEmptyName = "header.empty-name";
    public const string TimeByContent = "time.by-content";
    public const string TimeSeveral = "time.several";
    public const string TimeUnit = "time.unit";
    public const string TimeForm = "time.form";
    public const string TimeDateOrder = "time.date-order";
    public const string TimeOrigin = "time.origin";
    public const string TimeUneven = "time.uneven";
    public const string TimeNone = "time.none";
    public const string ChannelChosen = ChannelIssueCodes.ChannelChosen;
    public const string ChannelNoSpO2 = ChannelIssueCodes.ChannelNoSpO2;
    public const string ChannelByName = ChannelIssueCodes.ChannelByName;
    public const string ChannelNotTaken = "channel.not-taken";
    public const string ChannelTooMany = "channel.too-many";

    /// <summary>A manifest beside a table that is not used: of another table, of a changed one, damaged, or overruled by the user.</summary>
    public const string TableManifest = "table.manifest";

    // What a table cannot hold, listed by its writer; it stands in the manifest.
    public const string TableAnnotations = "table.annotations";
    public const string TableCounts = "table.counts";
    public const string TableElapsed = "table.elapsed";

    /// <summary>Whether each count of the code is one line of the table that did not become a row of the recording.</summary>
    public static bool MeansLineNotUsed(string code) =>
        code is RowBlank or RowText or RowTooManyCells or RowOpenQuote or TimeUnreadable or TimeRepeated;

    /// <summary>Whether each count of the code is one filled cell that gave no number.</summary>
    public static bool MeansCellWithoutNumber(string code) => code is ValueText or ValueTooLarge;
}
