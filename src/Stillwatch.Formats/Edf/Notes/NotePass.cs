using Stillwatch.Formats.Edf.Header;
using Stillwatch.Formats.Edf.Records;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Formats.Edf.Notes;

/// <summary>Goes through the annotation signals of all data records: the records' own times, and the notes.</summary>
internal sealed class NotePass
{
    /// <summary>The record does not say when it begins.</summary>
    public const long NoTime = long.MinValue;

    private readonly List<(long OnsetNanoseconds, long DurationMilliseconds, string Text)> notes = [];

    private NotePass()
    {
    }

    /// <summary>When each record begins, in nanoseconds from the header's start time; empty without an annotation signal.</summary>
    public List<long> Onsets { get; } = [];

    public int Count => notes.Count;

    /// <param name="header">Says which signals hold notes.</param>
    /// <param name="layout">Where they lie.</param>
    /// <param name="window">Reads the file.</param>
    /// <param name="issues">Where oddities are listed.</param>
    public static NotePass Read(EdfHeader header, RecordLayout layout, ByteWindow window, IssueLog issues)
    {
        var pass = new NotePass();
        var signals = Offsets(header);
        if (signals.Count == 0) return pass;
        var reader = new TalReader(issues);
        var tals = new List<Tal>();
        for (long record = 0; record < layout.Count; record++)
        {
            long onset = NoTime;
            foreach (var (signal, offset) in signals)
            {
                long length = signal.SamplesPerRecord * header.BytesPerSample;
                int there = checked((int)Math.Min(int.MaxValue, layout.BytesThere(record, offset, length)));
                tals.Clear();
                reader.Read(window.Read(layout.PositionOf(record, offset), there), there < length, record, signal.Index, tals);
                if (signal == signals[0].Signal && tals.Count > 0 && tals[0].KeepsTime) onset = tals[0].OnsetNanoseconds;
                foreach (var tal in tals)
                {
                    foreach (string text in tal.Texts)
                    {
                        if (text.Length > 0) pass.notes.Add((tal.OnsetNanoseconds, tal.DurationMilliseconds, text));
                    }
                }
            }

            pass.Onsets.Add(onset);
        }

        return pass;
    }

    /// <summary>The notes on the recording's time line, in time order.</summary>
    /// <param name="originNanoseconds">Where that line begins.</param>
    public IReadOnlyList<Annotation> ToAnnotations(long originNanoseconds) => [.. notes
        .OrderBy(n => n.OnsetNanoseconds)
        .Select(n => Annotate(new SampleTime(ToMilliseconds(n.OnsetNanoseconds - originNanoseconds)), new Duration(n.DurationMilliseconds), n.Text))];

    /// <summary>Rounded to the nearest, half up.</summary>
    public static long ToMilliseconds(long nanoseconds) => (long)Math.Floor((nanoseconds + 500_000m) / 1_000_000m);

    // Our own exports say whose a note is; a source's text that begins like that was escaped when it was written.
    private static Annotation Annotate(SampleTime time, Duration length, string text)
    {
        var (mark, origin) = text switch
        {
            _ when text.StartsWith(EdfConventions.EventMark, StringComparison.Ordinal) => (EdfConventions.EventMark, AnnotationOrigin.Event),
            _ when text.StartsWith(EdfConventions.SignalMark, StringComparison.Ordinal) => (EdfConventions.SignalMark, AnnotationOrigin.ReplayedSignal),
            _ when text.StartsWith(EdfConventions.ReviewMark, StringComparison.Ordinal) => (EdfConventions.ReviewMark, AnnotationOrigin.ReviewMark),
            _ when text.StartsWith(EdfConventions.DerivedMark, StringComparison.Ordinal) => (EdfConventions.DerivedMark, AnnotationOrigin.Derived),
            _ when text.StartsWith(EdfConventions.SourceMark, StringComparison.Ordinal) => (EdfConventions.SourceMark, AnnotationOrigin.Source),
            _ => ("", AnnotationOrigin.Source),
        };
        return new Annotation(time, length, text[mark.Length..], origin);
    }

    private static List<(EdfSignal Signal, long Offset)> Offsets(EdfHeader header)
    {
        var offsets = new List<(EdfSignal, long)>();
        long offset = 0;
        foreach (var signal in header.Signals)
        {
            if (signal.IsNotes && signal.SamplesPerRecord > 0) offsets.Add((signal, offset));
            offset += signal.SamplesPerRecord * header.BytesPerSample;
        }

        return offsets;
    }
}
