using Stillwatch.Accuracy.Rehearsals;

namespace Stillwatch.Accuracy.Tests;

/// <summary>Rehearsed light of the table is kept apart from what parameters are chosen on.</summary>
public class TrialTests
{
    [Fact]
    public void Every_trial_has_a_seed_of_its_own_from_9000_on()
    {
        var seeds = new[] { Trials.Clean(), Trials.Weak(), Trials.Moving() }.SelectMany(t => t).Select(t => t.Seed).ToList();

        Assert.All(seeds, s => Assert.InRange(s, Trials.FirstSeed, Trials.FirstSeed + 999));
        Assert.Equal(seeds.Count, seeds.Distinct().Count());
    }

    [Fact]
    public void Trials_cover_what_their_rows_promise()
    {
        Assert.Equal((1, 5), (Trials.Clean().Min(t => t.Patient.PerfusionPercent), Trials.Clean().Max(t => t.Patient.PerfusionPercent)));
        Assert.Equal((70, 100), (Trials.Clean().Min(t => t.Patient.SaturationPercent), Trials.Clean().Max(t => t.Patient.SaturationPercent)));
        Assert.Equal((0.2, 0.5), (Trials.Weak().Min(t => t.Patient.PerfusionPercent), Trials.Weak().Max(t => t.Patient.PerfusionPercent)));
        var moving = Trials.Moving().SelectMany(t => Enumerable.Range(0, t.Patient.Seconds).Select(s => t.Story!(s).Motion)).ToList();
        Assert.InRange(moving.Count(m => m > 0) / (double)moving.Count, 0.25, 0.45);
        Assert.All(moving.Where(m => m > 0), m => Assert.InRange(m, 0.33, 3));
    }
}
