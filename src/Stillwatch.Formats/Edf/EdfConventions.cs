using System.Globalization;
using Stillwatch.Time;

namespace Stillwatch.Formats.Edf;

/// <summary>
/// What EDF+ has no field for, said in words in its free fields, so that a person with any reader can see it and our reader takes it back.
/// Own convention; the words for counts without a number stand in <see cref="StandIns"/>.
/// </summary>
internal static class EdfConventions
{
    /// <summary>The equipment that the recording field names.</summary>
    public const string Program = "Stillwatch";

    /// <summary>The subfield of the recording field that tells an unknown start from midnight.</summary>
    public const string StartUnknown = "start_unknown";

    /// <summary>Before the text of a note of ours, and before one of the source that begins with such a mark itself or has no text.</summary>
    public const string SourceMark = "[source] ", EventMark = "[event] ", SignalMark = "[signal] ", ReviewMark = "[mark] ", DerivedMark = "[derived] ";

    private const string PeriodWord = "period ", PeriodUnit = " ms";
    private const string OffsetWord = "utc_offset_";
    private const string AveragingWord = "averaging_", AveragingUnit = "_ms";
    private const long LongestMilliseconds = 1_000_000_000_000;

    public static string NoNumber(int count) => $"{count}{StandIns.NoNumberWords}";

    public static string NoRow(int count) => $"{count}{StandIns.NoRowWords}";

    /// <summary>A part of the transducer field, before those for counts: P of rule R1, where it is not the step of the samples.</summary>
    public static string Period(Duration period) => $"{PeriodWord}{period.Milliseconds}{PeriodUnit}";

    /// <summary>P as the transducer field says; null where it says nothing of it.</summary>
    public static Duration? PeriodOf(string transducer)
    {
        foreach (string part in transducer.Split(StandIns.Separator))
        {
            if (Number(part.Trim(), PeriodWord, PeriodUnit) is { Milliseconds: > 0 } period) return period;
        }

        return null;
    }

    /// <summary>A subfield of the recording field: the offset from UTC of its start.</summary>
    public static string UtcOffset(TimeSpan offset) => $"{OffsetWord}{(offset < TimeSpan.Zero ? '-' : '+')}{offset:hh\\:mm}";

    /// <summary>The offset that a subfield states; null where none does.</summary>
    public static TimeSpan? UtcOffsetOf(IEnumerable<string> subfields)
    {
        foreach (string subfield in subfields)
        {
            if (subfield.StartsWith(OffsetWord, StringComparison.Ordinal) && subfield[OffsetWord.Length..] is [var sign and ('+' or '-'), .. var size]
                && TimeSpan.TryParseExact(size, "hh\\:mm", CultureInfo.InvariantCulture, out var offset) && offset <= TimeSpan.FromHours(14))
                return sign == '-' ? -offset : offset;
        }

        return null;
    }

    /// <summary>A subfield of the recording field: what the source averaged over, where it is known.</summary>
    public static string Averaging(Duration window) => $"{AveragingWord}{window.Milliseconds}{AveragingUnit}";

    /// <summary>The averaging that a subfield states; null where none does.</summary>
    public static Duration? AveragingOf(IEnumerable<string> subfields)
    {
        foreach (string subfield in subfields)
        {
            if (Number(subfield, AveragingWord, AveragingUnit) is { } window) return window;
        }

        return null;
    }

    /// <summary>Whether a subfield of the recording field is one of ours, which tell nothing of persons.</summary>
    public static bool IsOwn(string subfield) =>
        subfield is Program or StartUnknown || UtcOffsetOf([subfield]) is not null || AveragingOf([subfield]) is not null;

    private static Duration? Number(string text, string before, string after) =>
        text.StartsWith(before, StringComparison.Ordinal) && text.EndsWith(after, StringComparison.Ordinal) && text.Length > before.Length + after.Length
        && long.TryParse(text.AsSpan(before.Length, text.Length - before.Length - after.Length), NumberStyles.None, CultureInfo.InvariantCulture, out long milliseconds)
        && milliseconds is >= 0 and <= LongestMilliseconds
            ? new Duration(milliseconds)
            : null;
}
