using Stillwatch.Formats.Labels;
using Stillwatch.Formats.Csv.Layout;
using Stillwatch.Formats.Csv.Text;
using Stillwatch.Quantities;
using Stillwatch.Signals;

namespace Stillwatch.Formats.Csv.Rows;

/// <summary>Reads the cells of one column into millionths and lists those that hold no number, or one taken with a remark.</summary>
internal sealed class CellReader
{
    // Different texts named one by one; further ones are counted together.
    private const int TextsNamed = 20;
    private const int TextLengthNamed = 40;
    private const string OtherTexts = "\u0001other";

    private readonly PlannedChannel column;
    private readonly char decimalMark;
    private readonly IssueLog issues;
    private readonly Dictionary<string, string> textKeys = [];
    private readonly Dictionary<string, string>.AlternateLookup<ReadOnlySpan<char>> textKeysBySpan;

    public CellReader(PlannedChannel column, char decimalMark, IssueLog issues)
    {
        this.column = column;
        this.decimalMark = decimalMark;
        this.issues = issues;
        textKeysBySpan = textKeys.GetAlternateLookup<ReadOnlySpan<char>>();
    }

    public PlannedChannel Column => column;

    /// <summary>The value in millionths, or <see cref="TableColumn.Missing"/> for a blank cell and for one without a number.</summary>
    public long Read(ReadOnlySpan<char> cell, long lineNumber)
    {
        if (DecimalText.TryReadPlain(cell, decimalMark, out int micro)) return micro;
        if (cell.IsWhiteSpace()) return TableColumn.Missing;
        switch (DecimalText.Read(cell, decimalMark, out micro))
        {
            case NumberReading.Number:
                return micro;
            case NumberReading.Rounded:
                NoteRounded(cell, lineNumber);
                return micro;
            case NumberReading.TooLarge when column.Kind.MayBeCounts() && TryReadWide(cell, lineNumber, out long wide):
                return wide;
            case NumberReading.TooLarge:
                if (!issues.TryCount(CsvIssueCodes.ValueTooLarge, column.Label))
                {
                    issues.Doubt(CsvIssueCodes.ValueTooLarge, column.Label, Place(lineNumber), IssueLog.Show(cell), column.Kind.MayBeCounts() ? "a number within ±2147483647" : "a number within ±2147.483647", "a row without a number");
                }

                return TableColumn.Missing;
            default:
                return ReadOther(cell, lineNumber);
        }
    }

    // No rule judges the column: it may hold a converter's counts of any size.
    private bool TryReadWide(ReadOnlySpan<char> cell, long lineNumber, out long micro)
    {
        micro = TableColumn.Missing;
        if (DecimalText.ReadDecimal(cell, decimalMark, out decimal value) != NumberReading.Number || Math.Abs(value) > TableColumn.Largest) return false;
        decimal exact = value * FixedPoint.One;
        micro = (long)Math.Round(exact, MidpointRounding.AwayFromZero);
        if (micro != exact) NoteRounded(cell, lineNumber);
        return true;
    }

    private void NoteRounded(ReadOnlySpan<char> cell, long lineNumber)
    {
        if (!issues.TryCount(CsvIssueCodes.ValueRounded, column.Label))
            issues.Note(CsvIssueCodes.ValueRounded, column.Label, Place(lineNumber), IssueLog.Show(cell), "at most six decimals", "rounded to 0.000001");
    }

    private string Place(long lineNumber) => $"line {lineNumber}, column {column.Label}";

    private long ReadOther(ReadOnlySpan<char> cell, long lineNumber)
    {
        var text = cell.Trim();
        if (column.Kind is ChannelKind.SpO2 or ChannelKind.InhaledOxygen or ChannelKind.PerfusionIndex && text[^1] == '%'
            && DecimalText.Read(text[..^1], decimalMark, out int percent) == NumberReading.Number)
        {
            if (!issues.TryCount(CsvIssueCodes.ValueUnit, column.Label))
                issues.Note(CsvIssueCodes.ValueUnit, column.Label, Place(lineNumber), IssueLog.Show(cell), "a plain number", "taken as percent");
            return percent;
        }

        if (column.Kind == ChannelKind.SourceValid && Word(text) is { } flag)
        {
            if (!issues.TryCount(CsvIssueCodes.ValueWord, column.Label))
                issues.Note(CsvIssueCodes.ValueWord, column.Label, Place(lineNumber), IssueLog.Show(cell), "0 or 1", "true, yes, valid and ok mean valid; false, no and invalid mean not valid");
            return flag ? FixedPoint.One : 0;
        }

        CountText(text, lineNumber);
        return TableColumn.Missing;
    }

    private static bool? Word(ReadOnlySpan<char> text)
    {
        Span<char> lower = stackalloc char[8];
        if (text.Length > lower.Length) return null;
        lower = lower[..text.ToLowerInvariant(lower)];
        return lower switch
        {
            "true" or "yes" or "valid" or "ok" or "y" or "t" => true,
            "false" or "no" or "invalid" or "n" or "f" => false,
            _ => null,
        };
    }

    private void CountText(ReadOnlySpan<char> text, long lineNumber)
    {
        if (text.Length > TextLengthNamed) text = text[..TextLengthNamed];
        if (!textKeysBySpan.TryGetValue(text, out string? key))
        {
            if (textKeys.Count < TextsNamed) textKeys[text.ToString()] = key = $"{column.Label}\u0001{text}";
            else key = column.Label + OtherTexts;
        }

        if (issues.TryCount(CsvIssueCodes.ValueText, key)) return;
        string found = textKeys.Count < TextsNamed || textKeysBySpan.ContainsKey(text) ? IssueLog.Show(text) : $"{IssueLog.Show(text)} and other texts";
        issues.Doubt(CsvIssueCodes.ValueText, key, Place(lineNumber), found, "a number", "a row without a number");
    }
}
