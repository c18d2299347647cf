using Stillwatch.Storage.Recordings;
using Stillwatch.Time;
using Stillwatch.Tuning.MustCatch;

namespace Stillwatch.Storage.Marks;

/// <summary>A review mark as it is kept. Nothing is deleted: a mark that was taken back stays, and says when and by whom.</summary>
public sealed record StoredMark(long Number, RecordingId Recording, ReviewMark Mark, DateTimeOffset MadeAt, Actor MadeBy, DateTimeOffset? WithdrawnAt, Actor? WithdrawnBy)
{
    public bool Stands => WithdrawnAt is null;
}

/// <summary>A stretch that a reviewer looked at without knowing the alarms (rule R14.10).</summary>
public sealed record BlindLook(long Number, RecordingId Recording, string Reviewer, TimeSlice Span, DateTimeOffset At, Actor By);

/// <summary>Review marks of all recordings.</summary>
public interface IMarkStore
{
    /// <returns>The number by which it can be withdrawn: that of its line in the audit.</returns>
    /// <exception cref="StoreException">There is no such recording.</exception>
    Task<long> AddAsync(RecordingId recording, ReviewMark mark, Actor actor, CancellationToken cancellation = default);

    /// <summary>Takes a mark back. One that was taken back already stays as it is.</summary>
    Task WithdrawAsync(long number, Actor actor, CancellationToken cancellation = default);

    /// <summary>Withdrawn ones too, in the order in which they were made.</summary>
    Task<IReadOnlyList<StoredMark>> OfAsync(RecordingId recording, CancellationToken cancellation = default);

    Task AddBlindLookAsync(RecordingId recording, string reviewer, TimeSlice span, Actor actor, CancellationToken cancellation = default);

    Task<IReadOnlyList<BlindLook>> BlindLooksAsync(RecordingId recording, CancellationToken cancellation = default);
}
