using Stillwatch.Conditioning;
using Stillwatch.Quantities;
using Stillwatch.Time;

namespace Stillwatch.Tuning.MustCatch;

/// <summary>
/// Finds the must-catch events of a recording (rule R13): value ≤ S (or &lt; S) for at least T, both included, on the valid,
/// unaveraged, rounded series, so that they are the same whatever settings are tried.
/// </summary>
/// <remarks>
/// Held time counts toward T. A loss is treated as in R9: lost time adds nothing; back within 60 s and still low, the event goes
/// on; otherwise it ended at the loss. The onset is the first low sample. Limit 85 (strict) cannot catch a flat 85.
/// </remarks>
public static class MustCatchFinder
{
    /// <summary>Events by definition and by marks (<see cref="MarkedEvents"/>), in time order.</summary>
    /// <param name="source">SpO2.</param>
    /// <param name="conditioning">Validity and gap tolerance are used; averaging is left out and rounding is as displayed, whatever stands there.</param>
    /// <param name="definition">One event may meet several of its lines.</param>
    /// <param name="marks">Review marks; null: none.</param>
    public static IReadOnlyList<MustCatchEvent> Find(
        ConditionedSource source,
        ConditioningSettings conditioning,
        MustCatchDefinition definition,
        IReadOnlyList<ReviewMark>? marks = null)
    {
        var series = SeriesFor(source, conditioning);
        var events = Find(series, definition);
        return marks is { Count: > 0 } ? MarkedEvents.Apply(series, events, marks).Events : events;
    }

    /// <summary>The series that must-catch events are defined on.</summary>
    public static ConditionedSeries SeriesFor(ConditionedSource source, ConditioningSettings conditioning) =>
        ConditionedSeries.Of(source, conditioning with { Averaging = Duration.Zero, Rounding = Rounding.Display });

    /// <summary>Events by definition alone.</summary>
    /// <param name="series">From <see cref="SeriesFor"/>.</param>
    /// <param name="definition">One event may meet several of its lines.</param>
    public static IReadOnlyList<MustCatchEvent> Find(ConditionedSeries series, MustCatchDefinition definition) =>
        Merge(definition.Lines.SelectMany(line => Parts(series, line)));

    /// <summary>Parts with their lowest values; those that overlap become one event.</summary>
    internal static List<MustCatchEvent> Merge(IEnumerable<(MustCatchPart Part, int NadirMicro)> parts)
    {
        var events = new List<MustCatchEvent>();
        foreach (var (part, nadirMicro) in parts.OrderBy(p => p.Part.Onset).ThenByDescending(p => p.Part.End))
        {
            var nadir = Percent.FromMicro(nadirMicro);
            if (events.Count > 0 && part.Onset < events[^1].End)
            {
                var open = events[^1];
                events[^1] = open with
                {
                    End = part.End > open.End ? part.End : open.End,
                    Nadir = nadir < open.Nadir ? nadir : open.Nadir,
                    Parts = [.. open.Parts, part],
                };
            }
            else
            {
                events.Add(new MustCatchEvent(part.Onset, part.End, nadir, [part]));
            }
        }

        return events;
    }

    private static IEnumerable<(MustCatchPart Part, int NadirMicro)> Parts(ConditionedSeries series, MustCatchLine line)
    {
        bool open = false;
        SampleTime onset = default, end = default;
        long milliseconds = 0;
        int nadir = 0;
        foreach (var piece in series.Pieces)
        {
            bool low = line.Inclusive ? piece.Micro <= line.Level.Micro : piece.Micro < line.Level.Micro;
            bool goesOn = open && low && piece.Arrival != Arrival.BackTooLate;
            if (open && !goesOn)
            {
                if (milliseconds >= line.AtLeast.Milliseconds) yield return Part();
                open = false;
            }

            if (!low) continue;
            if (!goesOn)
            {
                open = true;
                onset = piece.Start;
                milliseconds = 0;
                nadir = piece.Micro;
            }

            milliseconds += piece.Length.Milliseconds;
            end = piece.End;
            nadir = Math.Min(nadir, piece.Micro);
        }

        if (open && milliseconds >= line.AtLeast.Milliseconds) yield return Part();

        (MustCatchPart, int) Part() => (new MustCatchPart(onset, end, line.AtLeast, line.ToString()), nadir);
    }
}
