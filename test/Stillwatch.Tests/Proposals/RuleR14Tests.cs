using Stillwatch.Quantities;
using Stillwatch.Signals;
using Stillwatch.Time;
using Stillwatch.Tuning.Proposals;
using Xunit;
using static Stillwatch.Tests.Proposals.HandMade;

namespace Stillwatch.Tests.Proposals;

/// <summary>The ten lines of rule R14 on numbers written down by hand.</summary>
public class RuleR14Tests
{
    [Fact]
    public void Line_1_zero_misses_of_24_events_in_4_patients_are_refused_with_both_bounds()
    {
        var grid = Grid();
        var proposal = Propose(grid, WardOf(grid, patients: 4));
        Assert.True(proposal.IsRefused);
        Assert.Null(proposal.Chosen);
        Assert.Equal(
            "Refuses: 0 missed of 24 must-catch events still allows up to 11.7 % (exact 95 % upper bound); the guard rail is 5.0 %. Zero misses are not zero risk: with none missed, 59 events are needed.\n"
            + "Refuses: none of 4 patients missed: up to 52.7 % of such patients could still have an event missed; the guard rail is 30.0 %. With none missed, 9 patients with such events are needed.",
            proposal.Line(1));
        Assert.Equal(2, proposal.RefusedBecause.Count(r => r.StartsWith("R14.1: ")));
    }

    [Fact]
    public void Line_1_enough_events_from_too_few_patients_are_still_refused()
    {
        var grid = Grid();
        var events = Enumerable.Range(0, 40).Select(_ => Event(grid, SignalledAfterItsDelay)).ToList();
        var proposal = Propose(grid, WardOf(grid, i => Patient(grid, Name(i), events: events), patients: 3));
        string reason = Assert.Single(proposal.RefusedBecause);
        Assert.Contains("none of 3 patients missed: up to 63.2 % of such patients could still have an event missed", reason);
    }

    [Fact]
    public void Line_1_patients_without_an_event_do_not_count_as_evidence()
    {
        var grid = Grid();
        var proposal = Propose(grid, WardOf(grid, i => Patient(grid, Name(i), events: i <= 8 ? [.. Enumerable.Range(0, 8).Select(_ => Event(grid, SignalledAfterItsDelay))] : [])));
        Assert.Contains("none of 8 patients missed: up to 31.2 % of such patients could still have an event missed", Assert.Single(proposal.RefusedBecause));
    }

    [Fact]
    public void Line_1_no_event_at_all_tests_nothing()
    {
        var grid = Grid();
        var proposal = Propose(grid, WardOf(grid, i => Patient(grid, Name(i), events: [])));
        Assert.Contains("there is no must-catch event in 12 recordings of 12 patients", Assert.Single(proposal.RefusedBecause));
        Assert.NotNull(proposal.Best);
        Assert.Empty(proposal.Front);
    }

    [Fact]
    public void Line_1_an_event_that_every_candidate_misses_is_refused_with_the_closest_shown()
    {
        var grid = Grid();
        var proposal = Propose(grid, WardOf(grid, i => Patient(grid, Name(i), events:
            [.. Enumerable.Range(0, 10).Select(n => Event(grid, s => i == 3 && n == 0 ? null : Delay(s)))])));
        Assert.Contains("Refuses: no candidate inside the bounds keeps the guard rail of 0 misses: the closest misses 1 of 120 must-catch events.", proposal.Line(1));
        Assert.Equal(1, proposal.Best!.Missed);
    }

    [Fact]
    public void Line_2_lists_the_events_that_present_settings_signalled_earlier_and_the_seconds_lost()
    {
        var present = Settings(90, 0);
        var grid = Grid(present);
        var proposal = Propose(grid, WardOf(grid), present);
        Assert.Equal(Settings(86, 20), proposal.Chosen!.Settings);
        Assert.Equal(72, proposal.SignalledEarlier.Count);
        Assert.All(proposal.SignalledEarlier, e => Assert.Equal((0.0, 20.0, 20.0), (e.Present.Seconds, e.Proposed!.Value.Seconds, e.Lost!.Value.Seconds)));
        Assert.Contains("Limits: the present settings signalled 72 must-catch events of 72 earlier; 1440 s are lost in all (24 min), 20 s in the worst.", proposal.Line(2));
    }

    [Fact]
    public void Line_2_present_settings_not_known_is_said()
    {
        var grid = Grid();
        Assert.Contains("Limits: the present settings are not known, so the events that staff may have cut short cannot be listed.", Propose(grid, WardOf(grid)).Line(2));
    }

    [Fact]
    public void Line_2_settings_that_halved_events_would_outrun_are_set_aside()
    {
        var grid = Grid();
        // 36 s long: half is 18 s, which a delay of 20 s misses and one of 10 s does not.
        var proposal = Propose(grid, WardOf(grid, i => Patient(grid, Name(i), events:
            [.. Enumerable.Range(0, 6).Select(_ => Event(grid, SignalledAfterItsDelay, lengthSeconds: 36, withinSeconds: 30))])));
        Assert.Equal(Settings(86, 10), proposal.Chosen!.Settings);
        Assert.Contains(
            "Limits: low limit 86 %, delay 20 s, no averaging of ours, backstop 80 % after 5 s would give 4.0 signals a day instead of 5.0, but was set aside: with every event at half its length it would miss 72 of 72.",
            proposal.Line(2));
    }

    [Fact]
    public void Line_2_refuses_when_no_setting_is_quick_enough_for_halved_events()
    {
        var grid = Grid();
        var proposal = Propose(grid, WardOf(grid, i => Patient(grid, Name(i), events:
            [.. Enumerable.Range(0, 6).Select(_ => Event(grid, s => Delay(s) + 5, lengthSeconds: 10, withinSeconds: 10))])));
        Assert.Contains("with every event at half its length, 72 of 72 would end before the signal", Assert.Single(proposal.RefusedBecause));
    }

    [Theory]
    [InlineData(10_000, 4_999, false)]
    [InlineData(10_000, 5_000, true)] // a signal at the very end of the half is not in it
    [InlineData(10_000, 0, false)] // already active
    [InlineData(11, 5, false)]
    [InlineData(11, 6, true)]
    public void Line_2_half_an_event_is_half_open(int lengthMilliseconds, int millisecondsToSignal, bool missed)
    {
        var one = new EventEvidence("night", default, new SampleTime(lengthMilliseconds), "", [new PartEvidence(new(lengthMilliseconds), new(lengthMilliseconds), [millisecondsToSignal])]);
        Assert.Equal(missed, one.IsMissedAtHalfLength(0));
    }

    [Fact]
    public void Line_3_prints_what_marks_removed_and_what_they_could_not()
    {
        var grid = Grid();
        var proposal = Propose(grid, WardOf(grid), marks: new MarkCounts(2, 3, 1));
        Assert.Equal(
            "Limits: 2 must-catch events were removed as artefact by two agreeing reviewers; 3 with a single or disputed artefact mark count as real; 1 was added by a reviewer.",
            proposal.Line(3));
        Assert.False(proposal.IsRefused);
    }

    [Fact]
    public void Line_4_gives_the_best_and_the_worst_case_and_refuses_when_the_worst_breaks_the_guard_rail()
    {
        var grid = Grid();
        var proposal = Propose(grid, WardOf(grid, i => Patient(grid, Name(i), possible: i <= 2 ? [Event(grid, _ => null)] : [])));
        Assert.Equal(
            "Refuses: 2 stretches of invalid time next to low values may hide must-catch events. Best case 0 missed of 72 (up to 4.1 %), worst case 2 missed or late of 74 (up to 8.3 % of events, 43.8 % of patients): the worst case is beyond the guard rails of 5.0 % and 30.0 %.",
            proposal.Line(4));
        Assert.Null(proposal.Chosen);
    }

    [Fact]
    public void Line_4_settings_whose_worst_case_is_better_are_taken_although_dearer()
    {
        var grid = Grid();
        var proposal = Propose(grid, WardOf(grid, i => Patient(grid, Name(i), possible: i <= 2 ? [Event(grid, s => Limit(s) >= 90 ? Delay(s) : null)] : [])));
        Assert.Equal(Settings(90, 20), proposal.Chosen!.Settings);
        Assert.StartsWith("Limits: 2 stretches", proposal.Line(4));
        Assert.Contains("low limit 86 %, delay 20 s, no averaging of ours, backstop 80 % after 5 s with 4.0 signals a day was set aside: its worst case is 2 missed or late.", proposal.Line(4));
    }

    [Fact]
    public void Line_4_a_worst_case_inside_the_guard_rails_limits_without_refusing()
    {
        var grid = Grid();
        var events = Enumerable.Range(0, 20).Select(_ => Event(grid, SignalledAfterItsDelay)).ToList();
        var proposal = Propose(grid, WardOf(grid, i => Patient(grid, Name(i), events: events, possible: i == 1 ? [Event(grid, _ => null)] : []), patients: 20));
        Assert.Empty(proposal.RefusedBecause);
        Assert.Contains("Limits: 1 stretch of invalid time next to low values may hide must-catch events. Best case 0 missed of 400 (up to 0.7 %), worst case 1 missed or late of 401 (up to 1.2 % of events, 21.6 % of patients).", proposal.Line(4));
    }

    [Fact]
    public void Line_5_what_is_cheaper_outside_the_bounds_is_named_and_not_proposed()
    {
        var grid = Grid();
        var proposal = Propose(grid, WardOf(grid));
        Assert.True(proposal.Chosen!.IsInsideBounds);
        Assert.Contains(
            "Outside, low limit 84 %, delay 40 s, no averaging of ours, backstop 80 % after 5 s would give 1.0 signals a day instead of 4.0: it may be looked at and is never proposed.",
            proposal.Line(5));
    }

    [Theory]
    [InlineData(85, 30, true, true)]
    [InlineData(84, 30, true, false)]
    [InlineData(85, 31, true, false)]
    [InlineData(90, 0, false, false)]
    public void Line_5_the_bounds_are_inclusive_and_want_a_backstop(int limit, int delay, bool backstop, bool allowed)
    {
        var settings = Settings(limit, delay) with { Backstop = backstop ? Backstop : null };
        Assert.Equal(allowed, SearchBounds.Default.Allow(settings));
    }

    [Fact]
    public void Line_5_each_category_has_its_own_bounds()
    {
        var narrow = Rules.Otherwise with { Bounds = SearchBounds.Default with { LongestDelay = Duration.FromSeconds(10) } };
        var rules = Rules with { Categories = new Dictionary<PatientCategory, CategorySearch> { [PatientCategory.NeonatalOnOxygen] = narrow } };
        Assert.Equal(narrow, rules.For(PatientCategory.NeonatalOnOxygen));
        var grid = CandidateGrid.Of(rules.For(PatientCategory.NeonatalOnOxygen), null);
        Assert.Equal(Settings(86, 10), Propose(grid, WardOf(grid), rules: rules).Chosen!.Settings);
    }

    [Fact]
    public void Line_6_the_whole_search_runs_in_each_fold_and_misses_in_unseen_patients_refuse()
    {
        var grid = Grid();
        // Only P07's events need 88 %: with P07 out of sight the search chooses 86 % and misses six of them.
        var patients = WardOf(grid, i => i == 7
            ? Patient(grid, Name(i), events: [.. Enumerable.Range(0, 6).Select(_ => Event(grid, s => Limit(s) <= 86 ? null : Delay(s)))])
            : Patient(grid, Name(i)));
        var proposal = Propose(grid, patients);
        var check = proposal.HeldOut!;
        Assert.Equal(5, check.Folds.Count);
        var blind = Assert.Single(check.Folds, f => f.HeldOutPatients.Contains("P07"));
        Assert.Equal(Settings(86, 20), blind.Chosen);
        Assert.Equal(6, blind.HeldOutMissed);
        Assert.All(check.Folds.Where(f => f != blind), f => Assert.Equal((Settings(88, 20), 0), (f.Chosen, f.HeldOutMissed)));
        Assert.Equal((0, 6, 72), (check.InSampleMissed, check.HeldOutMissed, check.HeldOutEvents));
        Assert.Contains("(held-out): 5.7 signals a day, 6 missed and 0 late of 72: on patients that the search had not seen it breaks the guard rails", Assert.Single(proposal.RefusedBecause));
    }

    [Fact]
    public void Line_6_in_sample_and_held_out_loads_stand_side_by_side()
    {
        var grid = Grid();
        var proposal = Propose(grid, WardOf(grid));
        Assert.Equal("Met: the whole search was repeated 5 times, each time without some of the patients. On the patients it saw (in-sample): 4.0 signals a day, 0 missed; on those it had not seen (held-out): 4.0 signals a day, 0 missed and 0 late of 72. All chose the same settings.", proposal.Line(6));
    }

    [Fact]
    public void Line_6_every_patient_is_held_out_just_once()
    {
        var grid = Grid();
        var check = Propose(grid, WardOf(grid)).HeldOut!;
        Assert.Equal(Enumerable.Range(1, 12).Select(Name), check.Folds.SelectMany(f => f.HeldOutPatients).Order());
    }

    [Fact]
    public void Line_7_says_for_whom_alone_it_holds_and_how_many_groups_there_were()
    {
        var grid = Grid();
        string words = Propose(grid, WardOf(grid), groups: 3).Line(7);
        Assert.Equal("Limits: holds only for adult, source averaging 3 s, on air, a value every 1 s, must-catch: test; the recordings fell into 3 groups that were judged apart.", words);
    }

    [Fact]
    public void Line_7_an_unknown_category_is_refused_and_other_unknowns_limit()
    {
        var grid = Grid();
        var proposal = Propose(grid, WardOf(grid), key: new GroupKey(PatientCategory.Unknown, null, OxygenStatus.Unknown, Duration.FromSeconds(1), "test"));
        Assert.Equal("R14.7: the patient category is not known, and settings are not transferred across categories.", Assert.Single(proposal.RefusedBecause));
        Assert.Contains("Not known: the source's averaging and the oxygen status;", proposal.Line(7));
    }

    [Fact]
    public void Line_8_one_patient_however_many_nights_is_descriptive()
    {
        var grid = Grid();
        var events = Enumerable.Range(0, 100).Select(_ => Event(grid, SignalledAfterItsDelay)).ToList();
        var proposal = Propose(grid, [Patient(grid, "P01", events: events)]);
        Assert.Contains("R14.8: one patient only (1 recording): a split in time validates nothing. What is shown is descriptive.", proposal.RefusedBecause);
        Assert.Contains(proposal.RefusedBecause, r => r.StartsWith("R14.6: held-out check: needs at least 2 patients, found 1."));
        Assert.Null(proposal.HeldOut);
        Assert.NotNull(proposal.Best);
    }

    [Fact]
    public void Line_9_fewer_physiological_signals_at_the_price_of_technical_ones_are_no_improvement()
    {
        var present = Settings(90, 0);
        var grid = Grid(present);
        // Each point below 90 % costs a technical signal: every cheaper limit is no improvement, delay alone is one.
        var proposal = Propose(grid, WardOf(grid, i => Patient(grid, Name(i), technical: s => 2 + 90 - Limit(s))), present);
        Assert.Equal(Settings(90, 20), proposal.Chosen!.Settings);
        Assert.Equal(
            "Limits: technical signals 2.0 per day connected against 2.0 at present; physiological 8.0 against 10.0 per day valid. low limit 86 %, delay 20 s, no averaging of ours, backstop 80 % after 5 s would give 4.0 physiological but 6.0 technical signals a day: not an improvement, set aside.",
            proposal.Line(9));
    }

    [Fact]
    public void Line_9_refuses_when_every_lower_load_is_paid_for_with_technical_signals()
    {
        var present = Settings(90, 0);
        var grid = Grid(present);
        // The present settings stand outside what may be proposed here, so that keeping them is no answer.
        var rules = Rules with { Otherwise = Rules.Otherwise with { Bounds = SearchBounds.Default with { LowestLimit = Percent.Of(91) } } };
        var outside = CandidateGrid.Of(rules.Otherwise with { Axes = rules.Otherwise.Axes with { Limits = [Percent.Of(91)] } }, present);
        var proposal = Propose(outside, WardOf(outside, i => Patient(outside, Name(i), s => s == present ? 10 : 5, s => s == present ? 2 : 3)), present, rules);
        Assert.Contains("R14.9: technical signals 3.0 per day connected against 2.0 at present; physiological 5.0 against 10.0 per day valid: less physiological load with more technical load is not an improvement.", proposal.RefusedBecause);
    }

    [Fact]
    public void Line_9_fewer_signals_with_more_minutes_of_signal_are_no_improvement_either()
    {
        var present = Settings(86, 0);
        var grid = Grid(present);
        // A limit above the usual saturation starts a single signal and hardly ends it.
        var proposal = Propose(grid, WardOf(grid, i => Patient(grid, Name(i), s => Limit(s) == 90 ? 1 : 8 - Delay(s) / 10, activeMinutes: s => Limit(s) == 90 ? 100 : 8)), present);
        Assert.Equal(Settings(88, 20), proposal.Chosen!.Settings);
        Assert.Contains("low limit 90 %, delay 0 s, no averaging of ours, backstop 80 % after 5 s would give 1.0 signals a day, but 100 minutes of signal instead of 8 at present: not an improvement, set aside.", proposal.Line(9));
    }

    [Fact]
    public void Line_1_settings_that_signal_for_more_than_a_tenth_of_the_time_are_passed_over()
    {
        var grid = Grid();
        var proposal = Propose(grid, WardOf(grid, i => Patient(grid, Name(i), s => Limit(s) == 90 ? 1 : 8 - Delay(s) / 10, activeMinutes: s => Limit(s) == 90 ? 154 : 153)));
        Assert.Equal(Settings(88, 20), proposal.Chosen!.Settings); // a tenth of a day, 144 min, and 9 min of events
        var all = Propose(grid, WardOf(grid, i => Patient(grid, Name(i), activeMinutes: _ => 300)));
        Assert.Contains("signals for less than 10.0 % of the valid time beyond the must-catch events themselves: the closest signals for 20.2 %.", Assert.Single(all.RefusedBecause, r => r.StartsWith("R14.1")));
    }

    [Fact]
    public void Line_10_prints_the_share_not_reviewed()
    {
        var grid = Grid();
        var sample = new BlindSample([new BlindStretch("P01", "night", default)], 40, Duration.FromHours(100), 0.75, Settings(90, 0));
        Assert.Equal(
            "Limits: 75.0 % of 100.0 h of valid time without a signal is not reviewed; 1 stretch of 40 such stretches was drawn at random for reviewers who do not know the alarms.",
            Propose(grid, WardOf(grid), blind: _ => sample).Line(10));
    }

    [Fact]
    public void Every_reason_for_refusing_is_kept_not_only_the_first()
    {
        var grid = Grid();
        var lone = Patient(grid, "P01", events: [Event(grid, s => Delay(s) + 5, lengthSeconds: 10, withinSeconds: 10)], possible: [Event(grid, _ => null)]);
        var proposal = Propose(grid, [lone], key: Adults with { Category = PatientCategory.Unknown });
        Assert.Equal(["R14.1", "R14.1", "R14.2", "R14.4", "R14.6", "R14.7", "R14.8"], proposal.RefusedBecause.Select(r => r[..5]));
    }

    [Fact]
    public void All_ten_lines_always_speak_and_the_usual_caution_stands_last()
    {
        var grid = Grid();
        var proposal = Propose(grid, WardOf(grid));
        Assert.Equal(Enumerable.Range(1, 10), proposal.Findings.Select(f => f.Line).Distinct());
        Assert.Equal("Evidence, not an order: local policy, the prescription and licensed clinicians decide. Nothing is applied by itself.", proposal.Caveats[^1]);
    }
}
