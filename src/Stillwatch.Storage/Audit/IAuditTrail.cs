namespace Stillwatch.Storage.Audit;

/// <summary>A line of the audit.</summary>
/// <param name="Number">From 1, without gaps.</param>
/// <param name="At">When.</param>
/// <param name="By">Who.</param>
/// <param name="Action">What was done: "recording.imported", "mark.withdrawn".</param>
/// <param name="Subject">To what.</param>
/// <param name="DetailJson">More, as JSON.</param>
/// <param name="PreviousHash">The hash of the line before; of the first, 64 zeros.</param>
/// <param name="Hash">SHA-256 over all of the above, lower-case hexadecimal.</param>
public sealed record AuditEntry(long Number, DateTimeOffset At, Actor By, string Action, string Subject, string DetailJson, string PreviousHash, string Hash);

/// <summary>Whether the audit is whole.</summary>
/// <param name="Entries">Lines looked at.</param>
/// <param name="LastHash">Of the last line: whoever wrote it down elsewhere can tell whether the end was cut off.</param>
/// <param name="BrokenAt">The first line that does not fit the one before, else the first whose row does not fit it; null: all fit.</param>
/// <param name="Why">What does not fit, in words; null: all fit.</param>
public sealed record AuditVerdict(long Entries, string LastHash, long? BrokenAt, string? Why)
{
    public bool IsWhole => BrokenAt is null;
}

/// <summary>Who did what, when. Lines are only ever added, by the store itself with each change, and each holds the hash of the one before.</summary>
public interface IAuditTrail
{
    /// <summary>The newest first.</summary>
    Task<IReadOnlyList<AuditEntry>> LatestAsync(int atMost, CancellationToken cancellation = default);

    /// <summary>
    /// Reads every line and its hash again, compares the marks, settings, reports, recordings and descriptions with what their lines say, and looks
    /// for those that no line speaks of, for a chain alone cannot see that its end was cut off. Samples and annotations are not looked at: they have
    /// checksums of their own, which are compared when they are read.
    /// </summary>
    Task<AuditVerdict> VerifyAsync(CancellationToken cancellation = default);

    /// <summary>A line for what changes nothing in the store but is to be known: an export, a backup, a report that was printed.</summary>
    Task NoteAsync(string action, string subject, string detailJson, Actor actor, CancellationToken cancellation = default);
}
