namespace Stillwatch.Storage.Recordings;

/// <summary>A recording as it stands in its table.</summary>
internal sealed class RecordingRow
{
    public required string Id { get; init; }

    public required string Name { get; init; }

    public required string StartKind { get; init; }

    public required string StartText { get; init; }

    public long? SourceAveragingMilliseconds { get; init; }

    public required string Format { get; init; }

    public string? ExportOf { get; init; }

    public bool IsInvented { get; init; }

    public long AnnotationCount { get; init; }

    public byte[] Digest { get; set; } = [];

    public required string ImportedAt { get; init; }

    public required string ImportedBy { get; init; }

    public string? Patient { get; init; }

    public string? Category { get; init; }

    public string? Unit { get; init; }

    public string? Oxygen { get; init; }

    public string? SourceAveragingSeconds { get; init; }

    public string? TargetLow { get; init; }

    public string? TargetHigh { get; init; }

    public string? SettingsInForceJson { get; init; }

    public string? Note { get; init; }

    public required string SearchText { get; init; }
}

internal sealed class FileRow
{
    public required string Recording { get; init; }

    public int Number { get; init; }

    public required string Name { get; init; }

    public required string Sha256 { get; init; }

    public long ByteCount { get; init; }
}

internal sealed class IssueRow
{
    public required string Recording { get; init; }

    public int Number { get; init; }

    public required string Severity { get; init; }

    public required string Code { get; init; }

    public required string Place { get; init; }

    public required string Found { get; init; }

    public required string Expected { get; init; }

    public required string Assumed { get; init; }

    public long AlikeCount { get; init; }
}

internal sealed class AxisRow
{
    public required string Recording { get; init; }

    public int Number { get; init; }

    public int RowCount { get; init; }

    public long FirstMilliseconds { get; init; }

    public long LastMilliseconds { get; init; }

    public long PeriodMilliseconds { get; init; }

    public bool IsPeriodDeclared { get; init; }

    /// <summary>Null: the axis is uneven, and its times stand in chunks.</summary>
    public long? RateSamples { get; init; }

    public long? RateMilliseconds { get; init; }
}

internal sealed class ChannelRow
{
    public const string Decimals = "decimals", Counts = "counts";

    public required string Recording { get; init; }

    public int Number { get; init; }

    public int Axis { get; init; }

    public required string Label { get; init; }

    public required string Kind { get; init; }

    public required string Unit { get; init; }

    public required string Holds { get; init; }

    public long? CalibrationOrigin { get; init; }

    public string? CalibrationOffset { get; init; }

    public string? CalibrationNumerator { get; init; }

    public string? CalibrationDenominator { get; init; }

    public long EntryMilliseconds { get; init; }

    public int Levels { get; init; }
}

internal sealed class AttachmentRow
{
    public required string Recording { get; init; }

    public int Number { get; init; }

    public required string Role { get; init; }

    public required string Name { get; init; }

    public required string Sha256 { get; init; }

    public required byte[] Content { get; init; }
}
