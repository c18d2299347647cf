using Stillwatch.Conditioning;
using Stillwatch.Oxygenation;
using Stillwatch.Time;
using Xunit;

namespace Stillwatch.Tests.Oxygenation;

/// <summary>
/// The direction in which averaging moves events, from published work on preterm infants: with 16 s instead of 3 s there are far
/// fewer desaturations below 80 %, they last longer, and the nadir is higher (Vagedes et al., Arch Dis Child Fetal Neonatal Ed 2013;98:F265: 1958 against
/// 339 in 15 infants). The series here are invented; only the direction is claimed.
/// </summary>
public sealed class AveragingEffectTests
{
    private const int Seeds = 12;

    /// <summary>A wandering level of 90–96 % with dips of 6–28 points, most of them 4–20 s long, a few of a minute.</summary>
    private static ConditionedSource InventedPreterm(int seed) => Invented(seed, random => random.NextDouble() < 0.1 ? 60 : random.Next(4, 21), 6, 28);

    /// <summary>The same with dips of 3.5–9 points, all long enough to be events before any averaging.</summary>
    private static ConditionedSource InventedPeriodic(int seed) => Invented(seed, random => random.Next(16, 31), 3.5, 9);

    private static ConditionedSource Invented(int seed, Func<Random, int> dipSeconds, double shallowest, double deepest)
    {
        var random = new Random(seed);
        var rows = new decimal?[3600];
        double level = 93;
        int dipEnd = -1, dipStart = 0;
        double depth = 0;
        for (int i = 0; i < rows.Length; i++)
        {
            level = Math.Clamp(level + (random.NextDouble() - 0.5) * 0.5, 90, 96);
            if (i > dipEnd + 15 && random.NextDouble() < 1 / 40.0)
            {
                dipStart = i;
                dipEnd = i + dipSeconds(random);
                depth = shallowest + random.NextDouble() * (deepest - shallowest);
            }

            double dip = i <= dipEnd ? depth * Math.Sin(Math.PI * (i - dipStart) / (dipEnd - dipStart + 1)) : 0;
            rows[i] = (decimal)Math.Round(level - dip, 1);
        }

        return ConditionedSource.Even(rows, Duration.FromSeconds(1));
    }

    private static ConditioningSettings Averaged(int seconds) =>
        new(ValidityRule.None, Duration.FromSeconds(seconds), Duration.FromSeconds(5), Rounding.Display);

    /// <summary>Stretches below 80 of any length, as the study counted.</summary>
    private static (int Count, double MeanSeconds, int Nadir) Below80(ConditionedSource source, int averagingSeconds)
    {
        int count = 0, nadir = 100;
        double seconds = 0;
        bool low = false;
        foreach (var piece in ConditionedSeries.Of(source, Averaged(averagingSeconds)).Pieces)
        {
            bool below = piece.Micro < 80_000_000;
            if (below && !low) count++;
            if (below) seconds += piece.Length.Seconds;
            nadir = Math.Min(nadir, piece.Micro / 1_000_000);
            low = below;
        }

        return (count, count > 0 ? seconds / count : 0, nadir);
    }

    [Fact]
    public void More_averaging_gives_fewer_and_longer_stretches_below_80_with_a_higher_nadir()
    {
        int raised = 0;
        for (int seed = 1; seed <= Seeds; seed++)
        {
            var source = InventedPreterm(seed);
            var at3 = Below80(source, 3);
            var at16 = Below80(source, 16);
            Assert.True(at16.Count < at3.Count, $"seed {seed}: {at3.Count} at 3 s, {at16.Count} at 16 s");
            Assert.True(at16.MeanSeconds > at3.MeanSeconds, $"seed {seed}: {at3.MeanSeconds:0.0} s at 3 s, {at16.MeanSeconds:0.0} s at 16 s");
            Assert.True(at16.Nadir >= at3.Nadir, $"seed {seed}: nadir {at3.Nadir} at 3 s, {at16.Nadir} at 16 s");
            raised += at16.Nadir > at3.Nadir ? 1 : 0;
        }

        // The odd long dip keeps its nadir.
        Assert.True(raised >= Seeds - 2, $"{raised} of {Seeds} nadirs raised");
    }

    [Fact]
    public void Much_averaging_gives_fewer_and_longer_events_where_the_dips_last_10_s_already()
    {
        var at3 = Events(InventedPeriodic, 3);
        var at16 = Events(InventedPeriodic, 16);
        Assert.True(at16.Count < at3.Count, $"{at3.Count} events at 3 s, {at16.Count} at 16 s");
        Assert.True(at16.Average(e => e.Length.Seconds) > at3.Average(e => e.Length.Seconds), "length");
        Assert.True(at16.Average(e => e.Nadir.Value) > at3.Average(e => e.Nadir.Value), "nadir");
    }

    /// <summary>
    /// The exception to know about: an event must last 10 s, which the study's stretches need not, and averaging widens brief
    /// deep dips until they do. Indices at different averaging are not comparable, in either direction.
    /// </summary>
    [Fact]
    public void Averaging_can_widen_a_brief_deep_dip_into_an_event()
    {
        var source = SeriesText.Source("96*300 80*6 96*300");
        Assert.Empty(DesaturationEventTests.Find(source, Averaged(3)));
        Assert.Single(DesaturationEventTests.Find(source, Averaged(16)));
    }

    [Fact]
    public void Averaging_lengthens_the_events_of_brief_deep_dips_too() =>
        Assert.True(Events(InventedPreterm, 16).Average(e => e.Length.Seconds) > Events(InventedPreterm, 3).Average(e => e.Length.Seconds));

    private static List<DesaturationEvent> Events(Func<int, ConditionedSource> invented, int averagingSeconds) =>
        [.. Enumerable.Range(1, Seeds).SelectMany(seed => DesaturationEventTests.Find(invented(seed), Averaged(averagingSeconds)))];
}
