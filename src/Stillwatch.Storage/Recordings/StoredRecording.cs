using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Storage.Recordings;

/// <summary>A file that a recording was read from.</summary>
/// <param name="Name">Without folders.</param>
/// <param name="Sha256">Lower-case hexadecimal.</param>
/// <param name="Bytes">Its length.</param>
public sealed record SourceFile(string Name, string Sha256, long Bytes);

/// <summary>A small file that belongs to a recording, kept as it is.</summary>
/// <param name="Role">"alarm log".</param>
/// <param name="Name">Without folders.</param>
/// <param name="Content">Its bytes.</param>
public sealed record Attachment(string Role, string Name, byte[] Content);

/// <summary>A recording to be stored, as its reader gave it.</summary>
public sealed record NewRecording
{
    public required RecordingId Id { get; init; }

    public required Recording Recording { get; init; }

    /// <summary>The file, then the parts that were read with it.</summary>
    public required IReadOnlyList<SourceFile> Files { get; init; }

    /// <summary>What the file is, in a few words.</summary>
    public required string Format { get; init; }

    public required IReadOnlyList<ReadIssue> Issues { get; init; }

    public RecordingDescription Description { get; init; } = RecordingDescription.Nothing;

    /// <summary>Where it is an export of ours: the identity of what it was exported from, for those hold the same hours.</summary>
    public string? ExportOf { get; init; }

    public bool IsInvented { get; init; }

    public IReadOnlyList<Attachment> Attachments { get; init; } = [];
}

/// <summary>One channel of a stored recording, without its samples.</summary>
/// <param name="Index">Its place in the recording, from 0.</param>
/// <param name="Label">As the source has it.</param>
/// <param name="Kind">What it measures.</param>
/// <param name="Unit">"%", "/min"; empty where unknown.</param>
/// <param name="Rows">How many rows, with or without a number.</param>
/// <param name="Start">Time of the first row; zero without rows.</param>
/// <param name="End">One period after the last row.</param>
/// <param name="Period">The channel's period.</param>
public sealed record StoredChannel(int Index, string Label, ChannelKind Kind, string Unit, long Rows, SampleTime Start, SampleTime End, Duration Period);

/// <summary>A recording of the library, without its samples.</summary>
public sealed record StoredRecording
{
    public required RecordingId Id { get; init; }

    public required string Name { get; init; }

    public required RecordingStart Start { get; init; }

    public required SourceAveraging SourceAveraging { get; init; }

    public required IReadOnlyList<StoredChannel> Channels { get; init; }

    public required IReadOnlyList<SourceFile> Files { get; init; }

    public required string Format { get; init; }

    public required IReadOnlyList<ReadIssue> Issues { get; init; }

    public required RecordingDescription Description { get; init; }

    public required string? ExportOf { get; init; }

    public required bool IsInvented { get; init; }

    public required DateTimeOffset ImportedAt { get; init; }

    public required Actor ImportedBy { get; init; }

    public StoredChannel? Find(ChannelKind kind) => Channels.FirstOrDefault(c => c.Kind == kind);

    /// <summary>From the first row of any channel to the end of the last.</summary>
    public TimeSlice Span
    {
        get
        {
            var filled = Channels.Where(c => c.Rows > 0).ToList();
            return filled.Count == 0 ? new TimeSlice(default, default) : new TimeSlice(filled.Min(c => c.Start), filled.Max(c => c.End));
        }
    }
}
