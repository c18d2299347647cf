using System.Security.Cryptography;
using Stillwatch.Signals;
using Stillwatch.Storage.Audit;
using Stillwatch.Storage.Sql;
using Stillwatch.Time;

namespace Stillwatch.Storage.Recordings;

internal sealed class RecordingStore(Database database, TimeProvider clock) : IRecordingStore
{
    private const int MostColumns = 100_000;

    public Task<StoreOutcome> StoreAsync(NewRecording recording, Actor actor, IProgress<double>? progress = null, CancellationToken cancellation = default) => database.ChangeAsync(
        async session =>
        {
            foreach (var attachment in recording.Attachments) StoredContent.RequireRoom(attachment.Content, "an attachment", database.Where);
            using var writing = new RecordingWriting(session, recording, StoredTime.Now(clock), actor, progress);
            if (!await writing.WriteAsync().ConfigureAwait(false)) return StoreOutcome.AlreadyThere;
            var detail = new
            {
                name = recording.Recording.Name,
                format = recording.Format,
                digest = Convert.ToHexStringLower(writing.Head.Recording.Digest),
                files = recording.Files.Select(f => new { name = f.Name, sha256 = f.Sha256, bytes = f.Bytes }),
                attached = recording.Attachments.Count == 0 ? null : string.Join(' ', recording.Attachments.Select(a => Convert.ToHexStringLower(SHA256.HashData(a.Content)))),
                to = recording.Description,
            };
            await AuditChain.AddAsync(session, clock, actor, "recording.imported", _ => recording.Id.Text, detail).ConfigureAwait(false);
            return StoreOutcome.Stored;
        },
        cancellation);

    public async Task<IReadOnlyList<StoredRecording>> FindAsync(RecordingFilter filter, CancellationToken cancellation = default) => (await ReadAsync(filter, cancellation).ConfigureAwait(false)).Sound;

    public Task<LibraryContent> LookAsync(CancellationToken cancellation = default) => ReadAsync(new RecordingFilter(), cancellation);

    public async Task<StoredRecording?> GetAsync(RecordingId id, CancellationToken cancellation = default)
    {
        var head = await database.ReadAsync(session => HeadAsync(session, id), cancellation).ConfigureAwait(false);
        return head is null ? null : Stored(head);
    }

    public Task<Recording> OpenAsync(RecordingId id, IReadOnlySet<ChannelKind>? kinds = null, CancellationToken cancellation = default) => database.ReadAsync(
        async session =>
        {
            var head = await CheckedHeadAsync(session, id).ConfigureAwait(false);
            using var reading = new RecordingReading(session, head);
            return await UndamagedAsync(head, () => reading.OpenAsync(kinds)).ConfigureAwait(false);
        },
        cancellation);

    public Task<ChannelWindow> WindowAsync(RecordingId id, int channelIndex, SampleTime from, SampleTime to, int columns, CancellationToken cancellation = default)
    {
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(from.Milliseconds, to.Milliseconds, nameof(from));
        ArgumentOutOfRangeException.ThrowIfLessThan(columns, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(columns, MostColumns);
        return database.ReadAsync(
            async session =>
            {
                var head = await CheckedHeadAsync(session, id).ConfigureAwait(false);
                var channel = head.Channels.FirstOrDefault(c => c.Number == channelIndex)
                    ?? throw new ArgumentOutOfRangeException(nameof(channelIndex), channelIndex, $"Found no channel of that index, expected 0 to {head.Channels.Count - 1}.");
                using var reading = new WindowReading(session, head, channel, from, to, columns);
                return await UndamagedAsync(head, reading.ReadAsync).ConfigureAwait(false);
            },
            cancellation);
    }

    public async Task<IReadOnlyList<Attachment>> AttachmentsAsync(RecordingId id, CancellationToken cancellation = default)
    {
        var rows = await database.ReadAsync(session => session.ReadAsync<AttachmentRow>("recordings/attachments", new { Recording = id.Text }), cancellation).ConfigureAwait(false);
        return [.. rows.Select(row => Convert.ToHexStringLower(SHA256.HashData(row.Content)) == row.Sha256
            ? new Attachment(StoredText.Back(row.Role), StoredText.Back(row.Name), row.Content)
            : throw Damaged(id.Text, $"the attachment {row.Name} is not what its checksum says", null))];
    }

    public Task DescribeAsync(RecordingId id, RecordingDescription description, Actor actor, CancellationToken cancellation = default) => database.ChangeAsync(
        async session =>
        {
            await database.LockAuditAsync(session).ConfigureAwait(false);
            var head = await HeadAsync(session, id).ConfigureAwait(false) ?? throw NoneOfThatName(id);
            var before = DescriptionColumns.Back(head.Recording);
            if (before == description) return false;
            var said = DescriptionColumns.Of(description, StoredText.Back(head.Recording.Name));
            await session.RunAsync("recordings/describe", new
            {
                Id = id.Text,
                Patient = said.Patient,
                Category = said.Category,
                Unit = said.Unit,
                Oxygen = said.Oxygen,
                SourceAveragingSeconds = said.SourceAveragingSeconds,
                TargetLow = said.TargetLow,
                TargetHigh = said.TargetHigh,
                SettingsInForceJson = said.SettingsInForceJson,
                Note = said.Note,
                SearchText = said.SearchText,
            }).ConfigureAwait(false);
            await AuditChain.AddAsync(session, clock, actor, "recording.described", _ => id.Text, new { from = before, to = description }).ConfigureAwait(false);
            return true;
        },
        cancellation);

    public Task RemoveAsync(RecordingId id, string why, Actor actor, CancellationToken cancellation = default) => database.ChangeAsync(
        async session =>
        {
            await database.LockAuditAsync(session).ConfigureAwait(false);
            var head = await HeadAsync(session, id).ConfigureAwait(false) ?? throw NoneOfThatName(id);
            var marks = await session.FirstAsync<long>("marks/count", new { Recording = id.Text }).ConfigureAwait(false);
            await session.RunAsync("recordings/remove", new { Id = id.Text }).ConfigureAwait(false);
            var detail = new { name = NameOf(head), why, marks, digest = Convert.ToHexStringLower(head.Recording.Digest) };
            return await AuditChain.AddAsync(session, clock, actor, "recording.removed", _ => id.Text, detail).ConfigureAwait(false);
        },
        cancellation);

    internal static async Task<RecordingHead?> HeadAsync(Session session, RecordingId id) =>
        id.Text is null ? null : (await HeadsAsync(session, "one", new { Id = id.Text }).ConfigureAwait(false)).SingleOrDefault();

    internal StoreException NoneOfThatName(RecordingId id) => new($"no recording {id}", "one of the library", database.Where, "it was removed, or never imported here");

    private async Task<LibraryContent> ReadAsync(RecordingFilter filter, CancellationToken cancellation)
    {
        string? Equal(string? text) => string.IsNullOrEmpty(text) ? null : StoredText.Of(text);
        var asked = new
        {
            Patient = Equal(filter.Patient),
            Category = Equal(filter.Category),
            Unit = Equal(filter.Unit),
            Pattern = string.IsNullOrEmpty(filter.Text) ? null : DescriptionColumns.PatternOf(filter.Text),
        };
        var heads = await database.ReadAsync(session => HeadsAsync(session, "find", asked), cancellation).ConfigureAwait(false);
        var sound = new List<StoredRecording>(heads.Count);
        var damaged = new List<DamagedRecording>();
        foreach (var head in heads)
        {
            try
            {
                sound.Add(Stored(head));
            }
            catch (StoreException e)
            {
                damaged.Add(new DamagedRecording(RecordingId.TryParse(head.Recording.Id, out var id) ? id : null, NameOf(head), e.Found));
            }
        }

        return new LibraryContent(
            [.. sound
                .OrderBy(r => r.Description.Patient is null) // those of nobody in particular come last
                .ThenBy(r => r.Description.Patient, StringComparer.OrdinalIgnoreCase)
                .ThenBy(r => r.Name, StringComparer.OrdinalIgnoreCase)
                .ThenBy(r => r.Id.Text, StringComparer.Ordinal)],
            damaged);
    }

    private static string NameOf(RecordingHead head)
    {
        try
        {
            return StoredText.Back(head.Recording.Name);
        }
        catch (FormatException)
        {
            return head.Recording.Name; // damaged, too: shown as it stands
        }
    }

    private static async Task<IReadOnlyList<RecordingHead>> HeadsAsync(Session session, string which, object asked)
    {
        var recordings = await session.ReadAsync<RecordingRow>($"recordings/{which}", asked).ConfigureAwait(false);
        if (recordings.Count == 0) return [];
        var files = (await session.ReadAsync<FileRow>($"recordings/{which}-files", asked).ConfigureAwait(false)).ToLookup(r => r.Recording);
        var issues = (await session.ReadAsync<IssueRow>($"recordings/{which}-issues", asked).ConfigureAwait(false)).ToLookup(r => r.Recording);
        var axes = (await session.ReadAsync<AxisRow>($"recordings/{which}-axes", asked).ConfigureAwait(false)).ToLookup(r => r.Recording);
        var channels = (await session.ReadAsync<ChannelRow>($"recordings/{which}-channels", asked).ConfigureAwait(false)).ToLookup(r => r.Recording);
        return [.. recordings.Select(r => new RecordingHead(r, [.. files[r.Id]], [.. issues[r.Id]], [.. axes[r.Id]], [.. channels[r.Id]]))];
    }

    private async Task<RecordingHead> CheckedHeadAsync(Session session, RecordingId id)
    {
        var head = await HeadAsync(session, id).ConfigureAwait(false) ?? throw NoneOfThatName(id);
        return head.DigestOfFacts().AsSpan().SequenceEqual(head.Recording.Digest) ? head : throw Damaged(id.Text, "its head was changed after it was stored", null);
    }

    private StoredRecording Stored(RecordingHead head)
    {
        try
        {
            return head.ToStored();
        }
        catch (Exception e) when (e is FormatException or ArgumentException or OverflowException or InvalidOperationException)
        {
            throw Damaged(head.Recording.Id, e.Message.TrimEnd('.'), e);
        }
    }

    private async Task<T> UndamagedAsync<T>(RecordingHead head, Func<Task<T>> read)
    {
        try
        {
            return await read().ConfigureAwait(false);
        }
        catch (Exception e) when (e is InvalidDataException or FormatException or ArgumentException or OverflowException or InvalidOperationException)
        {
            throw Damaged(head.Recording.Id, e.Message.TrimEnd('.'), e);
        }
    }

    private StoreException Damaged(string id, string what, Exception? inner) =>
        new($"a damaged recording: {what}", "what was stored", $"{database.Where}, recording {id}", "the disk, or a change from outside the program; import the file again, or restore a backup into a new store", inner);
}
