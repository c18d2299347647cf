namespace Stillwatch.Formats.AlarmLists;

/// <summary>The stable names of what the reader of alarm lists notes, besides those of tables and times it shares with the reader of recordings.</summary>
public static class AlarmListIssueCodes
{
    // A line that gave no entry. Exactly one of these, or row.blank, row.text, row.too-many-cells, row.open-quote, time.unreadable, is counted for each such line.
    public const string RowNoText = "alarm.no-text";
    public const string RowEnds = "alarm.ends-another";
    public const string RowRepeated = "alarm.repeated";
    public const string EndWithoutStart = "alarm.end-without-start";

    // An entry that was taken with a remark.
    public const string TextNotUnderstood = "alarm.not-understood";
    public const string LengthUnreadable = "alarm.length-unreadable";
    public const string LengthImpossible = "alarm.length-impossible";
    public const string PriorityUnreadable = "alarm.priority-unreadable";
    public const string LimitUnreadable = "alarm.limit-unreadable";
    public const string OutsideRecording = "alarm.outside-recording";

    // The list as a whole.
    public const string TextByContent = "alarm.text-by-content";
    public const string ColumnNotUsed = "alarm.column-not-used";
    public const string NoEntries = "alarm.no-entries";
    public const string NewestFirst = "alarm.newest-first";
    public const string ClockZone = "alarm.clock-zone";
    public const string ClockNoDate = "alarm.clock-no-date";
    public const string ClockElapsed = "alarm.clock-elapsed";

    /// <summary>Whether each count of the code is one line of the table that gave no entry of its own.</summary>
    public static bool MeansLineWithoutEntry(string code) =>
        code is RowNoText or RowEnds or RowRepeated or EndWithoutStart || Csv.CsvIssueCodes.MeansLineNotUsed(code);
}
