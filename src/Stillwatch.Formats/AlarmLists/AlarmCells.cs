using Stillwatch.Alarms;
using Stillwatch.Formats.Csv;
using Stillwatch.Formats.Csv.Layout;
using Stillwatch.Formats.Csv.Rows;
using Stillwatch.Formats.Csv.Text;
using Stillwatch.Formats.Csv.Times;
using Stillwatch.Formats.Labels;
using Stillwatch.Quantities;
using Stillwatch.Time;

namespace Stillwatch.Formats.AlarmLists;

/// <summary>Reads the cells of a list that may be missing: duration, priority, limit, state.</summary>
internal sealed class AlarmCells(CsvLayout layout, AlarmListColumns columns, IssueLog issues)
{
    private const decimal LargestSeconds = 10_000_000;

    private readonly decimal secondsPerUnit = columns.Length < 0 ? 1 : LabelVocabulary.TimeUnitOf(layout.NameOf(columns.Length)) switch
    {
        NumericTimeUnit.Milliseconds => 0.001m,
        NumericTimeUnit.Minutes => 60,
        NumericTimeUnit.Hours => 3600,
        _ => 1,
    };

    /// <summary>A duration: seconds unless the header or the cell says otherwise, or a clock reading; two parts are minutes and seconds. Null: none.</summary>
    public Duration? Length(ReadOnlySpan<char> cell)
    {
        var text = cell.Trim();
        if (text.IsEmpty) return null;
        if (ClockText.TryRead(text, DateOrder.Ask, out var reading) && reading.HasClock && !reading.HasDate)
            return new Duration(reading.HasSeconds ? reading.MillisecondsOfDay : reading.MillisecondsOfDay / 60);
        decimal unit = secondsPerUnit;
        int end = text.LastIndexOfAnyInRange('0', '9') + 1;
        var word = text[end..].Trim();
        if (!word.IsEmpty)
        {
            if (word is "ms") unit = 0.001m;
            else if (word is "min" or "mins" or "minutes") unit = 60;
            else if (word is "s" or "sec" or "secs" or "seconds" or "sek") unit = 1;
            else return null;
        }

        // Where every duration bears its unit no cell of the table is a bare number from which the decimal mark could be told.
        char mark = text[..end].Count(',') == 1 && !text[..end].Contains('.') ? ',' : layout.DecimalMark;
        return DecimalText.ReadDecimal(text[..end], mark, out decimal value) == NumberReading.Number && value >= 0 && value * unit <= LargestSeconds
            ? Duration.FromSeconds(value * unit)
            : null;
    }

    public AlarmPriority? Priority(RowCells row, int line)
    {
        if (columns.Priority < 0 || row[columns.Priority].IsWhiteSpace()) return null;
        var cell = row[columns.Priority];
        var words = AlarmWords.Of(cell.Length <= 100 ? cell.ToString() : string.Empty);
        AlarmPriority[] found =
        [
            .. words.HasAny(AlarmVocabulary.PriorityHigh) ? [AlarmPriority.High] : Array.Empty<AlarmPriority>(),
            .. words.HasAny(AlarmVocabulary.PriorityMedium) ? [AlarmPriority.Medium] : Array.Empty<AlarmPriority>(),
            .. words.HasAny(AlarmVocabulary.PriorityLow) ? [AlarmPriority.Low] : Array.Empty<AlarmPriority>(),
        ];
        if (found.Length == 1) return found[0];
        Remark(AlarmListIssueCodes.PriorityUnreadable, line, cell, "high, medium or low", "the priority is not known");
        return null;
    }

    public int? Limit(RowCells row, int line)
    {
        if (columns.Limit < 0 || row[columns.Limit].IsWhiteSpace()) return null;
        var cell = row[columns.Limit].Trim().TrimStart("<>≤≥= ");
        int end = cell.LastIndexOfAnyInRange('0', '9') + 1;
        // What follows the number is its unit.
        if (end > 0 && DecimalText.Read(cell[..end], layout.DecimalMark, out int micro) is NumberReading.Number or NumberReading.Rounded && micro is >= 0 and <= 1000 * FixedPoint.One) return micro;
        Remark(AlarmListIssueCodes.LimitUnreadable, line, row[columns.Limit], "a number", "the limit is not known");
        return null;
    }

    /// <summary>Whether a column of its own says that the alarm is over.</summary>
    public bool SaysOver(RowCells row)
    {
        if (columns.State < 0 || row[columns.State].Length is 0 or > 100) return false;
        var words = AlarmWords.Of(row[columns.State].ToString());
        return (words.HasAny(AlarmVocabulary.Ended) || words.HasAny(AlarmVocabulary.Off) || words is { Count: 1, First: "0" or "inactive" }) && !words.HasAny(AlarmVocabulary.Begun);
    }

    private void Remark(string code, int line, ReadOnlySpan<char> found, string expected, string assumed)
    {
        if (!issues.TryCount(code, "")) issues.Doubt(code, "", $"line {line}", IssueLog.Show(found), expected, assumed);
    }
}
