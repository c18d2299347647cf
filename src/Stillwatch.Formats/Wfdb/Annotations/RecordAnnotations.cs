using Stillwatch.Formats.Wfdb.Header;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Formats.Wfdb.Annotations;

/// <summary>The annotations beside a record, on its time line.</summary>
/// <remarks>
/// Text: the auxiliary string where it says anything (a rhythm, a note, an alarm), else the symbol of the type ("N"). Channel, number and sub type
/// have no place in a note of a recording; <see cref="WfdbAnnotationReader"/> gives them.
/// </remarks>
internal static class RecordAnnotations
{
    /// <summary>The reference annotations (annot(5), by custom): atr.</summary>
    public const string Ending = ".atr";

    public static IReadOnlyList<Annotation> Read(RecordingSource file, SampleRate rate, IssueLog issues)
    {
        IReadOnlyList<WfdbAnnotation> items;
        decimal? ticksPerSecond;
        try
        {
            (items, ticksPerSecond) = WfdbAnnotationReader.Read(file, issues);
        }
        catch (UnreadableFileException error)
        {
            issues.Failure(WfdbIssueCodes.AnnotationUnreadable, file.Name, error.Where, error.Found, error.Expected, $"not read: {error.LikelyCause}");
            return [];
        }

        var ticks = ticksPerSecond is { } own ? SamplingFrequency.Of(own, 0).Rate : rate;
        long most = (long)Int128.Min(long.MaxValue, (Int128)SamplingFrequency.LongestMilliseconds * ticks.Samples / ticks.Milliseconds);
        var notes = new List<Annotation>(items.Count);
        bool inOrder = true;
        foreach (var item in items)
        {
            if (item.Tick < 0 || item.Tick > most)
            {
                issues.Doubt(WfdbIssueCodes.AnnotationTime, file.Name, $"{file.Name}, annotation {notes.Count + 1}", $"sample {item.Tick}", "a time within the record's century", "left out");
                continue;
            }

            var time = new SampleTime(ticks.MillisecondsAt(item.Tick));
            inOrder &= notes.Count == 0 || notes[^1].Time <= time;
            notes.Add(new Annotation(time, Duration.Zero, string.IsNullOrWhiteSpace(item.Text) ? item.Symbol : item.Text));
        }

        if (inOrder) return notes;
        issues.Note(WfdbIssueCodes.AnnotationOrder, file.Name, file.Name, "annotations that go back in time", "time order", "sorted by time");
        return [.. notes.OrderBy(n => n.Time.Milliseconds)];
    }
}
