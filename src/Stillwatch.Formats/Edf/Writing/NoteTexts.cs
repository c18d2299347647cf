using System.Globalization;
using System.Text;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Formats.Edf.Writing;

/// <summary>Notes as time-stamped annotation lists (TALs; EDF+ specification, 2.2.2): <c>+onset[0x15 duration]0x14 text 0x14 0x00</c>, UTF-8.</summary>
/// <param name="originMilliseconds">Where the file begins on the recording's time line.</param>
/// <param name="secondsAfter">From the start that the header states to the file's beginning.</param>
/// <param name="issues">Where what cannot be written is listed.</param>
internal sealed class NoteTexts(long originMilliseconds, decimal secondsAfter, IssueLog issues)
{
    private const char TextMark = '\x14';
    private const char DurationMark = '\x15';
    private const string Seconds = "0.#######";
    private static readonly string[] Marks = [EdfConventions.SourceMark, EdfConventions.EventMark, EdfConventions.SignalMark, EdfConventions.ReviewMark, EdfConventions.DerivedMark];

    /// <summary>Room for the first list of every data record up to this time: sign, whole seconds, point and up to seven decimals, marks.</summary>
    public int TimeKeepingRoom(long lastMilliseconds, bool isWholeSeconds)
    {
        int whole = (lastMilliseconds / 1000 + 1).ToString(CultureInfo.InvariantCulture).Length;
        return 1 + whole + (isWholeSeconds && secondsAfter == 0 ? 0 : 8) + 3;
    }

    /// <summary>Writes the first list of a data record, when it begins, and returns its length.</summary>
    public int WriteTimeKeeping(long millisecondsAfterOrigin, Span<byte> to)
    {
        to[0] = (byte)'+';
        long whole = millisecondsAfterOrigin / 1000;
        int length;
        // Most records begin with a whole second; there may be a million of them.
        if (secondsAfter == 0 && whole * 1000 == millisecondsAfterOrigin) whole.TryFormat(to[1..], out length, default, CultureInfo.InvariantCulture);
        else (secondsAfter + millisecondsAfterOrigin / 1000m).TryFormat(to[1..], out length, Seconds, CultureInfo.InvariantCulture);
        ReadOnlySpan<byte> marks = [(byte)TextMark, (byte)TextMark, 0];
        marks.CopyTo(to[(1 + length)..]);
        return 1 + length + marks.Length;
    }

    public byte[] Of(Annotation note)
    {
        if (note.Length < Duration.Zero)
            issues.Note(WriteIssueCodes.Length, "", $"note at {note.Time}", $"a length of {note.Length}", "zero or more", "written without a length");
        string duration = note.Length > Duration.Zero ? DurationMark + (note.Length.Milliseconds / 1000m).ToString(Seconds, CultureInfo.InvariantCulture) : "";
        return Encoding.UTF8.GetBytes($"{Onset(note.Time.Milliseconds - originMilliseconds)}{duration}{TextMark}{Mark(note)}{Fit(note)}{TextMark}\0");
    }

    private string Onset(long millisecondsAfterOrigin)
    {
        decimal seconds = secondsAfter + millisecondsAfterOrigin / 1000m;
        return (seconds < 0 ? "" : "+") + seconds.ToString(Seconds, CultureInfo.InvariantCulture);
    }

    private static string Mark(Annotation note) => note.Origin switch
    {
        AnnotationOrigin.Event => EdfConventions.EventMark,
        AnnotationOrigin.ReplayedSignal => EdfConventions.SignalMark,
        AnnotationOrigin.ReviewMark => EdfConventions.ReviewMark,
        AnnotationOrigin.Derived => EdfConventions.DerivedMark,
        _ => note.Text.Length == 0 || Marks.Any(m => note.Text.StartsWith(m, StringComparison.Ordinal)) ? EdfConventions.SourceMark : "",
    };

    // The format keeps control characters for itself, all but tab and line ends; their pictures (U+2400 on) take their place.
    private string Fit(Annotation note)
    {
        if (!note.Text.Any(IsKept) && IsWellFormed(note.Text)) return note.Text;
        issues.Note(WriteIssueCodes.Text, "", $"note at {note.Time}", $"a text with control characters or half characters: {IssueLog.Show(note.Text)}", "text that EDF+ can hold",
            "control characters replaced by their pictures or U+FFFD, half characters by U+FFFD");
        return string.Concat(note.Text.Select(c => !IsKept(c) ? c : c < ' ' ? (char)('\u2400' + c) : '\uFFFD'));
    }

    private static bool IsKept(char c) => char.IsControl(c) && c is not ('\t' or '\n' or '\r');

    private static bool IsWellFormed(string text)
    {
        for (int i = 0; i < text.Length; i++)
        {
            if (!char.IsSurrogate(text[i])) continue;
            if (!char.IsHighSurrogate(text[i]) || i + 1 == text.Length || !char.IsLowSurrogate(text[i + 1])) return false;
            i++;
        }

        return true;
    }
}
