using Stillwatch.Signals;

namespace Stillwatch.Formats;

/// <summary>What a reader returns: the recording, and everything odd that it met on the way.</summary>
/// <param name="Recording">Null where no row could be used; the issues then say why.</param>
/// <param name="Issues">The gravest first, then in the order of their places; empty where nothing was odd.</param>
/// <param name="Format">What the file is, in a few words for a page: "EDF+D, 120 data records of 1 s".</param>
public sealed record ReadResult(Recording? Recording, IReadOnlyList<ReadIssue> Issues, string Format = "separated text");
