namespace Stillwatch.Formats.Edf;

/// <summary>The stable names of what the EDF and BDF reader lists.</summary>
public static class EdfIssueCodes
{
    // Fields of the header.
    public const string HeaderText = "header.text";
    public const string HeaderNumber = "header.number";
    public const string HeaderSize = "header.size";
    public const string HeaderReserved = "header.reserved";
    public const string HeaderDuplicate = "header.duplicate";
    public const string HeaderEmptyName = "header.empty-name";

    /// <summary>The file holds text about the patient or the staff. Never what it says.</summary>
    public const string HeaderIdentification = "header.identification";

    // When the recording began.
    public const string StartDate = "start.date";
    public const string StartTime = "start.time";
    public const string StartDisagrees = "start.disagrees";
    public const string StartPlaceholder = "start.placeholder";

    // Signals.
    public const string SignalNone = "signal.none";
    public const string SignalNoSamples = "signal.no-samples";

    /// <summary>The ends of the scale are missing or fall together: counts without a unit.</summary>
    public const string SignalNoScale = "signal.no-scale";
    public const string SignalScale = "signal.scale";

    /// <summary>Counts beyond the ends that the header states; each count of the issue is one sample.</summary>
    public const string SignalBeyondRange = "signal.beyond-range";

    // Data records.

    /// <summary>Nothing is left to make a recording of.</summary>
    public const string RecordNone = "record.none";
    public const string RecordDuration = "record.duration";
    public const string RecordLarge = "record.large";
    public const string RecordCount = "record.count";
    public const string RecordCountUnknown = "record.count-unknown";

    /// <summary>The last data record is not whole; each count is one byte that is missing.</summary>
    public const string RecordCut = "record.cut";

    /// <summary>Bytes behind the last data record; each count is one.</summary>
    public const string RecordSurplus = "record.surplus";

    /// <summary>A discontinuous file does not say when the record was; its samples are not used. Each count is one data record.</summary>
    public const string RecordNoTime = "record.no-time";

    /// <summary>A record of a discontinuous file lies before the end of another; its samples are not used. Each count is one data record.</summary>
    public const string RecordOrder = "record.order";

    /// <summary>A continuous file whose own times do not go on continuously. Each count is one data record.</summary>
    public const string RecordDrift = "record.drift";
    public const string RecordGaps = "record.gaps";

    // Notes (annotations).
    public const string NotesNone = "notes.none";
    public const string NotesUnexpected = "notes.unexpected";
    public const string NotesNoTime = "notes.no-time";
    public const string NotesFirstTime = "notes.first-time";
    public const string NotesMalformed = "notes.malformed";
    public const string NotesText = "notes.text";
}
