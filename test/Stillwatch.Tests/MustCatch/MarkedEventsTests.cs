using Stillwatch.Conditioning;
using Stillwatch.Tests.Oxygenation;
using Stillwatch.Time;
using Stillwatch.Tuning.MustCatch;
using Xunit;

namespace Stillwatch.Tests.MustCatch;

/// <summary>What review marks make of must-catch events (rules R13 and R14.3).</summary>
public sealed class MarkedEventsTests
{
    // One event by definition, 100-180 s, lowest 84; a dip to 88 at 300-340 s that meets no line; nothing valid from 400 s (hold 406 s) to 600 s.
    private const string Series = "94*100 84*80 94*120 88*40 94*60 .*200 94*100";

    // id | what it shows | marks: reviewer verdict span, ... (S significant, R real, A artefact, ? cannot tell) | events left
    private const string Table =
        """
        none-1 | no marks | | 100-180
        art-1 | one artefact mark never removes | ann A 100-180 | 100-180
        art-2 | two agreeing reviewers do | ann A 100-180, bob A 100-180 | none
        art-3 | the same reviewer twice is one | ann A 100-180, ann A 90-190 | 100-180
        art-4 | capitals and blanks make no second reviewer | ann A 100-180, Ann A 100-180 | 100-180
        art-5 | disagreement counts as real | ann A 100-180, bob A 100-180, cyd R 120-130 | 100-180
        art-6 | significant against artefact | ann A 100-180, bob S 100-180 | 100-180
        art-7 | cannot tell keeps it | ann A 100-180, bob A 100-180, cyd ? 100-180 | 100-180
        art-8 | one artefact mark and one cannot tell | ann A 100-180, bob ? 100-180 | 100-180
        art-9 | a reviewer of two minds is taken by the more serious | ann A 100-180, bob A 100-180, bob R 100-180 | 100-180
        part-1 | an artefact mark on a part says nothing of the rest | ann A 100-150, bob A 100-180 | 100-180
        part-2 | a second more or less is a whole second in a side file | ann A 101-179, bob A 99-181 | none
        part-3 | two seconds are not | ann A 102-180, bob A 100-180 | 100-180
        part-4 | a moment inside speaks of the whole event | ann A 120-120, bob A 150-150 | none
        part-5 | a moment at the event's end is outside | ann A 180-180, bob A 150-150 | 100-180
        real-1 | real but not significant by all still meets the definition | ann R 100-180, bob R 100-180 | 100-180
        sig-1 | marked significant adds an event | ann S 300-340 | 100-180 300-340
        sig-2 | a moment stands for 60 s | ann S 300-300 | 100-180 300-360
        sig-3 | on an event by definition it confirms it and adds nothing | ann S 110-150 | 100-180
        sig-4 | beginning up to T before it, too | ann S 40-150 | 100-180
        sig-5 | beginning earlier than that, it adds its own part | ann S 39-150 | 39-180
        sig-6 | one artefact mark does not remove it | ann S 300-340, bob A 300-340 | 100-180 300-340
        sig-7 | nor do two: disagreement counts as real | ann S 300-340, bob A 300-340, cyd A 300-340 | 100-180 300-340
        sig-8 | the onset is the first sample within it | ann S 550-640 | 100-180 600-640
        sig-9 | nothing valid within it: listed, not counted | ann S 450-500 | 100-180
        sig-10 | where the other ends, not overlapping: two events | ann S 180-220 | 100-180 180-220
        real-2 | real but not significant adds nothing | ann R 300-340 | 100-180
        """;

    public static TheoryData<string[]> Cases => MustCatchTables.Rows(Table);

    [Theory]
    [MemberData(nameof(Cases))]
    public void Events_after_marks_are_as_the_table_says(string[] row)
    {
        var result = Apply(row[2]);
        string found = result.Events.Count == 0 ? "none" : string.Join(" ", result.Events.Select(e => $"{e.Onset.Seconds}-{e.End.Seconds}"));
        Assert.True(row[3] == found, $"{row[0]} ({row[1]}): expected {row[3]}, found {found}");
    }

    [Fact]
    public void What_was_removed_and_kept_is_listed_with_the_reason()
    {
        var removed = Assert.Single(Apply("bob A 100-180, ann A 100-180").Decisions);
        Assert.Equal(MarkOutcome.Removed, removed.Outcome);
        Assert.Equal("ann, bob agree: artefact.", removed.Because);
        Assert.Equal("ann: artefact. One artefact mark never removes an event.", Assert.Single(Apply("ann A 100-180").Decisions).Because);
        Assert.Equal("ann: artefact; bob: real. Disagreement counts as real.", Assert.Single(Apply("ann A 100-180, bob R 100-180").Decisions).Because);
        Assert.StartsWith("Marked as artefact in part only", Assert.Single(Apply("ann A 100-150").Decisions).Because, StringComparison.Ordinal);
        var added = Assert.Single(Apply("ann S 300-340").Decisions);
        Assert.Equal((MarkOutcome.Added, "ann: real."), (added.Outcome, added.Because));
        Assert.Equal("marked significant by ann", Assert.Single(added.Event.Parts).Because);
        Assert.Equal(88m, added.Event.Nadir.Value);
    }

    [Fact]
    public void Marks_that_changed_nothing_are_listed_with_the_reason()
    {
        Assert.Equal("There is no must-catch event where it stands.", Assert.Single(Apply("ann A 300-340").Unused).Because);
        Assert.Contains("possibly hypoxaemic", Assert.Single(Apply("ann S 450-500").Unused).Because, StringComparison.Ordinal);
        Assert.Empty(Apply("ann S 300-340, bob A 100-180").Unused);
    }

    [Fact]
    public void The_time_allowed_for_a_marked_event_can_be_set()
    {
        var series = MustCatchFinder.SeriesFor(SeriesText.Source(Series), ConditioningSettings.Default);
        var part = Assert.Single(Assert.Single(MarkedEvents.Apply(series, [], Marks("ann S 300-340"), Duration.FromSeconds(20)).Events).Parts);
        Assert.Equal(Duration.FromSeconds(20), part.Within);
        Assert.Equal(MarkedEvents.DefaultWithin, Assert.Single(MarkedEvents.Apply(series, [], Marks("ann S 300-340")).Events[0].Parts).Within);
    }

    [Fact]
    public void The_finder_applies_marks()
    {
        var events = MustCatchFinder.Find(SeriesText.Source(Series), ConditioningSettings.Default, MustCatchTables.Definition("<=85/60"), Marks("ann A 100-180, bob A 100-180, ann S 300-340"));
        Assert.Equal("300-340:88:1", MustCatchTables.Describe(events));
    }

    [Fact]
    public void A_mark_without_a_reviewer_or_upside_down_is_refused()
    {
        Assert.Contains("found no reviewer", Assert.Throws<ArgumentException>(() => new ReviewMark(" ", MustCatchTables.Slice("1-2"), MarkVerdict.Artefact)).Message, StringComparison.Ordinal);
        Assert.Contains("expected the start first", Assert.Throws<ArgumentException>(() => new ReviewMark("ann", MustCatchTables.Slice("2-1"), MarkVerdict.Artefact)).Message, StringComparison.Ordinal);
    }

    // Counts of both reviewers' verdicts (S and A only) | raw agreement | kappa. Arithmetic on invented counts: po = 35/50, pe = (25·30 + 25·20)/50² = 0.5, kappa 0.4.
    [Theory]
    [InlineData(20, 5, 10, 15, 0.7, 0.4)]
    [InlineData(25, 0, 0, 25, 1.0, 1.0)]
    [InlineData(0, 10, 10, 0, 0.0, -1.0)]
    [InlineData(10, 10, 10, 10, 0.5, 0.0)]
    public void Kappa_compares_agreement_with_chance(int bothReal, int realArtefact, int artefactReal, int bothArtefact, double raw, double kappa)
    {
        var verdicts = Enumerable.Repeat((MarkVerdict.RealAndSignificant, MarkVerdict.RealAndSignificant), bothReal)
            .Concat(Enumerable.Repeat((MarkVerdict.RealAndSignificant, MarkVerdict.Artefact), realArtefact))
            .Concat(Enumerable.Repeat((MarkVerdict.Artefact, MarkVerdict.RealAndSignificant), artefactReal))
            .Concat(Enumerable.Repeat((MarkVerdict.Artefact, MarkVerdict.Artefact), bothArtefact)).ToList();
        var agreement = ReviewerAgreement.Of("ann", "bob", verdicts);
        Assert.Equal(raw, agreement.Raw!.Value, 12);
        Assert.Equal(kappa, agreement.Kappa!.Value, 12);
    }

    [Fact]
    public void Kappa_is_not_defined_where_both_always_say_the_same_one_thing()
    {
        var agreement = ReviewerAgreement.Of("ann", "bob", [(MarkVerdict.Artefact, MarkVerdict.Artefact)]);
        Assert.Equal(1.0, agreement.Raw);
        Assert.Null(agreement.Kappa);
    }

    [Fact]
    public void Agreement_is_given_for_each_pair_with_an_event_in_common()
    {
        var agreement = Apply("ann A 100-180, bob R 100-180, cyd S 300-340").Agreement;
        Assert.Equal(new ReviewerAgreement("ann", "bob", 1, 0, 0.0), Assert.Single(agreement));
    }

    private static MarkedResult Apply(string marks)
    {
        var series = MustCatchFinder.SeriesFor(SeriesText.Source(Series), ConditioningSettings.Default);
        return MarkedEvents.Apply(series, MustCatchFinder.Find(series, MustCatchTables.Definition("<=85/60")), Marks(marks));
    }

    private static List<ReviewMark> Marks(string text) => [.. text.Split(',', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries).Select(mark =>
    {
        string[] words = mark.Split(' ');
        var verdict = words[1] switch
        {
            "S" => MarkVerdict.RealAndSignificant,
            "R" => MarkVerdict.RealButNotSignificant,
            "A" => MarkVerdict.Artefact,
            _ => MarkVerdict.CannotTell,
        };
        return new ReviewMark(words[0], MustCatchTables.Slice(words[2]), verdict);
    })];
}
