using Stillwatch.Conditioning;
using Stillwatch.Quantities;
using Stillwatch.Time;

namespace Stillwatch.Oxygenation;

/// <summary>Finds the desaturation events of a conditioned SpO2 series.</summary>
/// <remarks>
/// <para>There is no accepted standard; this is the definition that every count of ours stands on. All times are on the
/// conditioned series, which keeps its value from one sample to the next (rule R5), and count valid time.</para>
/// <para><b>Baseline.</b> The time-weighted mean of the valid values in the 120 s before the fall, at least 60 s of them
/// valid: no event is found in the first minute of a recording, nor in the first minute after a long loss.</para>
/// <para><b>Onset.</b> A fall begins where the value leaves the mean of the 120 s before it, for half a point or more, on the
/// way down; the first half point of the same descent belongs to it where it goes down by 3 % in 120 s or faster. It is forgotten when the value comes back to where it began, or within half a point of that mean, or when 120 s have passed:
/// a drift slower than 3 % in two minutes is no event. Where several are under way the one from the highest level counts.
/// <see cref="DesaturationEvent.Start"/> is one period before the first lower value, the last moment of the old level.</para>
/// <para><b>Depth.</b> The value lies 3 % (4 %) or more below both the baseline and the value just before the fall.</para>
/// <para><b>Lasting.</b> At least half of the 3 % (4 %) below the baseline for at least 10 s in all. For a square dip that is
/// its length; a saw-tooth is measured at half its required depth, so that neither a spike in a shallow trough makes an event
/// nor a pointed dip is lost.</para>
/// <para><b>End.</b> A rise by two thirds of the fall that holds for 3 s ends it, at the top of that rise: the first return to the
/// baseline, or the highest value before 10 s pass without a higher one. Smaller rises are partial recoveries inside one event.
/// A patient who settles lower stays in the event until the rise comes, however long, or until a new fall begins from a
/// level that was the mean for 120 s: then this event ends there and the next begins.</para>
/// <para><b>Losses.</b> As in rule R9: lost time adds nothing; back within 60 s and not recovered, the event goes on; otherwise
/// it ended at the loss. A fall that nobody saw, because it happened during the loss, begins at the return.</para>
/// <para><b>Known limit.</b> In unbroken trains the mean of 120 s sinks with the dips, so that shallow cycles count less than by a
/// definition from peak to nadir.</para>
/// </remarks>
internal sealed class DesaturationFinder
{
    private readonly ConditionedSeries series;
    private readonly IReadOnlyList<ConditionedSeries.Piece> pieces;
    private readonly int[] means;
    private readonly Duration period;

    private DesaturationFinder(ConditionedSeries series, Duration period)
    {
        this.series = series;
        this.period = period;
        pieces = series.Pieces;
        means = BaselineMeans.Before(pieces);
    }

    /// <summary>Whether samples are dense enough for the definition.</summary>
    public static bool IsApplicable(Duration period) => period <= DesaturationDefinition.LongestPeriod;

    /// <summary>The events in time order, without their pulse rate.</summary>
    public static List<DesaturationEvent> Find(ConditionedSeries series, Duration period) => new DesaturationFinder(series, period).Find();

    private List<DesaturationEvent> Find()
    {
        var events = new List<DesaturationEvent>();
        var candidates = new FallCandidates(pieces, means);
        int earliestOnset = 0;
        for (int i = 0; i < pieces.Count;)
        {
            candidates.Observe(i, earliestOnset, fromItsMeanOnly: false);
            if (candidates.Confirmed(i, DesaturationDefinition.Fall) is not { } fall)
            {
                i++;
                continue;
            }

            var course = Follow(fall, i);
            if (Measure(fall, course) is { } found) events.Add(found);
            candidates.Clear();
            i = course.Resume;
            earliestOnset = i - 1;
        }

        return events;
    }

    /// <param name="Resume">The first piece after the event.</param>
    /// <param name="End">When it ended.</param>
    /// <param name="Ending">How.</param>
    private readonly record struct Course(int Resume, SampleTime End, DesaturationEnding Ending);

    /// <summary>From the piece that confirmed a fall to its end.</summary>
    private Course Follow(FallCandidates.Fall fall, int confirmedAt)
    {
        var inner = new FallCandidates(pieces, means);
        var settled = pieces[fall.Onset].Start + DesaturationDefinition.BaselineWindow;
        int nadir = pieces[confirmedAt].Micro;
        int risen = -1; // first piece of a stretch that may be the recovery
        for (int i = confirmedAt + 1; i < pieces.Count; i++)
        {
            var piece = pieces[i];
            bool goodEnough = 3 * ((long)piece.Micro - nadir) >= 2 * ((long)fall.Baseline - nadir);
            if (piece.Arrival != Arrival.Continues)
            {
                if (piece.Arrival == Arrival.BackTooLate || goodEnough) return new Course(i, pieces[i - 1].End, DesaturationEnding.Lost);
                risen = -1;
            }

            nadir = Math.Min(nadir, piece.Micro);
            if (!goodEnough) risen = -1;
            else if (risen < 0) risen = i;
            if (risen >= 0 && (piece.End - pieces[risen].Start).Milliseconds >= DesaturationDefinition.RecoveryMilliseconds)
            {
                int top = TopOfRise(risen, fall.Baseline);
                return new Course(top, pieces[top].Start, DesaturationEnding.Recovered);
            }

            if (piece.Start < settled) continue;
            inner.Observe(i, earliestOnset: confirmedAt, fromItsMeanOnly: true);
            if (inner.Confirmed(i, DesaturationDefinition.Fall) is { } next)
                return new Course(next.Onset, StartOf(next.Onset), DesaturationEnding.NextFall);
        }

        var end = pieces[^1].End;
        return new Course(pieces.Count, end, end == series.End ? DesaturationEnding.RecordingEnd : DesaturationEnding.Lost);
    }

    /// <summary>The piece where a recovery is complete.</summary>
    private int TopOfRise(int risen, int baseline)
    {
        int top = risen;
        for (int i = risen + 1; i < pieces.Count && pieces[top].Micro < baseline; i++)
        {
            if (pieces[i].Arrival != Arrival.Continues) break;
            if ((pieces[i].Start - pieces[top].Start).Milliseconds >= DesaturationDefinition.NoFurtherMilliseconds) break;
            if (pieces[i].Micro > pieces[top].Micro) top = i;
        }

        return top;
    }

    /// <summary>The event in numbers; null where it was too short.</summary>
    private DesaturationEvent? Measure(FallCandidates.Fall fall, Course course)
    {
        long area = 0, halfOfFall = 0, halfOfDeepFall = 0;
        int nadir = fall.Onset;
        for (int i = fall.Onset; i < course.Resume; i++)
        {
            // Before a next fall the last period belongs to that event.
            long length = Math.Min(pieces[i].End.Milliseconds, course.End.Milliseconds) - pieces[i].Start.Milliseconds;
            long below = (long)fall.Baseline - pieces[i].Micro;
            if (below > 0) area += below * length;
            if (2 * below >= DesaturationDefinition.Fall.Micro) halfOfFall += length;
            if (2 * below >= DesaturationDefinition.DeepFall.Micro) halfOfDeepFall += length;
            if (pieces[i].Micro < pieces[nadir].Micro) nadir = i;
        }

        if (halfOfFall < DesaturationDefinition.AtLeast.Milliseconds) return null;
        int depth = fall.Baseline - pieces[nadir].Micro;
        return new DesaturationEvent
        {
            Start = StartOf(fall.Onset),
            End = course.End,
            NadirTime = pieces[nadir].Start,
            Nadir = Percent.FromMicro(pieces[nadir].Micro),
            Baseline = Percent.FromMicro(fall.Baseline),
            Depth = Percent.FromMicro(depth),
            Area = new Area(area),
            Recovery = course.Ending == DesaturationEnding.Recovered ? course.End - pieces[nadir].Start : null,
            PulseRateRise = null,
            IsFallOf4 = depth >= DesaturationDefinition.DeepFall.Micro && halfOfDeepFall >= DesaturationDefinition.AtLeast.Milliseconds,
            Ending = course.Ending,
        };
    }

    /// <summary>One period before the first lower value, where the value before it is known.</summary>
    private SampleTime StartOf(int onset)
    {
        var first = pieces[onset].Start;
        if (pieces[onset].Arrival != Arrival.Continues) return first;
        var before = first - period;
        return before < pieces[onset - 1].Start ? pieces[onset - 1].Start : before;
    }
}
