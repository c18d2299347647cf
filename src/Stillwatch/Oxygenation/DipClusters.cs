using Stillwatch.Time;

namespace Stillwatch.Oxygenation;

/// <summary>A train of desaturation events that follow each other closely.</summary>
/// <param name="Span">From the start of the first to the latest end.</param>
/// <param name="Events">How many.</param>
public sealed record DipCluster(TimeSlice Span, int Events);

/// <summary>Clusters of dips: at least three desaturation events, each starting at most 120 s after the one before. Unit policy, no source.</summary>
public static class DipClusters
{
    public const int AtLeast = 3;

    /// <summary>From one start to the next, included.</summary>
    public static readonly Duration StartsWithin = Duration.FromSeconds(120);

    /// <param name="events">In time order.</param>
    public static IReadOnlyList<DipCluster> Of(IReadOnlyList<DesaturationEvent> events)
    {
        var clusters = new List<DipCluster>();
        for (int first = 0; first < events.Count;)
        {
            int next = first + 1;
            var end = events[first].End;
            for (; next < events.Count && events[next].Start - events[next - 1].Start <= StartsWithin; next++)
                if (events[next].End > end)
                    end = events[next].End;
            if (next - first >= AtLeast) clusters.Add(new DipCluster(new TimeSlice(events[first].Start, end), next - first));
            first = next;
        }

        return clusters;
    }
}
