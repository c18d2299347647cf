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

    /// <summary>One hour at 1 Hz: a wandering level of 90–96 % with short dips, most of them 4–20 s, a few of a minute, to 60–85 %.</summary>
    private static ConditionedSource InventedPreterm(int seed)
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
                dipEnd = i + (random.NextDouble() < 0.1 ? 60 : random.Next(4, 21));
                depth = 6 + random.NextDouble() * 22;
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

    /// <summary>
    /// Events of ours must last 10 s, which the study's need not: a little averaging may widen a short dip into an event before
    /// more of it flattens the dip. So the ends are compared, over all seeds.
    /// </summary>
    [Fact]
    public void Much_averaging_gives_fewer_and_longer_desaturation_events()
    {
        var at3 = Events(3);
        var at16 = Events(16);
        Assert.True(at16.Count < at3.Count, $"{at3.Count} events at 3 s, {at16.Count} at 16 s");
        Assert.True(at16.Average(e => e.Length.Seconds) > at3.Average(e => e.Length.Seconds), "length");
        Assert.True(at16.Average(e => e.Nadir.Value) > at3.Average(e => e.Nadir.Value), "nadir");

        static List<DesaturationEvent> Events(int averagingSeconds) =>
            [.. Enumerable.Range(1, Seeds).SelectMany(seed => DesaturationEventTests.Find(InventedPreterm(seed), Averaged(averagingSeconds)))];
    }
}
