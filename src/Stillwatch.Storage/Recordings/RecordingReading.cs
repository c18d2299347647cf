using Stillwatch.Signals;
using Stillwatch.Storage.Samples;
using Stillwatch.Storage.Sql;
using Stillwatch.Time;

namespace Stillwatch.Storage.Recordings;

/// <summary>Reads one recording back, and checks each chunk on the way.</summary>
internal sealed class RecordingReading(Session session, RecordingHead head) : IDisposable
{
    private readonly Packing packing = new();
    private readonly Dictionary<int, TimeAxis> axes = [];

    private string Id => head.Recording.Id;

    public async Task<Recording> OpenAsync(IReadOnlySet<ChannelKind>? kinds)
    {
        var channels = new List<Channel>();
        foreach (var row in head.Channels)
        {
            var kind = Enum.Parse<ChannelKind>(row.Kind);
            if (kinds is null || kinds.Contains(kind)) channels.Add(await ChannelAsync(row, kind).ConfigureAwait(false));
        }

        return new Recording(StoredText.Back(head.Recording.Name), StoredStart.Back(head.Recording.StartKind, head.Recording.StartText), channels, head.Averaging, await AnnotationsAsync().ConfigureAwait(false));
    }

    public void Dispose() => packing.Dispose();

    private async Task<Channel> ChannelAsync(ChannelRow row, ChannelKind kind)
    {
        var axis = await AxisAsync(head.AxisOf(row)).ConfigureAwait(false);
        var (decimals, counts) = (new ValueColumn.Builder(), new CountColumn.Builder());
        bool isCounts = row.Holds == ChannelRow.Counts;
        int[] samples = new int[TimeAxis.ChunkLength];
        int chunks = 0;
        await foreach (var chunk in session.EachAsync<ChunkRow>("samples/sample-chunks", new { Recording = Id, Owner = row.Number }).WithCancellation(session.Cancellation).ConfigureAwait(false))
        {
            session.Cancellation.ThrowIfCancellationRequested();
            ChunkReading.InTurn(chunk, chunks++);
            var read = ChunkReading.Samples(packing, chunk, samples);
            if (isCounts) counts.Add(read);
            else foreach (int sample in read) decimals.Add(sample);
        }

        if ((isCounts ? counts.Count : decimals.Count) != axis.Count)
            throw new InvalidDataException($"channel {row.Number} has {(isCounts ? counts.Count : decimals.Count)} samples for {axis.Count} times: chunks are missing");
        string label = StoredText.Back(row.Label), unit = StoredText.Back(row.Unit);
        return isCounts
            ? new Channel(label, kind, unit, axis, counts.Build(RecordingHead.CalibrationOf(row)))
            : new Channel(label, kind, unit, axis, decimals.Build());
    }

    private async Task<TimeAxis> AxisAsync(AxisRow row)
    {
        if (axes.TryGetValue(row.Number, out var known)) return known;
        var axis = row.RateSamples is { } ofRate && row.RateMilliseconds is { } inTime
            ? Even(row, SampleRate.Of(ofRate, inTime))
            : await UnevenAsync(row).ConfigureAwait(false);
        if (axis.Count != row.RowCount || axis.Period.Milliseconds != row.PeriodMilliseconds || (axis.Count > 0 && axis.Last.Milliseconds != row.LastMilliseconds))
            throw new InvalidDataException($"the times of axis {row.Number} do not fit what is said of them");
        axes.Add(row.Number, axis);
        return axis;
    }

    private static TimeAxis Even(AxisRow row, SampleRate rate)
    {
        var first = new SampleTime(row.FirstMilliseconds);
        if (row.IsPeriodDeclared) return TimeAxis.Even(first, rate, row.RowCount);
        // An even axis whose period was found and not declared comes of times one by one, and does so again.
        var builder = new TimeAxis.Builder();
        for (int i = 0; i < row.RowCount; i++) builder.Add(row.FirstMilliseconds + rate.MillisecondsAt(i));
        return builder.Build();
    }

    private async Task<TimeAxis> UnevenAsync(AxisRow row)
    {
        var builder = new TimeAxis.Builder(mayShareMilliseconds: true);
        long[] times = new long[TimeAxis.ChunkLength];
        int chunks = 0;
        await foreach (var chunk in session.EachAsync<ChunkRow>("samples/time-chunks", new { Recording = Id, Owner = row.Number }).WithCancellation(session.Cancellation).ConfigureAwait(false))
        {
            session.Cancellation.ThrowIfCancellationRequested();
            ChunkReading.InTurn(chunk, chunks++);
            int count = ChunkReading.Times(packing, chunk, times).Length;
            for (int i = 0; i < count; i++) builder.Add(times[i]);
        }

        return builder.Build(row.IsPeriodDeclared ? new Duration(row.PeriodMilliseconds) : null);
    }

    private async Task<IReadOnlyList<Annotation>> AnnotationsAsync()
    {
        var annotations = new List<Annotation>();
        int chunks = 0;
        await foreach (var chunk in session.EachAsync<ChunkRow>("samples/annotation-chunks", new { Recording = Id }).WithCancellation(session.Cancellation).ConfigureAwait(false))
        {
            session.Cancellation.ThrowIfCancellationRequested();
            ChunkReading.InTurn(chunk, chunks++);
            chunk.Check(ChunkContent.Annotations);
            annotations.AddRange(AnnotationCodec.Read(packing.Unpack(chunk.Content, StoredContent.MostBytes), chunk.RowCount));
        }

        if (annotations.Count != head.Recording.AnnotationCount)
            throw new InvalidDataException($"there are {annotations.Count} annotations, not {head.Recording.AnnotationCount}: chunks are missing");
        return annotations;
    }
}
