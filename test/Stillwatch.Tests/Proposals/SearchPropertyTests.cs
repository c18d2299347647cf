using System.Text.Json;
using CsCheck;
using Stillwatch.Signals;
using Stillwatch.Time;
using Stillwatch.Tuning.Proposals;
using Xunit;
using static Stillwatch.Tests.Proposals.HandMade;

namespace Stillwatch.Tests.Proposals;

public class SearchPropertyTests
{
    private static readonly JsonSerializerOptions Plain = new() { NumberHandling = System.Text.Json.Serialization.JsonNumberHandling.AllowNamedFloatingPointLiterals };

    private static readonly CandidateGrid Candidates = Grid(Settings(90, 0));

    /// <summary>Any evidence at all: loads, technical loads and events drawn freely, candidate by candidate.</summary>
    private static readonly Gen<List<PatientEvidence>> AnyWard =
        Gen.Select(
                Gen.Long[0, 6].Array[Candidates.Count], Gen.Long[0, 3].Array[Candidates.Count],
                AnyEvent.Array[0, 4], AnyEvent.Array[0, 1])
            .Array[1, 7]
            .Select(patients => patients.Select((p, i) => new PatientEvidence(
                Name(i + 1), 1, Duration.FromHours(8 + i), Duration.FromHours(10 + i), p.Item1, new long[Candidates.Count], p.Item2, p.Item3, p.Item4)).ToList());

    // Mostly caught, so that some candidates stay inside the guard rails.
    private static Gen<EventEvidence> AnyEvent => Gen.Frequency((1, Gen.Const(-1)), (2, Gen.Int[50_000, 70_000]), (30, Gen.Int[0, 40_000])).Array[Candidates.Count]
        .Select(times => new EventEvidence("night", default, new(90_000), "", [new PartEvidence(new(90_000), new(60_000), times)]));

    [Fact]
    public void The_search_finds_what_a_plain_reading_of_the_rule_finds() =>
        AnyWard.Sample(ward =>
        {
            var rails = new GuardRails();
            var table = new SearchTable(Candidates, ward);
            Assert.Equal(Plainly(ward, rails), new Search(table, rails).Run(table.Everyone).Chosen);
        }, iter: 3000, threads: 1);

    [Fact]
    public void A_refusal_always_has_a_reason_and_a_proposal_always_stands_inside_the_bounds_without_a_miss() =>
        AnyWard.Sample(ward =>
        {
            var proposal = Propose(Candidates, ward, Settings(90, 0), Rules with { Resamples = 5 });
            Assert.Equal(proposal.IsRefused, proposal.Chosen is null);
            Assert.Equal(proposal.RefusedBecause, proposal.Findings.Where(f => f.Verdict == RuleVerdict.Refuses).Select(f => f.ToString()));
            if (proposal.Chosen is not { } chosen) return;
            Assert.True(chosen is { IsInsideBounds: true, Missed: 0, Late: 0, MissedAtHalfLength: 0 });
        }, iter: 500, threads: 1);

    [Fact]
    public void Nothing_that_survives_all_lines_is_refused_without_a_line_that_says_so() =>
        AnyWard.Sample(ward =>
        {
            // Where the search sets everything aside, the judgement must refuse by the very line that did.
            var table = new SearchTable(Candidates, ward);
            var result = new Search(table, Rules.GuardRails).Run(table.Everyone);
            if (result.Chosen is not null) return;
            var proposal = Propose(Candidates, ward, Settings(90, 0), Rules with { Resamples = 5 });
            Assert.Contains(proposal.RefusedBecause, r => r[..5] is "R14.1" or "R14.2" or "R14.4" or "R14.9");
        }, iter: 500, threads: 1);

    [Fact]
    public void Counting_every_patient_twice_changes_no_load_and_never_widens_a_bound() =>
        AnyWard.Sample(ward =>
        {
            var table = new SearchTable(Candidates, ward);
            int[] twice = [.. ward.Select(_ => 2)];
            for (int c = 0; c < Candidates.Count; c++)
            {
                var (once, doubled) = (table.TallyOf(c, table.Everyone), table.TallyOf(c, twice));
                Assert.Equal(2 * once.Signals, doubled.Signals);
                Assert.Equal(2 * once.Missed, doubled.Missed);
                Assert.True(table.Bound(doubled.Missed, table.TotalsOf(twice).Events) <= table.Bound(once.Missed, table.TotalsOf(table.Everyone).Events));
            }
        }, iter: 100, threads: 1);

    [Fact]
    public void The_order_of_patients_and_nights_does_not_matter() =>
        Gen.Int[0, 1_000_000].Sample(seed =>
        {
            var random = new Random(seed);
            List<PatientRecordings> ward =
            [
                .. Enumerable.Range(1, 4).Select(i => new PatientRecordings(Name(i), PatientCategory.Adult, [.. Enumerable.Range(1, 3).Select(n => NightOf(10 * i + n))])),
                new PatientRecordings("N01", PatientCategory.NeonatalOnAir, [NightOf(99)]),
            ];
            // The same nights in another order, the patients' entries torn apart.
            var torn = ward.SelectMany(p => p.Recordings.Select(r => new PatientRecordings(p.Patient, p.Category, [r]))).ToArray();
            random.Shuffle(torn);
            Assert.Equal(Said(ward), Said(torn));
        }, iter: 8, threads: 1);

    [Fact]
    public void Another_seed_draws_other_stretches_and_other_intervals()
    {
        List<PatientRecordings> ward = [.. Enumerable.Range(1, 3).Select(i => new PatientRecordings(Name(i), PatientCategory.Adult, [NightOf(i)]))];
        Assert.Equal(Said(ward, seed: 1), Said(ward, seed: 1));
        Assert.NotEqual(Said(ward, seed: 1), Said(ward, seed: 2));
    }

    [Fact]
    public void Resamples_draw_as_many_patients_as_there_are_and_each_alike_often()
    {
        var resampling = new Resampling(patients: 10, resamples: 2000, seed: 7);
        Assert.All(resampling.Weights, w => Assert.Equal(10, w.Sum()));
        for (int p = 0; p < 10; p++)
        {
            // 20 000 draws, 2 000 expected for each; 5 standard deviations are 212.
            Assert.InRange(resampling.Weights.Sum(w => w[p]), 1788, 2212);
        }
    }

    [Theory]
    [InlineData(0.0, 10)]
    [InlineData(0.5, 25)]
    [InlineData(0.025, 10.75)]
    [InlineData(1.0, 40)]
    public void Percentiles_lie_between_the_closest_ranks(double share, double expected) =>
        Assert.Equal(expected, Resampling.Percentile([10, 20, 30, 40], share), 9);

    private static TuningRecording NightOf(int number)
    {
        var night = new InventedNight().Rest(200 + number);
        for (int i = 0; i < 3; i++) night.Fall(88 - number % 3, 5 + number).Rest(60).Fall(81, 70 + number).Rest(60);
        return night.NoNumbers(number).Rest(30).Tuning($"night {number}");
    }

    private static string Said(IReadOnlyList<PatientRecordings> ward, ulong seed = 1) =>
        JsonSerializer.Serialize(ProposalSearch.Propose(ward, ProposalRules.Default with { Resamples = 20, Seed = seed }, Settings(90, 0)), Plain);

    private static int? Plainly(List<PatientEvidence> ward, GuardRails rails)
    {
        var now = Candidates.PresentIndex!.Value;
        int events = ward.Sum(p => p.Events.Count), withPossible = events + ward.Sum(p => p.Possible.Count);
        return Enumerable.Range(0, Candidates.Count)
            .Where(Candidates.IsInsideBounds)
            .Where(c => !ward.Any(p => p.Events.Any(e => e.IsMissed(c) || e.IsLate(c) || e.IsMissedAtHalfLength(c))))
            .Where(c =>
            {
                int hidden = ward.Sum(p => p.Possible.Count(e => e.IsMissed(c) || e.IsLate(c)));
                int patients = ward.Count(p => p.Possible.Any(e => e.IsMissed(c) || e.IsLate(c)));
                return hidden == 0
                    || (ExactBound.Upper(hidden, withPossible) <= Math.Max(rails.EventsBound, ExactBound.Upper(0, events))
                        && ExactBound.Upper(patients, ward.Count(p => p.Events.Count + p.Possible.Count > 0))
                            <= Math.Max(rails.PatientsBound, ExactBound.Upper(0, ward.Count(p => p.Events.Count > 0))));
            })
            .Where(c => ward.Sum(p => p.Signals[c]) >= ward.Sum(p => p.Signals[now]) || ward.Sum(p => p.TechnicalSignals[c]) <= ward.Sum(p => p.TechnicalSignals[now]))
            .OrderBy(c => ward.Sum(p => p.Signals[c]))
            .ThenByDescending(c => Limit(Candidates.Candidates[c])).ThenBy(c => Delay(Candidates.Candidates[c]))
            .Select(c => (int?)c).FirstOrDefault();
    }
}
