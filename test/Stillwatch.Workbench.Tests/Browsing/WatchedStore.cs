using System.Collections.Concurrent;
using Stillwatch.Signals;
using Stillwatch.Storage;
using Stillwatch.Storage.Audit;
using Stillwatch.Storage.Marks;
using Stillwatch.Storage.Recordings;
using Stillwatch.Storage.Reports;
using Stillwatch.Storage.Settings;
using Stillwatch.Time;

namespace Stillwatch.Workbench.Tests.Browsing;

/// <summary>What a picture asked the store for.</summary>
internal sealed record AskedWindow(int Channel, SampleTime From, SampleTime To, int Columns);

/// <summary>A real store, with everything that is asked of its recordings written down.</summary>
internal sealed class WatchedStore(IWorkbenchStore store) : IWorkbenchStore, IRecordingStore
{
    public ConcurrentQueue<AskedWindow> Windows { get; } = new();

    /// <summary>How often samples of a whole recording were read.</summary>
    public int Opened => opened;

    public IRecordingStore Recordings => this;

    public IMarkStore Marks => store.Marks;

    public ISettingsHistory Settings => store.Settings;

    public IReportStore Reports => store.Reports;

    public IAuditTrail Audit => store.Audit;

    private int opened;

    public Task<StoreOutcome> StoreAsync(NewRecording recording, Actor actor, IProgress<double>? progress = null, CancellationToken cancellation = default) =>
        store.Recordings.StoreAsync(recording, actor, progress, cancellation);

    public Task<LibraryContent> LookAsync(CancellationToken cancellation = default) => store.Recordings.LookAsync(cancellation);

    public Task<IReadOnlyList<StoredRecording>> FindAsync(RecordingFilter filter, CancellationToken cancellation = default) => store.Recordings.FindAsync(filter, cancellation);

    public Task<StoredRecording?> GetAsync(RecordingId id, CancellationToken cancellation = default) => store.Recordings.GetAsync(id, cancellation);

    public Task<Recording> OpenAsync(RecordingId id, IReadOnlySet<ChannelKind>? kinds = null, CancellationToken cancellation = default)
    {
        Interlocked.Increment(ref opened);
        return store.Recordings.OpenAsync(id, kinds, cancellation);
    }

    public Task<ChannelWindow> WindowAsync(RecordingId id, int channelIndex, SampleTime from, SampleTime to, int columns, CancellationToken cancellation = default)
    {
        Windows.Enqueue(new AskedWindow(channelIndex, from, to, columns));
        return store.Recordings.WindowAsync(id, channelIndex, from, to, columns, cancellation);
    }

    public Task<IReadOnlyList<Attachment>> AttachmentsAsync(RecordingId id, CancellationToken cancellation = default) => store.Recordings.AttachmentsAsync(id, cancellation);

    public Task DescribeAsync(RecordingId id, RecordingDescription description, Actor actor, CancellationToken cancellation = default) => store.Recordings.DescribeAsync(id, description, actor, cancellation);

    public Task RemoveAsync(RecordingId id, string why, Actor actor, CancellationToken cancellation = default) => store.Recordings.RemoveAsync(id, why, actor, cancellation);

    public ValueTask DisposeAsync() => store.DisposeAsync();
}
