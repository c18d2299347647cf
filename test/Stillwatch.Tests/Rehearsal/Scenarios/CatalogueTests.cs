using System.Text.RegularExpressions;
using Stillwatch.Rehearsal;
using Stillwatch.Rehearsal.Scenarios;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Tests.Rehearsal.Scenarios;

/// <summary>What every scenario owes to those who teach with it. Invented data: nothing here is evidence about patients.</summary>
public sealed class CatalogueTests
{
    [Fact]
    public void There_are_at_least_twelve_scenarios_with_names_of_small_letters_and_hyphens()
    {
        Assert.True(RehearsalScenarios.All.Count >= 12);
        Assert.Equal(RehearsalScenarios.All.Count, RehearsalScenarios.All.Select(s => s.Name).Distinct().Count());
        Assert.All(RehearsalScenarios.All, s => Assert.Matches(new Regex("^[a-z]+(-[a-z]+)+$"), s.Name));
    }

    [Fact]
    public void A_scenario_is_found_by_its_name_and_a_wrong_name_finds_none()
    {
        Assert.All(RehearsalScenarios.All, s => Assert.Same(s, RehearsalScenarios.Find(s.Name)));
        Assert.Same(RehearsalScenarios.All[0], RehearsalScenarios.Find(" Quiet-Night "));
        Assert.Null(RehearsalScenarios.Find("quiet"));
    }

    [Fact]
    public void Each_scenario_tells_its_story_and_three_to_five_learning_points_in_sentences()
    {
        foreach (var scenario in RehearsalScenarios.All)
        {
            Assert.EndsWith(".", scenario.Story, StringComparison.Ordinal);
            Assert.NotEqual("", scenario.Title);
            Assert.InRange(scenario.LearningPoints.Count, 3, 5);
            Assert.All(scenario.LearningPoints, point => Assert.Matches(new Regex("^[A-Z].*[.]$"), point));
        }

        Assert.Contains("not a physiological reference", RehearsalScenario.Caution, StringComparison.OrdinalIgnoreCase);
        Assert.Contains("local policy", RehearsalScenario.Caution, StringComparison.OrdinalIgnoreCase);
    }

    [Fact]
    public void Scenarios_last_a_lesson_apart_from_the_long_ones() =>
        Assert.All(RehearsalScenarios.All, s => Assert.InRange(s.DurationSeconds, 20 * 60, s.Name switch { "quiet-night" => 8 * 3600, "slow-pneumonia" => 3 * 3600, _ => 90 * 60 }));

    [Fact]
    public void Adults_children_and_preterms_are_among_the_patients() =>
        Assert.Superset(
            new HashSet<PatientCategory> { PatientCategory.Adult, PatientCategory.AdultHypercapnicRisk, PatientCategory.PaediatricChild, PatientCategory.NeonatalOnOxygen },
            RehearsalScenarios.All.Select(s => s.Category).ToHashSet());

    [Fact]
    public void What_the_patient_breathes_is_what_the_scenario_says()
    {
        foreach (var scenario in RehearsalScenarios.All)
        {
            var drives = scenario.Run(1).Drives;
            int onOxygen = drives.Count(d => d.InhaledOxygenFraction > 0.21);
            Assert.Equal(scenario.Oxygen, onOxygen * 2 > drives.Count ? "oxygen" : "air");
        }
    }

    [Fact]
    public void The_same_seed_gives_the_same_run_to_the_last_digit_and_another_seed_another()
    {
        foreach (var scenario in RehearsalScenarios.All)
        {
            int seconds = Math.Min(scenario.DurationSeconds, 3600);
            var run = scenario.Run(20260302, seconds);
            var again = scenario.Run(20260302, seconds);
            Assert.Equal(run.Patient, again.Patient);
            Assert.Equal(run.Sensor, again.Sensor);
            Assert.Equal(run.Episodes, again.Episodes);
            Assert.Equal(Rows(run.Numerics), Rows(again.Numerics));
            Assert.NotEqual(Rows(run.Numerics), Rows(scenario.Run(20260303, seconds).Numerics));
        }
    }

    [Fact]
    public void A_shorter_cut_is_the_beginning_of_the_whole()
    {
        foreach (var scenario in RehearsalScenarios.All)
        {
            var whole = scenario.Run(9, Math.Min(scenario.DurationSeconds, 3600));
            foreach (int seconds in new[] { 1, 777, 1300 })
            {
                var cut = scenario.Run(9, seconds);
                Assert.Equal(seconds, cut.Seconds);
                Assert.Equal(whole.Patient.Take(seconds), cut.Patient);
                Assert.Equal(whole.Sensor.Take(seconds), cut.Sensor);
                Assert.Equal(Rows(whole.Numerics).Take(cut.Numerics.Channels[0].Times.Count), Rows(cut.Numerics));
                Assert.All(cut.Episodes, e => Assert.True(e.Span.End <= new SampleTime(seconds * 1000L)));
            }
        }

        Assert.Throws<ArgumentOutOfRangeException>(() => RehearsalScenarios.All[0].Run(1, 0));
        Assert.Equal(1500, RehearsalScenarios.Find("lamp-light")!.Run(1, int.MaxValue).Seconds);
    }

    [Fact]
    public void Everything_that_is_told_is_within_what_patient_and_sensor_can_be()
    {
        foreach (var run in RehearsalScenarios.All.Select(s => s.Run(4)))
        {
            for (int t = 0; t < run.Seconds; t++)
            {
                var (m, s) = (run.Patient[t], run.Sensor[t]);
                Assert.InRange(m.SiteSaturationPercent, 30, 100);
                Assert.InRange(m.VenousSaturationPercent, 5, m.SiteSaturationPercent);
                Assert.InRange(m.ArterialCarbonDioxideTorr, 25, 110);
                Assert.InRange(m.PulseRatePerMinute, 35, 220);
                Assert.InRange(m.PerfusionPercent, 0.02, 20);
                Assert.InRange(m.RespiratoryRatePerMinute, 0, 90);
                Assert.InRange(s.Motion, 0, 20);
                Assert.InRange(s.Slip, 0, 1);
                Assert.True(double.IsFinite(s.MotionHz + s.Flicker + s.FlickerHz + s.Ambient));
            }

            Assert.True(run.Episodes.Count > 0, run.Scenario.Name);
            Assert.All(run.Episodes, e => Assert.True(e.Span.Length > Duration.Zero));
            Assert.Equal(run.Episodes.OrderBy(e => e.Span.Start), run.Episodes);
        }
    }

    [Fact]
    public void The_truth_has_a_row_for_every_second_and_says_what_it_is()
    {
        foreach (var run in RehearsalScenarios.All.Select(s => s.Run(2, 1500)))
        {
            var truth = run.Truth;
            Assert.Contains("the truth", truth.Name, StringComparison.Ordinal);
            Assert.All(truth.Channels, c => Assert.Equal(run.Seconds, c.Times.Count));
            var site = truth.Find(ChannelKind.SpO2)!;
            Assert.StartsWith("true", site.Label, StringComparison.Ordinal);
            for (int t = 0; t < run.Seconds; t += 7)
            {
                Assert.Equal(run.Patient[t].SiteSaturationPercent, site.Values[t] / 1e6, 0.005);
                Assert.Equal(run.Sensor[t].FeedLost ? 1 : 0, truth.Channels.Single(c => c.Label == "feed lost").Values[t] / 1_000_000);
            }
        }
    }

    private static List<(long, int, int, int, int)> Rows(Recording recording)
    {
        var c = recording.Channels;
        return [.. Enumerable.Range(0, c[0].Times.Count).Select(i => (c[0].Times.TimeAt(i).Milliseconds, c[0].Values[i], c[1].Values[i], c[2].Values[i], c[3].Values[i]))];
    }
}
