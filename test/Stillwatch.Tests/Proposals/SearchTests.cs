using Stillwatch.Alarms;
using Stillwatch.Quantities;
using Stillwatch.Time;
using Stillwatch.Tuning.Proposals;
using Xunit;
using static Stillwatch.Tests.Proposals.HandMade;

namespace Stillwatch.Tests.Proposals;

public class SearchTests
{
    [Fact]
    public void The_lowest_load_inside_the_bounds_is_chosen()
    {
        var grid = Grid();
        var proposal = Propose(grid, WardOf(grid));
        Assert.Empty(proposal.RefusedBecause);
        Assert.Equal(Settings(86, 20), proposal.Chosen!.Settings); // 4 a day; 84 % and 40 s lie outside
        Assert.Equal(4.0, proposal.Chosen.SignalsPerDay.Value, 9);
        Assert.Equal((72, 0, 0), (proposal.Chosen.MustCatchEvents, proposal.Chosen.Missed, proposal.Chosen.Late));
    }

    [Fact]
    public void Settings_that_miss_an_event_are_passed_over_however_cheap()
    {
        var grid = Grid();
        var patients = WardOf(grid, i => i == 7
            ? Patient(grid, Name(i), events: [.. Enumerable.Range(0, 6).Select(_ => Event(grid, s => Limit(s) <= 86 ? null : Delay(s)))])
            : Patient(grid, Name(i)));
        Assert.Equal(Settings(88, 20), Propose(grid, patients).Best!.Settings);
    }

    [Fact]
    public void Settings_that_are_late_for_an_event_are_passed_over_however_cheap()
    {
        var grid = Grid();
        var patients = WardOf(grid, i => Patient(grid, Name(i), events:
            [.. Enumerable.Range(0, 6).Select(_ => Event(grid, SignalledAfterItsDelay, lengthSeconds: 90, withinSeconds: 15))]));
        var proposal = Propose(grid, patients);
        Assert.Equal(Settings(86, 10), proposal.Chosen!.Settings);
    }

    [Fact]
    public void Lateness_up_to_the_guard_rail_is_allowed()
    {
        var grid = Grid();
        var rules = Rules with { GuardRails = new GuardRails { LateAllowed = 72 } };
        var patients = WardOf(grid, i => Patient(grid, Name(i), events:
            [.. Enumerable.Range(0, 6).Select(_ => Event(grid, SignalledAfterItsDelay, lengthSeconds: 90, withinSeconds: 15))]));
        var proposal = Propose(grid, patients, rules: rules);
        Assert.Equal(Settings(86, 20), proposal.Chosen!.Settings);
        Assert.Equal(72, proposal.Chosen.Late);
    }

    [Theory]
    [InlineData("all alike", 90, 0)]
    [InlineData("by delay alone", 90, 20)]
    [InlineData("by limit alone", 86, 0)]
    public void Equal_loads_go_to_the_safer_setting(string load, int limit, int delay)
    {
        var grid = Grid();
        Func<CandidateSettings, long> signals = load switch
        {
            "all alike" => _ => 5,
            "by delay alone" => s => 10 - Delay(s) / 10,
            _ => s => 10 - (90 - Limit(s)),
        };
        var proposal = Propose(grid, WardOf(grid, i => Patient(grid, Name(i), signals)));
        Assert.Equal(Settings(limit, delay), proposal.Chosen!.Settings);
    }

    [Fact]
    public void Among_equals_in_load_limit_and_delay_the_smaller_change_from_present_wins()
    {
        var other = new BackstopSettings(Percent.Of(80), Duration.Zero);
        var rules = Rules with { Otherwise = Rules.Otherwise with { Axes = Rules.Otherwise.Axes with { Backstops = [other, Backstop] } } };
        foreach (var now in new[] { other, Backstop })
        {
            var present = Settings(90, 10, now);
            var grid = Grid(present, rules);
            var proposal = Propose(grid, WardOf(grid), present, rules);
            Assert.Equal(Settings(86, 20, now), proposal.Chosen!.Settings);
        }
    }

    [Fact]
    public void Cells_that_cannot_exist_are_never_chosen()
    {
        var grid = Grid();
        var patients = WardOf(grid, i => Patient(grid, Name(i), s => Limit(s) == 86 ? -1 : UsualLoad(s)));
        var proposal = Propose(grid, patients);
        Assert.Equal(Settings(88, 20), proposal.Chosen!.Settings);
        Assert.DoesNotContain(proposal.Front, p => Limit(p.Settings) == 86);
    }

    [Fact]
    public void When_every_cell_inside_the_bounds_is_null_the_refusal_says_so()
    {
        var grid = Grid();
        var proposal = Propose(grid, WardOf(grid, i => Patient(grid, Name(i), _ => -1)));
        Assert.Null(proposal.Best);
        Assert.Contains("no candidate lies inside the bounds (low limit ≥ 85 %, delay ≤ 30 s, backstop on)", Assert.Single(proposal.RefusedBecause));
    }

    [Fact]
    public void Present_settings_that_are_best_already_stay()
    {
        var present = Settings(86, 20);
        var grid = Grid(present);
        var proposal = Propose(grid, WardOf(grid), present);
        Assert.Equal(present, proposal.Chosen!.Settings);
        Assert.Contains("Nothing to change: the present settings are the best inside the bounds.", proposal.Caveats);
    }

    [Fact]
    public void A_proposal_that_raises_the_load_says_so_and_why()
    {
        var present = Settings(84, 40); // the cheapest of all, and outside the bounds
        var grid = Grid(present);
        var proposal = Propose(grid, WardOf(grid), present);
        Assert.Contains(proposal.Caveats, c => c.Contains("4.0 signals a day against 1.0 at present") && c.Contains("they lie outside the bounds"));
    }

    [Fact]
    public void Present_settings_that_miss_are_said_to()
    {
        var present = Settings(90, 10);
        var grid = Grid(present);
        var proposal = Propose(grid, WardOf(grid, i => Patient(grid, Name(i), events:
            [.. Enumerable.Range(0, 6).Select(n => Event(grid, s => s == present && n == 0 ? null : Delay(s)))])), present);
        Assert.Equal(12, proposal.Present!.Missed);
        Assert.Contains("The present settings miss 12 and are late for 0 of 72 must-catch events.", proposal.Caveats);
    }

    [Fact]
    public void Loads_are_pooled_so_that_a_short_night_weighs_less()
    {
        var grid = Grid();
        // 4 signals in 24 h and 4 in 12 h: 8 signals in a day and a half.
        var patients = new[] { Patient(grid, "A"), Patient(grid, "B", hours: 12) };
        Assert.Equal(8 / 1.5, Propose(grid, patients).Best!.SignalsPerDay.Value, 9);
    }

    [Fact]
    public void The_front_holds_only_what_nothing_else_beats_in_both_load_and_worst_time()
    {
        var grid = Grid();
        var proposal = Propose(grid, WardOf(grid));
        // Every limit signals after its delay, so 84 % is the cheapest for each delay.
        Assert.Equal(
            ["84/40 1.0 40 s", "84/20 2.0 20 s", "84/10 3.0 10 s", "84/0 4.0 0 s"],
            proposal.Front.Select(p => $"{Limit(p.Settings)}/{Delay(p.Settings)} {p.SignalsPerDay:0.0} {p.WorstTimeToSignal}"));
        Assert.All(proposal.Front, p => Assert.False(p.IsInsideBounds));
    }

    [Fact]
    public void Intervals_hold_the_value_and_close_when_all_patients_are_alike()
    {
        var grid = Grid();
        var alike = Propose(grid, WardOf(grid)).Chosen!.SignalsPerDay;
        Assert.Equal((4.0, 4.0, 4.0), (Math.Round(alike.Value, 9), Math.Round(alike.Low!.Value, 9), Math.Round(alike.High!.Value, 9)));
        var unlike = Propose(grid, WardOf(grid, i => Patient(grid, Name(i), s => i * UsualLoad(s)))).Chosen!.SignalsPerDay;
        Assert.True(unlike.Low < unlike.Value && unlike.Value < unlike.High);
    }

    [Fact]
    public void Present_settings_with_delay_and_area_together_stand_beside_the_candidates()
    {
        var present = Settings(90, 10, areaPercentSeconds: 30);
        var grid = Grid(present);
        Assert.Equal(grid.Count - 1, grid.PresentIndex);
        Assert.False(CandidateGrid.HasCell(present));
        Assert.Equal("low limit 90 %, delay 10 s and area threshold 30 %·s, no averaging of ours, backstop 80 % after 5 s", present.InWords());
    }

    [Fact]
    public void Present_settings_that_contradict_the_rules_are_not_compared()
    {
        var present = Settings(80, 10); // at the backstop
        var grid = Grid(present);
        var proposal = Propose(grid, WardOf(grid, i => Patient(grid, Name(i), s => s == present ? -1 : UsualLoad(s))), present);
        Assert.Null(proposal.Present);
        Assert.Contains("the present settings contradict the rules", proposal.Line(2));
    }
}
