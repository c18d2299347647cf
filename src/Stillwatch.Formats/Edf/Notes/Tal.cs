namespace Stillwatch.Formats.Edf.Notes;

/// <summary>A time-stamped annotations list: one onset, perhaps a duration, and the texts that belong to it.</summary>
/// <param name="OnsetNanoseconds">From the start time of the header.</param>
/// <param name="DurationMilliseconds">Zero where none is given.</param>
/// <param name="Texts">As they stand, empty ones among them: the first text of the first list of a data record is empty and keeps its time.</param>
internal readonly record struct Tal(long OnsetNanoseconds, long DurationMilliseconds, IReadOnlyList<string> Texts);
