using Stillwatch.Time;
using Stillwatch.Tuning.MustCatch;

namespace Stillwatch.App.Files;

/// <summary>The side file of <c>--marks</c>: what reviewers said of events, and which stretches they saw without knowing the alarms (rule R14.10).</summary>
public sealed record MarksFile(
    string Path,
    IReadOnlyList<(string File, ReviewMark Mark)> Marks,
    IReadOnlyList<(string File, TimeSlice Span)> ReviewedBlind)
{
    public const string Format = "stillwatch.marks/1";

    /// <summary>Whether it was read from <see cref="Path"/>; false: the marks were kept elsewhere, and that is a name for them.</summary>
    public bool IsFile { get; init; } = true;

    private const decimal LongestSeconds = 10 * 366 * 86_400m;

    private static readonly Dictionary<string, MarkVerdict> Verdicts = new()
    {
        ["significant"] = MarkVerdict.RealAndSignificant,
        ["notSignificant"] = MarkVerdict.RealButNotSignificant,
        ["cannotTell"] = MarkVerdict.CannotTell,
        ["artefact"] = MarkVerdict.Artefact,
    };

    public IReadOnlyList<ReviewMark> MarksOn(string fileName) => [.. Marks.Where(m => m.File == fileName).Select(m => m.Mark)];

    public IReadOnlyList<TimeSlice> BlindOn(string fileName) => [.. ReviewedBlind.Where(m => m.File == fileName).Select(m => m.Span)];

    /// <summary>Files that it speaks of and that are not among those read: marks that do nothing must not do so silently.</summary>
    public IEnumerable<string> FilesNotAmong(IEnumerable<string> read) =>
        Marks.Select(m => m.File).Concat(ReviewedBlind.Select(r => r.File)).Distinct().Except(read).Order(StringComparer.Ordinal);

    public static MarksFile Read(string path)
    {
        var root = SideFile.Open(path, Format).Root.WithOnly("format", "note", "marks", "reviewedWithoutAlarms");
        root.Optional("note")?.Text();
        var marks = root.Required("marks").List().Select(MarkOf).ToList();
        var blind = root.Optional("reviewedWithoutAlarms")?.List().Select(f => (f.WithOnly("file", "startSeconds", "endSeconds").Required("file").Text(), SpanOf(f))).ToList() ?? [];
        return new MarksFile(path, marks, blind);
    }

    private static (string File, ReviewMark Mark) MarkOf(SideFileField field)
    {
        field.WithOnly("file", "startSeconds", "endSeconds", "reviewer", "mark", "note");
        var reviewer = field.Required("reviewer");
        if (string.IsNullOrWhiteSpace(reviewer.Text()))
            throw reviewer.Wrong("no name", "a reviewer's name or initials", "two reviewers count only if they can be told apart (R14.3)");
        return (field.Required("file").Text(), new ReviewMark(reviewer.Text(), SpanOf(field), field.Required("mark").Choice(Verdicts), field.Optional("note")?.Text() ?? string.Empty));
    }

    /// <summary>Seconds on the recording's own time line, as review --json gives them; without an end, a moment.</summary>
    private static TimeSlice SpanOf(SideFileField field)
    {
        decimal start = field.Required("startSeconds").Number(-LongestSeconds, LongestSeconds, "s");
        decimal end = field.Optional("endSeconds")?.Number(-LongestSeconds, LongestSeconds, "s") ?? start;
        if (end < start) throw field.Wrong($"{start} to {end} s", "an end at or after the start", "the two were exchanged");
        return new TimeSlice(SampleTime.FromSeconds(start), SampleTime.FromSeconds(end));
    }
}
