using Stillwatch.Alarms;
using Stillwatch.Alarms.Sound;
using Xunit;

namespace Stillwatch.Tests.Sound;

/// <summary>The ranges of IEC 60601-1-8, tables 3 and 4 (secondary copies; what is marked "from memory" is that).</summary>
public class BurstPatternTests
{
    // priority | pulses at least | at most | pulse length at least ms | at most | spacing at least ms | at most | interburst at least ms | at most
    [Theory]
    [InlineData(AlarmPriority.High, 10, 10, 75, 200, 50, 125, 2500, 15000)]
    [InlineData(AlarmPriority.Medium, 3, 3, 125, 250, 125, 250, 2500, 30000)] // pulse length from memory
    [InlineData(AlarmPriority.Low, 1, 2, 125, 250, 125, 250, 15001, long.MaxValue)] // pulse length from memory
    public void Pulses_their_length_and_spacing_and_the_pause_between_bursts_lie_inside_the_published_ranges(
        AlarmPriority priority, int fewest, int most, long shortest, long longest, long closest, long widest, long leastPause, long mostPause)
    {
        var pattern = BurstPatterns.Of(priority)!;
        Assert.InRange(pattern.Pulses.Count, fewest, most);
        Assert.All(pattern.Pulses, p => Assert.InRange(p.Length.Milliseconds, shortest, longest));
        foreach (int after in Enumerable.Range(0, pattern.Pulses.Count - 1).Where(i => priority != AlarmPriority.High || i is 0 or 1 or 3 or 5 or 6 or 8))
            Assert.InRange(Gap(pattern, after), closest, widest);
        // "More than 15 s, or no repeat" for low: no repeat is inside it.
        if (pattern.Interburst is { } pause) Assert.InRange(pause.Milliseconds, leastPause, mostPause);
        else Assert.Equal(AlarmPriority.Low, priority);
    }

    [Fact]
    public void A_high_burst_is_two_fives_with_the_longer_gap_after_the_third_and_a_pause_between_the_fives()
    {
        var high = BurstPatterns.Of(AlarmPriority.High)!;
        long x = Gap(high, 0), length = high.Pulses[0].Length.Milliseconds;
        Assert.Equal([x, x, 2 * x + length, x], Enumerable.Range(0, 4).Select(i => Gap(high, i))); // multiples from memory
        Assert.InRange(Gap(high, 4), 350, 1300);
        Assert.Equal([x, x, 2 * x + length, x], Enumerable.Range(5, 4).Select(i => Gap(high, i)));
    }

    [Fact]
    public void Every_fundamental_and_at_least_four_harmonics_lie_where_the_standard_asks()
    {
        foreach (var pattern in BurstPatterns.All)
        {
            Assert.InRange(pattern.FundamentalHertz, 150, 1000);
            double[] inside = [.. pattern.HarmonicDecibels.Select((_, h) => (h + 2) * pattern.FundamentalHertz).Where(f => f is >= 300 and <= 4000)];
            Assert.True(inside.Length >= 4, $"{pattern.Priority}: {inside.Length} harmonics");
            Assert.All(pattern.HarmonicDecibels, d => Assert.InRange(d, -15, 15)); // from memory
            Assert.InRange(pattern.RiseShare, 0.10, 0.20); // inside both readings of the rise time
            Assert.True((pattern.HarmonicDecibels.Count + 1) * pattern.FundamentalHertz < ScoreWave.SamplesPerSecond / 2.0);
        }
    }

    [Fact]
    public void What_has_no_priority_is_silent() => Assert.Null(BurstPatterns.Of(AlarmPriority.None));

    private static long Gap(BurstPattern pattern, int after) => (pattern.Pulses[after + 1].Start - pattern.Pulses[after].End).Milliseconds;
}
