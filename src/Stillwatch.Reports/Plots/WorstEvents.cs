using Stillwatch.Oxygenation;
using Stillwatch.Quantities;
using Stillwatch.Reports.Model;
using Stillwatch.Time;
using Stillwatch.Tuning.MustCatch;

namespace Stillwatch.Reports.Plots;

/// <summary>An event worth a picture: a fall, a must-catch event, or one that is both.</summary>
/// <param name="Start">Onset; of the earlier where it is both.</param>
/// <param name="End">First instant after it; of the later where it is both.</param>
/// <param name="Nadir">Lowest value.</param>
/// <param name="NadirTime">When; null where only the must-catch event is known.</param>
/// <param name="Baseline">Mean of the 120 s before the fall; null where no fall was found.</param>
/// <param name="MustCatch">The must-catch events within it, with their numbers from 1.</param>
internal sealed record WorstEvent(
    SampleTime Start,
    SampleTime End,
    Percent Nadir,
    SampleTime? NadirTime,
    Percent? Baseline,
    IReadOnlyList<(int Number, MustCatchOutcome Outcome)> MustCatch)
{
    public Duration Length => End - Start;

    /// <summary>The deepest first, longer first among equals, at most <paramref name="atMost"/>.</summary>
    public static IReadOnlyList<WorstEvent> Of(RecordingSection section, int atMost)
    {
        var falls = section.Review?.Events ?? [];
        var numbered = section.MustCatch.Select((outcome, index) => (Number: index + 1, Outcome: outcome)).ToList();
        var events = new List<WorstEvent>();
        var taken = new HashSet<int>();
        foreach (var fall in falls.OrderBy(f => f.Nadir).ThenByDescending(f => f.End - f.Start).ThenBy(f => f.Start))
        {
            if (events.Count >= 4 * atMost) break; // more can never come among the worst once joined
            var within = numbered.Where(m => m.Outcome.Event.Onset < fall.End && fall.Start < m.Outcome.Event.End).ToList();
            if (within.Any(m => !taken.Add(m.Number))) continue; // a longer must-catch event is already drawn with a deeper fall
            events.Add(Joined(fall, within));
        }

        events.AddRange(numbered.Where(m => !taken.Contains(m.Number))
            .Select(m => new WorstEvent(m.Outcome.Event.Onset, m.Outcome.Event.End, m.Outcome.Event.Nadir, null, null, [m])));
        return [.. events.OrderBy(e => e.Nadir).ThenByDescending(e => e.Length).ThenBy(e => e.Start).Take(atMost)];
    }

    private static WorstEvent Joined(DesaturationEvent fall, IReadOnlyList<(int Number, MustCatchOutcome Outcome)> within) => new(
        within.Select(m => m.Outcome.Event.Onset).Append(fall.Start).Min(),
        within.Select(m => m.Outcome.Event.End).Append(fall.End).Max(),
        fall.Nadir,
        fall.NadirTime,
        fall.Baseline,
        within);
}
