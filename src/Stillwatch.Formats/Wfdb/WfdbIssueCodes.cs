namespace Stillwatch.Formats.Wfdb;

/// <summary>The stable names of what the WFDB reader lists, beside those of <see cref="Labels.ChannelIssueCodes"/>.</summary>
public static class WfdbIssueCodes
{
    // The header.
    public const string HeaderComments = "header.comments";
    public const string HeaderDefault = "header.default";
    public const string HeaderField = "header.field";
    public const string HeaderName = "header.name";
    public const string HeaderLineOpen = "header.line-open";
    public const string HeaderLinesMissing = "header.lines-missing";
    public const string HeaderLinesSurplus = "header.lines-surplus";
    public const string HeaderStart = "header.start";

    /// <summary>A rate written as a rounded decimal, taken as the fraction that it stands for.</summary>
    public const string RateSnapped = "rate.snapped";

    /// <summary>No samples and no annotations.</summary>
    public const string RecordNone = "record.none";

    // A signal that is not read.
    public const string SignalNoFile = "signal.no-file";
    public const string SignalRefused = "signal.refused";
    public const string SignalTooMany = "signal.too-many";

    // A signal that is read with a remark.
    public const string SignalUncalibrated = "signal.uncalibrated";
    public const string SignalSkew = "signal.skew";
    public const string SignalChecksum = "signal.checksum";
    public const string SignalInitialValue = "signal.initial-value";
    public const string SignalRange = "signal.range";
    public const string SignalCalibrationChanges = "signal.calibration-changes";

    // A signal file against its header.
    public const string FileShort = "file.short";
    public const string FileLong = "file.long";
    public const string FileRemainder = "file.remainder";
    public const string FileCountUnknown = "file.count-unknown";
    public const string FileBeside = "file.beside";

    // Segments.
    public const string SegmentMissing = "segment.missing";
    public const string SegmentRefused = "segment.refused";
    public const string SegmentLength = "segment.length";
    public const string SegmentGap = "segment.gap";

    // Annotations.
    public const string AnnotationUnreadable = "annotation.unreadable";
    public const string AnnotationOrder = "annotation.order";
    public const string AnnotationTime = "annotation.time";
}
