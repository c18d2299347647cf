using Stillwatch.Formats.Edf.Header;

namespace Stillwatch.Formats.Edf.Records;

/// <summary>Where the data records lie. The file's length says how many there are; the header's count is compared with it, never believed.</summary>
/// <param name="DataStart">The first record's first byte.</param>
/// <param name="RecordBytes">Length of a record; 0 where no signal has samples.</param>
/// <param name="WholeCount">Records that are there from end to end.</param>
/// <param name="PartBytes">Bytes of a last record that is not whole; 0: there is none.</param>
internal sealed record RecordLayout(long DataStart, long RecordBytes, long WholeCount, long PartBytes)
{
    private const long RecommendedMostBytes = 61_440; // EDF specification; said of EDF, not of BDF

    /// <summary>Whole records and a part of one.</summary>
    public long Count => WholeCount + (PartBytes > 0 ? 1 : 0);

    /// <summary>How many bytes of a stretch of a record are in the file.</summary>
    public long BytesThere(long record, long offsetInRecord, long length) =>
        record < WholeCount ? length : Math.Clamp(PartBytes - offsetInRecord, 0, length);

    public long PositionOf(long record, long offsetInRecord) => DataStart + record * RecordBytes + offsetInRecord;

    public static RecordLayout Of(EdfHeader header, long fileBytes, IssueLog issues)
    {
        long recordBytes = header.RecordBytes;
        long there = Math.Max(0, fileBytes - header.DataStart);
        if (!header.IsBdf && recordBytes > RecommendedMostBytes)
        {
            issues.Note(EdfIssueCodes.RecordLarge, "", HeaderFields.Place(EdfFields.SamplesPerRecord), $"data records of {recordBytes} bytes", $"at most {RecommendedMostBytes} bytes, as EDF recommends", "read as they are");
        }

        if (recordBytes == 0)
        {
            if (there > 0) Surplus(there);
            return new RecordLayout(header.DataStart, 0, 0, 0);
        }

        long whole = there / recordBytes, rest = there % recordBytes;
        string holds = $"{whole} data records{(rest > 0 ? $" and {rest} bytes" : "")}, by the file's length";
        string place = HeaderFields.Place(EdfFields.RecordCount);
        if (header.RecordCount is not { } claimed || claimed < -1)
            issues.Doubt(EdfIssueCodes.RecordCount, "", place, header.RecordCount is { } negative ? $"{negative}" : "no whole number", holds, "what is there is read");
        else if (claimed == -1)
            issues.Doubt(EdfIssueCodes.RecordCountUnknown, "", place, "-1: not known, the recording was not closed", "a count", $"{holds}: what is there is read");
        else if (claimed != whole)
            issues.Doubt(EdfIssueCodes.RecordCount, "", place, $"{claimed}", holds, "what is there is read");

        if (rest > 0 && header.RecordCount == whole)
        {
            Surplus(rest);
            rest = 0;
        }
        else if (rest > 0)
        {
            issues.Doubt(EdfIssueCodes.RecordCut, "", $"data record {whole + 1}", $"{rest} bytes", $"{recordBytes} bytes", "each signal's samples as far as they are whole; the recording ends there", recordBytes - rest);
        }

        return new RecordLayout(header.DataStart, recordBytes, whole, rest);

        void Surplus(long bytes) =>
            issues.Doubt(EdfIssueCodes.RecordSurplus, "", $"byte {fileBytes - bytes}", $"{bytes} bytes behind the last data record", "the end of the file", "not used", bytes);
    }
}
