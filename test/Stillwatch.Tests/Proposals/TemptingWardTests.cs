using Stillwatch.Alarms;
using Stillwatch.Quantities;
using Stillwatch.Signals;
using Stillwatch.Time;
using Stillwatch.Tuning.MustCatch;
using Stillwatch.Tuning.Proposals;
using Xunit;
using static Stillwatch.Tests.Proposals.HandMade;

namespace Stillwatch.Tests.Proposals;

/// <summary>Invented wards, each built to tempt the search into a wrong answer; the whole road from rows to words.</summary>
public class TemptingWardTests
{
    private static readonly ProposalRules Usual = ProposalRules.Default with { Resamples = 100 };
    private static readonly CandidateSettings Sensitive = Settings(90, 0);

    /// <summary>Short falls to 88 that give most of the signals at 90 %, and six plain must-catch events of 120 s.</summary>
    private static InventedNight PlainNight(int events = 6)
    {
        var night = new InventedNight().Rest(120);
        for (int i = 0; i < events; i++) night.Fall(88, 8).Rest(60).Fall(88, 8).Rest(60).Fall(81, 120).Rest(120);
        return night;
    }

    private static List<PatientRecordings> PlainWard(int patients = 12) => [.. Enumerable.Range(1, patients).Select(i => PlainNight().Patient(Name(i)))];

    private static Proposal Only(IReadOnlyList<PatientRecordings> ward, CandidateSettings? present = null, ProposalRules? rules = null) =>
        Assert.Single(ProposalSearch.Propose(ward, rules ?? Usual, present)).Proposal;

    [Fact]
    public void A_plain_ward_with_enough_events_gets_a_proposal_that_lowers_the_load_and_misses_nothing()
    {
        var proposal = Only(PlainWard(), Sensitive);
        Assert.Empty(proposal.RefusedBecause);
        var chosen = proposal.Chosen!;
        Assert.Equal((72, 0, 0), (chosen.MustCatchEvents, chosen.Missed, chosen.Late));
        Assert.Equal(72, chosen.Signals);
        Assert.Equal(216, proposal.Present!.Signals);
        Assert.Equal(-66.7, proposal.LoadChangePercent!.Value, 1);
        // Of all that leave out the 8-second falls to 88, the one with the highest limit: 94 %, held back by its area alone.
        Assert.Equal(Settings(94, 0, areaPercentSeconds: 60), chosen.Settings);
        Assert.True(chosen.WorstTimeToSignal < Duration.FromSeconds(5));
        Assert.Equal(20, proposal.BlindSample!.Drawn.Count);
        Assert.Contains("Limits: 100.0 % of", proposal.Line(10));
    }

    [Fact]
    public void Events_cut_short_by_staff_limit_the_delay_and_are_listed_with_the_seconds_lost()
    {
        // Events of 62 s, because somebody came. Falls of 12 and 26 s between them: a delay of 35 s leaves both out, one of 20 s the
        // shorter ones, and both look as if they missed nothing.
        var ward = Enumerable.Range(1, 12).Select(i =>
        {
            var night = new InventedNight().Rest(120);
            for (int e = 0; e < 6; e++) night.Fall(83, 12).Rest(60).Fall(83, 26).Rest(60).Fall(84, 62).Rest(60);
            return night.Patient(Name(i));
        }).ToList();
        // The falls stay above the backstop, and there is no area threshold: limit and delay alone.
        var rules = Usual with
        {
            Categories = new Dictionary<PatientCategory, CategorySearch>(),
            Otherwise = new CategorySearch(
            SearchBounds.Default with { LongestDelay = Duration.FromSeconds(45) },
            new CandidateAxes { Areas = [], Averagings = [Duration.Zero], Backstops = [Backstop], Delays = [.. new[] { 0, 10, 20, 35 }.Select(d => Duration.FromSeconds(d))] })
        };
        var proposal = Only(ward, Sensitive, rules);
        Assert.Empty(proposal.RefusedBecause);
        Assert.Equal(20, proposal.Chosen!.Settings.SpO2Low.Delay.Seconds);
        Assert.Equal(0, proposal.Chosen.MissedAtHalfLength);
        Assert.Contains("delay 35 s, no averaging of ours, backstop 80 % after 5 s would give", proposal.Line(2));
        Assert.Contains("was set aside: with every event at half its length it would miss 72 of 72.", proposal.Line(2));
        Assert.Equal(72, proposal.SignalledEarlier.Count);
        Assert.Contains("the present settings signalled 72 must-catch events of 72 earlier;", proposal.Line(2));
        // The run starts 2 s before the value reaches 85 %, so 20 s of delay are 18 s from onset; 90 % without delay was active already.
        Assert.All(proposal.SignalledEarlier, e => Assert.Equal((0.0, 18.0), (e.Present.Seconds, e.Lost!.Value.Seconds)));
        Assert.Contains("1296 s are lost in all (22 min), 18 s in the worst.", proposal.Line(2));
    }

    [Fact]
    public void Hypoxaemia_inside_artefact_is_refused_with_the_worst_case()
    {
        var ward = PlainWard();
        for (int i = 0; i < 4; i++)
            ward[i] = new(ward[i].Patient, ward[i].Category, [.. ward[i].Recordings, new InventedNight().Rest(300).Artefact(90, 74).Rest(300).Tuning("moving")]);
        var proposal = Only(ward, Sensitive);
        Assert.Equal(4, proposal.Best!.InvalidTime.PossibleEvents);
        Assert.Equal((0, 4), (proposal.Best.InvalidTime.BestMissed, proposal.Best.InvalidTime.WorstMissed));
        string reason = Assert.Single(proposal.RefusedBecause);
        Assert.StartsWith("R14.4: 4 stretches of invalid time next to low values may hide must-catch events. Best case 0 missed of 72 (up to 4.1 %), worst case 4 missed or late of 76 (up to 11.6 % of events", reason);
    }

    [Fact]
    public void The_same_ward_with_high_numbers_inside_the_artefact_is_not_refused()
    {
        var ward = PlainWard();
        for (int i = 0; i < 4; i++)
            ward[i] = new(ward[i].Patient, ward[i].Category, [.. ward[i].Recordings, new InventedNight().Rest(300).Artefact(90, 95).Rest(300).Tuning("moving")]);
        Assert.Empty(Only(ward, Sensitive).RefusedBecause);
    }

    [Fact]
    public void Dropouts_while_low_set_aside_settings_that_had_not_signalled_before()
    {
        // 20 s at 87, then no numbers for two minutes: 88 % with 10 s has signalled, 86 % has not.
        var ward = Enumerable.Range(1, 12).Select(i =>
        {
            var night = PlainNight();
            night.Fall(87, 0).Rest(30).Rest(1, 91).Rest(20, 87).NoNumbers(120).Rest(60);
            for (int e = 0; e < 6; e++) night.Fall(87, 9).Rest(60); // what makes 88 % dearer than 86 %
            return night.Patient(Name(i));
        }).ToList();
        var proposal = Only(ward, Sensitive);
        Assert.Empty(proposal.RefusedBecause);
        Assert.Equal(12, proposal.Chosen!.InvalidTime.PossibleEvents);
        Assert.Equal(0, proposal.Chosen.InvalidTime.WorstMissed);
        Assert.True(proposal.Chosen.Settings.SpO2Low.Limit >= Percent.Of(88), proposal.Chosen.Settings.InWords());
        Assert.Contains("was set aside: its worst case is 12 missed or late.", proposal.Line(4));
    }

    [Fact]
    public void Dropouts_that_no_setting_can_answer_are_refused()
    {
        // Low only when the numbers come back: nothing could have signalled meanwhile.
        var ward = PlainWard();
        for (int i = 0; i < 6; i++)
            ward[i] = new(ward[i].Patient, ward[i].Category, [.. ward[i].Recordings, new InventedNight().Rest(300).NoNumbers(200).Rest(5, 84).Fall(84, 0).Rest(60).Tuning("off")]);
        var proposal = Only(ward, Sensitive);
        Assert.Contains("R14.4: 6 stretches of invalid time", Assert.Single(proposal.RefusedBecause));
        Assert.Equal(6, proposal.Best!.InvalidTime.WorstMissed);
    }

    [Fact]
    public void One_loud_patient_is_named_and_the_answer_without_it_given()
    {
        var ward = PlainWard();
        var loud = PlainNight();
        for (int i = 0; i < 300; i++) loud.Fall(86, 22).Rest(15);
        ward[4] = loud.Patient("P05");
        var proposal = Only(ward, Sensitive);
        Assert.Equal("P05", proposal.Contributors[0].Patient);
        Assert.True(proposal.Contributors[0].Share > 0.5);
        var left = Assert.Single(proposal.LeavingOneOut);
        Assert.Equal("P05", left.Patient);
        Assert.Contains(proposal.Caveats, c => c.StartsWith("Leaving out one patient changes the answer: without P05 (") && c.Contains($"the search would choose {left.ChosenWithout!.InWords()}"));
        Assert.Equal(Settings(94, 0, areaPercentSeconds: 60), left.ChosenWithout); // as in the plain ward
    }

    [Fact]
    public void A_patient_who_gives_most_of_the_signals_is_named_even_if_the_answer_stands()
    {
        var ward = PlainWard();
        var loud = PlainNight();
        for (int i = 0; i < 300; i++) loud.Fall(81, 58).Rest(40); // real falls that every setting signals, too short for a must-catch event
        ward[4] = loud.Patient("P05");
        var proposal = Only(ward, Sensitive);
        Assert.Contains(proposal.Caveats, c => c.StartsWith("One patient makes the load: P05 gives ") && c.Contains(" % of all signals under the present settings ("));
        Assert.True(proposal.Contributors[0].Share > 0.5);
    }

    [Fact]
    public void Too_few_nights_are_refused_with_both_bounds()
    {
        var proposal = Only([.. Enumerable.Range(1, 3).Select(i => PlainNight(events: 1).Patient(Name(i)))], Sensitive);
        Assert.Equal(
            [
                "R14.1: 0 missed of 3 must-catch events still allows up to 63.2 % (exact 95 % upper bound); the guard rail is 5.0 %. Zero misses are not zero risk: with none missed, 59 events are needed.",
                "R14.1: none of 3 patients missed: up to 63.2 % of such patients could still have an event missed; the guard rail is 30.0 %. With none missed, 9 patients with such events are needed.",
            ], proposal.RefusedBecause);
    }

    [Fact]
    public void One_patient_with_many_nights_is_descriptive()
    {
        var one = new PatientRecordings("P01", PatientCategory.Adult, [.. Enumerable.Range(1, 12).Select(n => PlainNight().Tuning($"night {n}"))]);
        var proposal = Only([one], Sensitive);
        Assert.Equal(["R14.1", "R14.6", "R14.8"], proposal.RefusedBecause.Select(r => r[..5]));
        Assert.Contains("one patient only (12 recordings)", proposal.RefusedBecause[^1]);
    }

    [Fact]
    public void A_mixed_set_is_split_and_each_part_answered_or_refused_by_itself()
    {
        var ward = PlainWard();
        ward.Add(new PatientRecordings("P13", PatientCategory.AdultHypercapnicRisk, [PlainNight().Tuning("low target")]));
        ward.Add(new PatientRecordings("P14", PatientCategory.Adult, [PlainNight().Tuning("oxygen", oxygen: OxygenStatus.OnOxygen)]));
        ward[0] = new(ward[0].Patient, ward[0].Category, [.. ward[0].Recordings, PlainNight().Tuning("other monitor") with { SourceAveraging = SourceAveraging.Unknown }]);
        var groups = ProposalSearch.Propose(ward, Usual, Sensitive);
        Assert.Equal(
            [
                "adult, source averaging not known, on air, a value every 1 s: P01",
                "adult, source averaging 3 s, on air, a value every 1 s: P01 P02 P03 P04 P05 P06 P07 P08 P09 P10 P11 P12",
                "adult, source averaging 3 s, on oxygen, a value every 1 s: P14",
                "adult at risk of hypercapnic failure, source averaging 3 s, on air, a value every 1 s: P13",
            ],
            groups.Select(g => $"{g.Group.ToString().Split(", must-catch")[0]}: {string.Join(' ', g.Patients)}"));
        Assert.Equal([true, false, true, true], groups.Select(g => g.Proposal.IsRefused));
        Assert.All(groups, g => Assert.Contains("the recordings fell into 4 groups that were judged apart", g.Proposal.Line(7)));
    }

    [Fact]
    public void Each_category_is_compared_with_its_own_present_settings()
    {
        List<PatientRecordings> ward = [.. PlainWard(2), new("P13", PatientCategory.AdultHypercapnicRisk, [PlainNight().Tuning("low target")])];
        var groups = ProposalSearch.Propose(ward, Usual, category => category == PatientCategory.Adult ? Sensitive : Settings(86, 10));
        Assert.Equal([Sensitive, Settings(86, 10)], groups.Select(g => g.Proposal.Present!.Settings));
    }

    [Fact]
    public void One_artefact_mark_removes_no_event_and_two_agreeing_ones_do()
    {
        var plain = PlainNight(events: 1).Tuning();
        var event1 = Assert.Single(plain.MustCatch);
        ReviewMark Mark(string who, MarkVerdict verdict) => new(who, new TimeSlice(event1.Onset, event1.End), verdict);
        var one = PlainNight(1).Tuning(marks: [Mark("A", MarkVerdict.Artefact)]);
        var two = PlainNight(1).Tuning(marks: [Mark("A", MarkVerdict.Artefact), Mark("B", MarkVerdict.Artefact)]);
        var disputed = PlainNight(1).Tuning(marks: [Mark("A", MarkVerdict.Artefact), Mark("B", MarkVerdict.RealAndSignificant)]);
        Assert.Equal((1, new MarkCounts(0, 1, 0)), (one.MustCatch.Count, one.Marks));
        Assert.Equal((0, new MarkCounts(1, 0, 0)), (two.MustCatch.Count, two.Marks));
        Assert.Equal((1, new MarkCounts(0, 1, 0)), (disputed.MustCatch.Count, disputed.Marks));
    }
}
