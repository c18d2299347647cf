using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Storage.Recordings;

/// <summary>What became of a recording that was to be stored.</summary>
public enum StoreOutcome
{
    Stored,

    /// <summary>The same bytes were there already; nothing was changed.</summary>
    AlreadyThere,
}

/// <summary>Which recordings of the library; null or empty: all.</summary>
/// <remarks><see cref="Text"/>: anywhere in name, patient, unit or note, whatever the case.</remarks>
public sealed record RecordingFilter(string? Text = null, string? Patient = null, string? Category = null, string? Unit = null);

/// <summary>The recordings of a library.</summary>
/// <param name="Sound">By patient, then name.</param>
/// <param name="Damaged">Empty: none.</param>
public sealed record LibraryContent(IReadOnlyList<StoredRecording> Sound, IReadOnlyList<DamagedRecording> Damaged);

/// <summary>A recording of the library that cannot be read.</summary>
/// <param name="Id">As far as it is one; null: not even that, and only a backup helps.</param>
/// <param name="Name">As it stands in the tables.</param>
/// <param name="Why">What cannot be read, in words.</param>
public sealed record DamagedRecording(RecordingId? Id, string Name, string Why);

/// <summary>The library of recordings.</summary>
public interface IRecordingStore
{
    /// <summary>Stores a recording whole or not at all.</summary>
    /// <param name="recording">As its reader gave it.</param>
    /// <param name="actor">Who imports.</param>
    /// <param name="progress">The share that is written, 0–1.</param>
    /// <param name="cancellation">Cancelled: nothing of it is stored.</param>
    Task<StoreOutcome> StoreAsync(NewRecording recording, Actor actor, IProgress<double>? progress = null, CancellationToken cancellation = default);

    /// <summary>
    /// By patient, then name; those of nobody in particular last. Their digests are not compared: that is done where one is opened. One that cannot be
    /// read is left out, so that all others can be; whoever counts recordings for people takes <see cref="LookAsync"/> and says so.
    /// </summary>
    Task<IReadOnlyList<StoredRecording>> FindAsync(RecordingFilter filter, CancellationToken cancellation = default);

    /// <summary>All that is in the library: as <see cref="FindAsync"/>, and the recordings of which not even what they are can be read. Those can be taken out like others.</summary>
    Task<LibraryContent> LookAsync(CancellationToken cancellation = default);

    /// <summary>Null: there is none of that name.</summary>
    Task<StoredRecording?> GetAsync(RecordingId id, CancellationToken cancellation = default);

    /// <summary>The recording with its samples, equal to what was stored.</summary>
    /// <param name="id">Which.</param>
    /// <param name="kinds">The kinds of channel to hold; null: all.</param>
    /// <param name="cancellation">Ends the reading.</param>
    /// <exception cref="StoreException">There is none of that name, or what is stored does not fit its own checks.</exception>
    Task<Recording> OpenAsync(RecordingId id, IReadOnlySet<ChannelKind>? kinds = null, CancellationToken cancellation = default);

    /// <summary>What one channel looks like between two times; reads at most 64 stored entries a column, however long the recording is.</summary>
    /// <exception cref="ArgumentOutOfRangeException">The window is empty, there is no such channel, or not from 1 to 100 000 columns are asked for.</exception>
    /// <exception cref="StoreException">There is no such recording, or what is stored does not fit its own checks.</exception>
    Task<ChannelWindow> WindowAsync(RecordingId id, int channelIndex, SampleTime from, SampleTime to, int columns, CancellationToken cancellation = default);

    Task<IReadOnlyList<Attachment>> AttachmentsAsync(RecordingId id, CancellationToken cancellation = default);

    /// <summary>Replaces what people say of a recording.</summary>
    Task DescribeAsync(RecordingId id, RecordingDescription description, Actor actor, CancellationToken cancellation = default);

    /// <summary>Takes a recording, its marks and its attachments out of the library; the audit keeps that it was there, who took it out, and why.</summary>
    Task RemoveAsync(RecordingId id, string why, Actor actor, CancellationToken cancellation = default);
}
