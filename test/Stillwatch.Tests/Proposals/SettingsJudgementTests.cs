using Stillwatch.Quantities;
using Stillwatch.Time;
using Stillwatch.Tuning.Proposals;
using Xunit;
using static Stillwatch.Tests.Proposals.HandMade;

namespace Stillwatch.Tests.Proposals;

/// <summary>Settings that somebody decided are judged as themselves, line by line, whatever the search proposes instead.</summary>
public class SettingsJudgementTests
{
    [Fact]
    public void Settings_that_miss_and_lie_outside_the_bounds_are_said_to_although_the_search_has_a_clean_proposal()
    {
        var grid = Grid(Settings(90, 0));
        var ward = WardOf(grid, i => Patient(grid, Name(i), events: [.. Enumerable.Range(0, 6).Select(k => Event(grid, s => Delay(s) == 40 ? null : Delay(s), onsetSeconds: 100 + 1000 * k))]));
        Assert.False(Propose(grid, ward, Settings(90, 0)).IsRefused);
        Assert.Equal(
            """
            R14.1 Refuses: 72 missed of 72 must-catch events, 0 allowed, in 12 of 12 patients; up to 100.0 % of such events and 100.0 % of such patients could be missed (exact 95 % upper bounds; guard rails 5.0 % and 30.0 %, unit policy, no source).
            R14.2 Refuses: with every event at half its length, 72 of 72 would end before the signal.
            R14.2 Limits: the present settings signalled 72 must-catch events of 72 earlier; 72 would have had no signal at all. Staff may have cut these events short.
            R14.4 Met: no invalid time next to low values could hide a must-catch event.
            R14.5 Refuses: outside the bounds inside which anything is proposed (low limit ≥ 85 %, delay ≤ 30 s, backstop on).
            R14.9 Met: technical signals 2.0 per day connected against 2.0 at present; physiological 1.0 against 10.0 per day valid.
            """.ReplaceLineEndings("\n"),
            Judged(grid, ward, Settings(84, 40), Settings(90, 0)));
    }

    [Fact]
    public void Seconds_lost_against_the_present_settings_are_counted_and_without_those_it_is_said()
    {
        var grid = Grid(Settings(90, 0));
        Assert.Contains("R14.2 Limits: the present settings signalled 72 must-catch events of 72 earlier; 1440 s are lost in all, 20 s in the worst. Staff may have cut these events short.", Judged(grid, WardOf(grid), Settings(88, 20), Settings(90, 0)), StringComparison.Ordinal);
        Assert.Contains("R14.2 Limits: the present settings are not known", Judged(grid, WardOf(grid), Settings(88, 20), null), StringComparison.Ordinal);
        Assert.Contains("R14.9 Limits: technical signals 2.0 per day connected; the present ones are not known.", Judged(grid, WardOf(grid), Settings(88, 20), null), StringComparison.Ordinal);
    }

    [Fact]
    public void More_technical_load_is_no_improvement_and_no_events_prove_nothing()
    {
        var grid = Grid(Settings(90, 0));
        var noisy = WardOf(grid, i => Patient(grid, Name(i), technical: s => Delay(s) > 0 ? 5 : 2, events: []));
        string said = Judged(grid, noisy, Settings(88, 20), Settings(90, 0));
        Assert.Contains("R14.9 Refuses:", said, StringComparison.Ordinal);
        Assert.Contains("R14.1 Refuses: there is no must-catch event", said, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(86, 0)]
    [InlineData(88, 20)]
    [InlineData(90, 10)]
    public void What_the_search_chose_is_judged_as_the_search_judged_it(int least, int delay)
    {
        var rules = Rules with { Otherwise = Rules.Otherwise with { Axes = Rules.Otherwise.Axes with { Limits = [Percent.Of(least)], Delays = [Duration.FromSeconds(delay)] } } };
        var grid = Grid(Settings(90, 0), rules);
        var proposal = Propose(grid, WardOf(grid), Settings(90, 0), rules);
        var best = proposal.Best!;
        var judged = SettingsJudgement.Of(best, proposal.Present, [], rules.GuardRails, SearchBounds.Default);
        foreach (int line in SettingsJudgement.Lines)
            Assert.Equal(proposal.Findings.Any(f => f.Line == line && f.Verdict == RuleVerdict.Refuses), judged.Any(f => f.Line == line && f.Verdict == RuleVerdict.Refuses));
    }

    private static string Judged(CandidateGrid grid, IReadOnlyList<PatientEvidence> ward, CandidateSettings decided, CandidateSettings? present)
    {
        int At(CandidateSettings s) => grid.Candidates.ToList().IndexOf(s);
        var all = SideBySide.Of(grid, ward, Rules);
        var findings = SettingsJudgement.Of(
            all[At(decided)]!, present is null ? null : all[At(present)], present is null ? [] : SideBySide.Changes(ward, At(present), ward, At(decided)), Rules.GuardRails, SearchBounds.Default);
        return string.Join('\n', findings.Select(f => $"R14.{f.Line} {f.Verdict}: {f.Words}"));
    }
}
