using Stillwatch.Quantities;
using Stillwatch.Time;

namespace Stillwatch.Oxygenation;

/// <summary>One hour in one plain sentence: what was seen, never what to do.</summary>
internal static class HourWords
{
    private static readonly Percent Ninety = Percent.Of(90);
    private static readonly Percent Eighty = Percent.Of(80);

    // A change smaller than this is within what a displayed whole percent can wander. Unit policy, no source.
    private const double ChangeWorthSaying = 2;

    private static readonly string[] Numbers = ["no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten"];

    /// <summary>What the desaturation events that start in an hour are part of.</summary>
    /// <param name="Clustered">Those in a cluster of dips.</param>
    /// <param name="Single">Those by themselves.</param>
    /// <param name="Long">Those by themselves that last longer than <see cref="LongFall"/>: hardly what anyone calls a dip.</param>
    public readonly record struct Dips(int Clustered, int Single, int Long);

    public static readonly Duration LongFall = Duration.FromSeconds(600); // unit policy, no source

    public static string Of(HourSummary hour, TimeDistribution distribution, Dips dips)
    {
        if (hour.Valid == Duration.Zero) return "No valid value in this hour.";
        return $"{Mostly(distribution)}, {BelowNinety(hour, distribution)}{Falls(hour.Clusters ?? 0, dips)}{Change(hour)}{Coverage(hour)}.";
    }

    /// <summary>The middle four fifths of the time, in whole percent.</summary>
    private static string Mostly(TimeDistribution distribution)
    {
        int low = Whole(distribution.QuantileMicro(10)!.Value), high = Whole(distribution.QuantileMicro(90)!.Value);
        return low == high ? $"Mostly {low} %" : $"Mostly {low}–{high} %";
    }

    private static string BelowNinety(HourSummary hour, TimeDistribution distribution)
    {
        var below = distribution.Below(Ninety.Micro);
        if (below == Duration.Zero) return "never below 90";
        string lowest = $"lowest {Whole(distribution.LowestMicro!.Value)}";
        var deep = distribution.Below(Eighty.Micro);
        if (deep > Duration.Zero) lowest += $", {Time(deep)} below 80";
        return below == hour.Valid ? $"all the time below 90 ({lowest})" : $"{Time(below)} below 90 ({lowest})";
    }

    private static string Falls(int clusters, Dips dips)
    {
        // A cluster is counted in the hour in which it starts; its later dips may lie in the next.
        string[] kinds =
        [
            clusters > 0 ? $"{Count(clusters, "cluster")} of dips" : dips.Clustered > 0 ? "dips of a cluster that began earlier" : "",
            dips.Single > 0 ? Count(dips.Single, clusters > 0 || dips.Clustered > 0 ? "single dip" : "dip") : "",
            dips.Long > 0 ? $"{Count(dips.Long, "fall")} of more than {LongFall.Minutes:0} min" : "",
        ];
        return string.Concat(kinds.Where(k => k.Length > 0).Select((kind, i) => (i == 0 ? ", " : " and ") + kind));
    }

    private static string Change(HourSummary hour)
    {
        if (hour.ChangeFromBaseline is not { } change || Math.Abs(change) < ChangeWorthSaying) return "";
        double points = Math.Round(Math.Abs(change), MidpointRounding.AwayFromZero);
        return $"; {points:0} points {(change < 0 ? "below" : "above")} the patient's own start";
    }

    private static string Coverage(HourSummary hour)
    {
        var missing = hour.Span.Length - hour.Valid;
        // A tenth missing changes what the other figures of the hour are worth.
        return 10 * missing.Milliseconds > hour.Span.Length.Milliseconds
            ? $"; values for only {Time(hour.Valid)} of its {Time(hour.Span.Length)}"
            : "";
    }

    private static string Count(int count, string thing) => $"{(count < Numbers.Length ? Numbers[count] : count.ToString())} {thing}{(count == 1 ? "" : "s")}";

    private static string Time(Duration time) => time < Duration.FromSeconds(60)
        ? $"{Math.Max(1, Math.Round(time.Seconds, MidpointRounding.AwayFromZero)):0} s"
        : $"{Math.Round(time.Minutes, MidpointRounding.AwayFromZero):0} min";

    private static int Whole(int micro) => FixedPoint.RoundToWhole(micro) / FixedPoint.One;
}
