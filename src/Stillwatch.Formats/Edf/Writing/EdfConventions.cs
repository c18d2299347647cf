using Stillwatch.Time;

namespace Stillwatch.Formats.Edf.Writing;

/// <summary>
/// What EDF+ has no field for, said in words in its free fields, so that a person with any reader can see it and our reader takes it back.
/// Own convention.
/// </summary>
internal static class EdfConventions
{
    /// <summary>The subfield of the recording field that tells an unknown start from midnight.</summary>
    public const string StartUnknown = "start_unknown";

    /// <summary>Before the text of a note of ours, and before one of the source that begins with such a mark itself or has no text.</summary>
    public const string SourceMark = "[source] ", EventMark = "[event] ", SignalMark = "[signal] ", ReviewMark = "[mark] ";

    /// <summary>Parts of the transducer field are set apart by this.</summary>
    public const string PartSeparator = "; ";

    public static string NoNumber(int count) => $"{count} = no number";

    public static string NoRow(int count) => $"{count} = no row";

    /// <summary>P of rule R1, where it is not the step of the samples.</summary>
    public static string Period(Duration period) => $"period {period.Milliseconds} ms";

    /// <summary>A subfield of the recording field: the offset from UTC of its start.</summary>
    public static string UtcOffset(TimeSpan offset) => $"utc_offset_{(offset < TimeSpan.Zero ? '-' : '+')}{offset:hh\\:mm}";

    /// <summary>A subfield of the recording field: what the source averaged over, where it is known.</summary>
    public static string Averaging(Duration window) => $"averaging_{window.Milliseconds}_ms";
}
