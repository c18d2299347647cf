using Stillwatch.Signals;

namespace Stillwatch.Formats;

/// <summary>What a reader returns: the recording, and everything odd that it met on the way.</summary>
/// <param name="Recording">Null where no row could be used; the issues then say why.</param>
/// <param name="Issues">The gravest first, then in the order of their places; empty where nothing was odd.</param>
public sealed record ReadResult(Recording? Recording, IReadOnlyList<ReadIssue> Issues);
