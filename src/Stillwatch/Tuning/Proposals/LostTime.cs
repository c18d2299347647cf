using Stillwatch.Conditioning;
using Stillwatch.Quantities;
using Stillwatch.Signals;
using Stillwatch.Time;
using Stillwatch.Tuning.MustCatch;

namespace Stillwatch.Tuning.Proposals;

/// <summary>
/// Where a series has no value: the technical signals that follow from it (R9), and what it may hide (R14.4).
/// </summary>
internal sealed class LostTime
{
    private readonly ConditionedSeries series;
    private readonly Channel channel;
    private readonly long holdMilliseconds;

    private LostTime(ConditionedSeries series, Channel channel, long holdMilliseconds)
    {
        this.series = series;
        this.channel = channel;
        this.holdMilliseconds = holdMilliseconds;
    }

    public static LostTime Of(ConditionedSource source, ConditioningSettings conditioning) => new(
        ConditionedSeries.Of(source, conditioning), source.Channel, conditioning.HoldAfter(source.Channel.Times.Period).Milliseconds);

    /// <summary>The series that it looks at.</summary>
    public ConditionedSeries Series => series;

    public Duration Connected => series.Connected;

    public Duration Valid => series.Valid;

    /// <summary>
    /// Technical signals "no reading" under a low limit: a loss with a run open signals at once, any other after its delay.
    /// </summary>
    /// <remarks>
    /// A run is taken as open where the last value is below the limit. A signal held open by the clear margin alone is not seen
    /// here: such a loss counts when it outlasts the delay.
    /// </remarks>
    public long TechnicalSignals(Percent limit, Duration delay)
    {
        long signals = 0;
        foreach (var (before, slice) in Losses())
            if ((before is { } value && value < limit.Micro) || slice.Length > delay) signals++;
        return signals;
    }

    /// <summary>
    /// Stretches that may hide a must-catch event: invalid time next to a value below <paramref name="lowNeighbour"/>, or with
    /// rejected numbers at a must-catch level inside, long enough for a line of the definition, and not touching a certain event (which is then only longer than was seen).
    /// </summary>
    /// <remarks>
    /// The low values beside the invalid time belong to the stretch. A signal is in time when it was active between the
    /// stretch's onset and T after the values stopped; so settings that signalled before the values stopped have caught it.
    /// </remarks>
    public IReadOnlyList<MustCatchEvent> PossibleEvents(
        MustCatchDefinition definition, IReadOnlyList<MustCatchEvent> certain, Percent lowNeighbour)
    {
        int highestLevel = definition.Lines.Count == 0 ? 0 : definition.Lines.Max(l => l.Level.Micro);
        int low = Math.Max(lowNeighbour.Micro, highestLevel);
        var segments = Segments(low, definition);
        var found = new List<MustCatchEvent>();
        for (int i = 0; i < segments.Count; i++)
        {
            if (!segments[i].IsSuspect) continue;
            int first = i;
            while (i + 1 < segments.Count && segments[i + 1].IsSuspect) i++;
            if (PossibleEvent(segments, first, i, definition, certain) is { } possible) found.Add(possible);
        }

        return found;
    }

    private static MustCatchEvent? PossibleEvent(
        List<Segment> segments, int first, int last, MustCatchDefinition definition, IReadOnlyList<MustCatchEvent> certain)
    {
        var onset = segments[first].Slice.Start;
        var end = segments[last].Slice.End;
        int firstLoss = first;
        while (firstLoss <= last && !segments[firstLoss].IsLoss) firstLoss++;
        if (firstLoss > last) return null; // low values, but nothing invalid among them
        int lastLoss = last;
        while (!segments[lastLoss].IsLoss) lastLoss--;
        var lost = segments[firstLoss].Slice.Start;
        var back = segments[lastLoss].Slice.End;
        if (certain.Any(c => c.Onset <= back && c.End >= lost)) return null; // that event, perhaps longer than was seen
        var nadir = int.MaxValue;
        for (int s = first; s <= last; s++) nadir = Math.Min(nadir, segments[s].LowestMicro);
        var parts = new List<MustCatchPart>();
        foreach (var line in definition.Lines)
        {
            var could = Duration.Zero;
            for (int s = first; s <= last; s++)
                if (segments[s].IsLoss || Meets(line, segments[s].LowestMicro)) could += segments[s].Slice.Length;
            if (could < line.AtLeast) continue;
            var within = lost - onset + line.AtLeast;
            parts.Add(new MustCatchPart(onset, end, within < end - onset ? within : end - onset, $"possibly {line}"));
        }

        return parts.Count == 0 ? null : new MustCatchEvent(onset, end, Percent.FromMicro(nadir == int.MaxValue ? 0 : nadir), parts);
    }

    private static bool Meets(MustCatchLine line, int micro) => micro < line.Level.Micro || (line.Inclusive && micro == line.Level.Micro);

    /// <summary>Values and losses in time order, each suspect or not.</summary>
    private List<Segment> Segments(int low, MustCatchDefinition definition)
    {
        var segments = new List<Segment>();
        var at = series.Start;
        foreach (var piece in series.Pieces)
        {
            if (piece.Start > at) segments.Add(Loss(at, piece.Start, definition));
            segments.Add(new Segment(new TimeSlice(piece.Start, piece.End), false, piece.Micro < low || MeetsAny(definition, piece.Micro), piece.Micro));
            at = piece.End;
        }

        if (series.End > at) segments.Add(Loss(at, series.End, definition));
        for (int i = 0; i < segments.Count; i++)
        {
            if (!segments[i].IsLoss || segments[i].IsSuspect) continue;
            bool beside = (i > 0 && segments[i - 1] is { IsLoss: false, IsSuspect: true })
                || (i + 1 < segments.Count && segments[i + 1] is { IsLoss: false, IsSuspect: true });
            if (beside) segments[i] = segments[i] with { IsSuspect = true };
        }

        return segments;
    }

    /// <summary>A loss; suspect in itself where its rejected rows hold a number at a must-catch level. Dropout codes (≤ 0) are no numbers.</summary>
    private Segment Loss(SampleTime from, SampleTime to, MustCatchDefinition definition)
    {
        int lowest = int.MaxValue;
        // The hold bridged the first of the rejected rows.
        var rowsFrom = from == series.Start ? from : from - new Duration(holdMilliseconds) + new Duration(1);
        for (int i = channel.Times.IndexAtOrAfter(rowsFrom); i < channel.Times.Count && channel.Times.TimeAt(i) < to; i++)
        {
            int micro = channel.Values[i];
            if (micro != ValueColumn.Missing && micro > 0) lowest = Math.Min(lowest, micro);
        }

        return new Segment(new TimeSlice(from, to), true, lowest != int.MaxValue && MeetsAny(definition, lowest), lowest);
    }

    private static bool MeetsAny(MustCatchDefinition definition, int micro) => definition.Lines.Any(l => Meets(l, micro));

    private IEnumerable<(int? BeforeMicro, TimeSlice Slice)> Losses()
    {
        var at = series.Start;
        int? before = null;
        foreach (var piece in series.Pieces)
        {
            if (piece.Start > at) yield return (before, new TimeSlice(at, piece.Start));
            at = piece.End;
            before = piece.Micro;
        }

        if (series.End > at) yield return (before, new TimeSlice(at, series.End));
    }

    private readonly record struct Segment(TimeSlice Slice, bool IsLoss, bool IsSuspect, int LowestMicro);
}
