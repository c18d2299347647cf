using System.Buffers;
using System.Security.Cryptography;
using Stillwatch.Signals;
using Stillwatch.Storage.Samples;
using Stillwatch.Storage.Sql;
using Stillwatch.Time;

namespace Stillwatch.Storage.Recordings;

/// <summary>Writes one recording into a transaction, chunk by chunk: beside the recording itself it holds one chunk, whatever its length.</summary>
internal sealed class RecordingWriting : IDisposable
{
    private readonly Session session;
    private readonly NewRecording stored;
    private readonly IProgress<double>? progress;
    private readonly List<TimeAxis> axes = [];
    private readonly Packing packing = new();
    private readonly byte[] bytes = ArrayPool<byte>.Shared.Rent(Math.Max(PyramidCodec.MostBytes, TimeCodec.MostBytes));
    private readonly int[] samples = new int[TimeAxis.ChunkLength];
    private readonly long[] times = new long[TimeAxis.ChunkLength];
    private readonly long chunksInAll;
    private long chunksDone;

    public RecordingWriting(Session session, NewRecording stored, DateTimeOffset at, Actor actor, IProgress<double>? progress)
    {
        this.session = session;
        this.stored = stored;
        this.progress = progress;
        foreach (var channel in stored.Recording.Channels)
        {
            if (AxisIndex(channel) < 0) axes.Add(channel.Times);
            chunksInAll += channel.Times.ChunkCount;
        }

        Head = RecordingHead.Of(stored, axes, AxisIndex, at, actor);
    }

    public RecordingHead Head { get; }

    /// <summary>False: a recording of that name is there already, and nothing was written.</summary>
    public async Task<bool> WriteAsync()
    {
        if (await session.RunAsync("recordings/add", Head.Recording).ConfigureAwait(false) == 0) return false;
        foreach (var file in Head.Files) await session.RunAsync("recordings/add-file", file).ConfigureAwait(false);
        foreach (var issue in Head.Issues) await session.RunAsync("recordings/add-issue", issue).ConfigureAwait(false);
        for (int i = 0; i < stored.Attachments.Count; i++) await AddAttachmentAsync(i, stored.Attachments[i]).ConfigureAwait(false);
        for (int i = 0; i < axes.Count; i++) await AddAxisAsync(i).ConfigureAwait(false);
        foreach (var channel in Head.Channels) await AddChannelAsync(channel).ConfigureAwait(false);
        await AddAnnotationsAsync().ConfigureAwait(false);
        progress?.Report(1);
        return true;
    }

    public void Dispose()
    {
        packing.Dispose();
        ArrayPool<byte>.Shared.Return(bytes);
    }

    private int AxisIndex(Channel channel) => axes.FindIndex(axis => ReferenceEquals(axis, channel.Times));

    private Task<int> AddAttachmentAsync(int number, Attachment attachment) => session.RunAsync("recordings/add-attachment", new AttachmentRow
    {
        Recording = stored.Id.Text,
        Number = number,
        Role = StoredText.Of(attachment.Role),
        Name = StoredText.Of(attachment.Name),
        Sha256 = Convert.ToHexStringLower(SHA256.HashData(attachment.Content)),
        Content = attachment.Content,
    });

    private async Task AddAxisAsync(int number)
    {
        await session.RunAsync("recordings/add-axis", Head.Axes[number]).ConfigureAwait(false);
        var axis = axes[number];
        if (axis.Rate is not null) return;
        for (int chunk = 0; chunk < axis.ChunkCount; chunk++)
        {
            int count = axis.CopyChunk(chunk, times);
            var row = Chunk(number, 0, chunk, count, times[0], times[count - 1], TimeCodec.Write(times.AsSpan(0, count), bytes));
            await session.RunAsync("samples/add-time-chunk", row.Sealed(ChunkContent.Times)).ConfigureAwait(false);
        }
    }

    private async Task AddChannelAsync(ChannelRow row)
    {
        await session.RunAsync("recordings/add-channel", row).ConfigureAwait(false);
        var channel = stored.Recording.Channels[row.Number];
        var axis = channel.Times;
        var pyramid = new PyramidBuilder(new PyramidShape(row.EntryMilliseconds, row.Levels), axis.Count > 0 ? axis.First.Milliseconds : 0);
        for (int chunk = 0; chunk < axis.ChunkCount; chunk++)
        {
            int count = channel.Counts?.CopyChunk(chunk, samples) ?? channel.Values.CopyChunk(chunk, samples);
            axis.CopyChunk(chunk, times);
            var level0 = Chunk(row.Number, 0, chunk, count, times[0], times[count - 1], SampleCodec.Write(samples.AsSpan(0, count), bytes));
            await session.RunAsync("samples/add-sample-chunk", level0.Sealed(ChunkContent.Samples)).ConfigureAwait(false);
            pyramid.Add(times.AsSpan(0, count), samples.AsSpan(0, count));
            await AddEntriesAsync(row, axis, pyramid.TakeFinished()).ConfigureAwait(false);
            progress?.Report(++chunksDone / (double)chunksInAll);
        }

        await AddEntriesAsync(row, axis, pyramid.Finish()).ConfigureAwait(false);
    }

    private async Task AddEntriesAsync(ChannelRow channel, TimeAxis axis, IReadOnlyList<PyramidChunk> chunks)
    {
        foreach (var chunk in chunks)
        {
            long width = new PyramidShape(channel.EntryMilliseconds, channel.Levels).WidthOf(chunk.Level), first = axis.First.Milliseconds;
            var row = Chunk(
                channel.Number, chunk.Level, chunk.Chunk, chunk.Entries.Count, first + chunk.Entries[0].Bin * width, first + chunk.Entries[^1].Bin * width + (width - 1),
                PyramidCodec.Write(chunk.Entries, bytes));
            await session.RunAsync("samples/add-sample-chunk", row.Sealed(ChunkContent.Entries)).ConfigureAwait(false);
        }
    }

    private async Task AddAnnotationsAsync()
    {
        var pending = new List<byte>();
        int count = 0, chunk = 0;
        var annotations = stored.Recording.Annotations;
        for (int i = 0; i < annotations.Count; i++)
        {
            AnnotationCodec.Write(annotations[i], pending);
            if (++count < AnnotationCodec.MostAnnotations && pending.Count < AnnotationCodec.EnoughBytes && i + 1 < annotations.Count) continue;
            byte[] content = [.. pending];
            StoredContent.RequireRoom(content, "the notes of a recording", session.Database.Where);
            var row = new ChunkRow { Recording = stored.Id.Text, Chunk = chunk++, RowCount = count, Content = packing.Pack(content) };
            await session.RunAsync("samples/add-annotation-chunk", row.Sealed(ChunkContent.Annotations)).ConfigureAwait(false);
            pending.Clear();
            count = 0;
        }
    }

    private ChunkRow Chunk(int owner, int level, int chunk, int count, long first, long last, int length) => new()
    {
        Recording = stored.Id.Text,
        Owner = owner,
        Level = level,
        Chunk = chunk,
        RowCount = count,
        FirstMilliseconds = first,
        LastMilliseconds = last,
        Content = packing.Pack(bytes.AsSpan(0, length)),
    };
}
