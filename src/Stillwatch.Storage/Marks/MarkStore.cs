using Stillwatch.Storage.Audit;
using Stillwatch.Storage.Recordings;
using Stillwatch.Storage.Sql;
using Stillwatch.Time;
using Stillwatch.Tuning.MustCatch;

namespace Stillwatch.Storage.Marks;

internal sealed class MarkStore(Database database, TimeProvider clock) : IMarkStore
{
    public Task<long> AddAsync(RecordingId recording, ReviewMark mark, Actor actor, CancellationToken cancellation = default) => database.ChangeAsync(
        async session =>
        {
            await RequireAsync(session, recording).ConfigureAwait(false);
            var detail = new
            {
                recording = recording.Text,
                reviewer = mark.Reviewer,
                startMilliseconds = mark.Span.Start.Milliseconds,
                endMilliseconds = mark.Span.End.Milliseconds,
                verdict = mark.Verdict.ToString(),
                note = mark.Note,
            };
            var (number, at) = await AuditChain.AddAsync(session, clock, actor, "mark.made", n => $"mark {n}", detail).ConfigureAwait(false);
            await session.RunAsync("marks/add", new MarkRow
            {
                Number = number,
                Recording = recording.Text,
                Reviewer = StoredText.Of(mark.Reviewer),
                StartMilliseconds = mark.Span.Start.Milliseconds,
                EndMilliseconds = mark.Span.End.Milliseconds,
                Verdict = mark.Verdict.ToString(),
                Note = StoredText.Of(mark.Note),
                MadeAt = StoredTime.Of(at),
                MadeBy = StoredText.Of(actor.ToString() ?? ""),
            }).ConfigureAwait(false);
            return number;
        },
        cancellation);

    public Task WithdrawAsync(long number, Actor actor, CancellationToken cancellation = default) => database.ChangeAsync(
        async session =>
        {
            // Before looking: of two who take it back at once, the second is to see that it was taken back.
            await database.LockAuditAsync(session).ConfigureAwait(false);
            var mark = await session.FirstAsync<MarkRow>("marks/one", new { Number = number }).ConfigureAwait(false)
                ?? throw new StoreException($"no mark {number}", "one that was made", database.Where, "its recording was removed");
            if (mark.WithdrawnAt is not null) return false;
            var (_, at) = await AuditChain.AddAsync(session, clock, actor, "mark.withdrawn", _ => $"mark {number}", new { recording = mark.Recording }).ConfigureAwait(false);
            await session.RunAsync("marks/withdraw", new { Number = number, WithdrawnAt = StoredTime.Of(at), WithdrawnBy = StoredText.Of(actor.ToString() ?? "") }).ConfigureAwait(false);
            return true;
        },
        cancellation);

    public async Task<IReadOnlyList<StoredMark>> OfAsync(RecordingId recording, CancellationToken cancellation = default)
    {
        var rows = await database.ReadAsync(session => session.ReadAsync<MarkRow>("marks/of-recording", new { Recording = recording.Text }), cancellation).ConfigureAwait(false);
        return database.Understood(rows, row => $"mark {row.Number}", row => new StoredMark(
            row.Number, recording,
            new ReviewMark(StoredText.Back(row.Reviewer), Span(row.StartMilliseconds, row.EndMilliseconds), Enum.Parse<MarkVerdict>(row.Verdict), StoredText.Back(row.Note)),
            StoredTime.Back(row.MadeAt), new Actor(StoredText.Back(row.MadeBy)),
            row.WithdrawnAt is null ? null : StoredTime.Back(row.WithdrawnAt), row.WithdrawnBy is null ? null : new Actor(StoredText.Back(row.WithdrawnBy))));
    }

    public Task AddBlindLookAsync(RecordingId recording, string reviewer, TimeSlice span, Actor actor, CancellationToken cancellation = default)
    {
        ArgumentException.ThrowIfNullOrWhiteSpace(reviewer);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(span.Start.Milliseconds, span.End.Milliseconds, nameof(span));
        return database.ChangeAsync(
            async session =>
            {
                await RequireAsync(session, recording).ConfigureAwait(false);
                var detail = new { recording = recording.Text, reviewer = reviewer.Trim(), startMilliseconds = span.Start.Milliseconds, endMilliseconds = span.End.Milliseconds };
                var (number, at) = await AuditChain.AddAsync(session, clock, actor, "blindlook.made", n => $"blind look {n}", detail).ConfigureAwait(false);
                return await session.RunAsync("marks/add-blind-look", new BlindLookRow
                {
                    Number = number,
                    Recording = recording.Text,
                    Reviewer = StoredText.Of(reviewer.Trim()),
                    StartMilliseconds = span.Start.Milliseconds,
                    EndMilliseconds = span.End.Milliseconds,
                    LookedAt = StoredTime.Of(at),
                    LookedBy = StoredText.Of(actor.ToString() ?? ""),
                }).ConfigureAwait(false);
            },
            cancellation);
    }

    public async Task<IReadOnlyList<BlindLook>> BlindLooksAsync(RecordingId recording, CancellationToken cancellation = default)
    {
        var rows = await database.ReadAsync(session => session.ReadAsync<BlindLookRow>("marks/blind-looks", new { Recording = recording.Text }), cancellation).ConfigureAwait(false);
        return database.Understood(rows, row => $"blind look {row.Number}", row => new BlindLook(
            row.Number, recording, StoredText.Back(row.Reviewer), Span(row.StartMilliseconds, row.EndMilliseconds), StoredTime.Back(row.LookedAt), new Actor(StoredText.Back(row.LookedBy))));
    }

    private static TimeSlice Span(long start, long end) => new(new SampleTime(start), new SampleTime(end));

    private async Task RequireAsync(Session session, RecordingId recording)
    {
        if (await RecordingStore.HeadAsync(session, recording).ConfigureAwait(false) is null)
            throw new StoreException($"no recording {recording}", "one of the library", database.Where, "it was removed while it was looked at");
    }

    private sealed class MarkRow
    {
        public long Number { get; init; }

        public required string Recording { get; init; }

        public string Reviewer { get; init; } = "";

        public long StartMilliseconds { get; init; }

        public long EndMilliseconds { get; init; }

        public string Verdict { get; init; } = "";

        public string Note { get; init; } = "";

        public string MadeAt { get; init; } = "";

        public string MadeBy { get; init; } = "";

        public string? WithdrawnAt { get; init; }

        public string? WithdrawnBy { get; init; }
    }

    private sealed class BlindLookRow
    {
        public long Number { get; init; }

        public required string Recording { get; init; }

        public required string Reviewer { get; init; }

        public long StartMilliseconds { get; init; }

        public long EndMilliseconds { get; init; }

        public required string LookedAt { get; init; }

        public required string LookedBy { get; init; }
    }
}
