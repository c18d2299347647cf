namespace Stillwatch.Formats.Edf.Notes;

/// <summary>A time-stamped annotations list: one onset, perhaps a duration, and the texts that belong to it.</summary>
/// <param name="Byte">Where it begins in its signal's bytes of the record.</param>
/// <param name="OnsetNanoseconds">From the start time of the header.</param>
/// <param name="DurationMilliseconds">Zero where none is given.</param>
/// <param name="Texts">As they stand, empty ones among them: the first text of the first list of a data record is empty and keeps its time.</param>
internal readonly record struct Tal(int Byte, long OnsetNanoseconds, long DurationMilliseconds, IReadOnlyList<string> Texts)
{
    /// <summary>Whether it says when its record begins: the list at the very first byte, with an empty first text (EDF+ specification, 2.2.4).</summary>
    public bool KeepsTime => Byte == 0 && Texts is ["", ..];
}
