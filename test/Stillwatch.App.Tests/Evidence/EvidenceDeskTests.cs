using CsCheck;
using Stillwatch.Alarms;
using Stillwatch.App.Tests.Running;
using Stillwatch.App.Workbench.Evidence;
using Stillwatch.App.Workbench.Library;
using Stillwatch.Quantities;
using Stillwatch.Replay;
using Stillwatch.Time;
using Stillwatch.Tuning.MustCatch;
using Stillwatch.Tuning.Proposals;
using Xunit;

namespace Stillwatch.App.Tests.Evidence;

/// <summary>What the evidence page says of settings must be what the search and the engine say.</summary>
public class EvidenceDeskTests
{
    private static readonly CandidateDraft Usual = new() { Limit = 88, DelaySeconds = 10, HasBackstop = true, BackstopLimit = 80, BackstopDelaySeconds = 5 };

    [Fact]
    public async Task Present_settings_asked_about_show_the_numbers_that_stand_in_the_proposal()
    {
        await using var library = await SmallLibrary.OfAsync(4);
        var group = (await library.EvidenceAsync()).Groups[0];
        Assert.NotNull(group.Proposal.Present);
        Assert.Equal(group.Proposal.Present, group.Desk.Ask(group.Present!.Low!).Evidence);
        Assert.Equal(group.Proposal.Best, group.Desk.Ask(group.Proposal.Best!.Settings).Evidence);
    }

    [Fact]
    public async Task Recordings_without_a_category_stand_in_a_group_of_their_own_that_says_so()
    {
        await using var library = await SmallLibrary.OfAsync(2, (said, number) => number < 2 ? said with { Category = null } : said with { Category = "adult", Oxygen = null, SourceAveragingSeconds = null });
        var groups = (await library.EvidenceAsync()).Groups;
        Assert.Equal([1], groups.Where(g => g.Group.Category.IsAssumed).Select(g => g.Group.Patients));
        Assert.Equal(groups.Count, groups.Select(g => g.Name).Distinct().Count());
        Assert.All(groups, g => Assert.Equal(g.Group.Category.IsAssumed, g.Name.StartsWith("Adult (assumed): ", StringComparison.Ordinal)));
        Assert.All(groups, g => Assert.Equal(g.Group.Category.IsAssumed, g.Proposal.Caveats.Any(c => c.StartsWith("No category was given", StringComparison.Ordinal))));
    }

    [Theory]
    [InlineData(10, 0, 0)]
    [InlineData(0, 40, 8)]
    [InlineData(5, 20, 4)] // delay and area together
    public async Task A_candidate_signals_as_often_as_the_engine_says(int delay, int area, int averaging)
    {
        await using var library = await SmallLibrary.OfAsync(2);
        var desk = (await library.EvidenceAsync()).Groups[0].Desk;
        var settings = (Usual with { DelaySeconds = delay, Area = area, AveragingSeconds = averaging }).ToSettings();
        long engine = desk.Group.Recordings.Sum(r => (long)Replayer.RunLow(
            r.Evidence.SpO2, settings.SpO2Low, settings.Backstop, GroupLoader.Request.Conditioning with { Averaging = settings.Averaging }).Count);
        Assert.True(engine > 0);
        Assert.Equal(engine, desk.Ask(settings).Evidence!.Signals);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(8)]
    public async Task The_map_under_an_averaging_counts_what_the_engine_counts(int averaging)
    {
        await using var library = await SmallLibrary.OfAsync(2);
        var desk = (await library.EvidenceAsync()).Groups[0].Desk;
        var map = desk.Map(Duration.FromSeconds(averaging), default);
        int row = map.Request.Grid.LimitsMicro.ToList().IndexOf(88 * FixedPoint.One);
        var settings = (Usual with { AveragingSeconds = averaging, HasBackstop = false }).ToSettings();
        Assert.Equal(desk.Ask(settings).Evidence!.Signals, map.ByDelay.Signals[row, 10]);
    }

    [Fact]
    public async Task Signals_that_go_stay_and_come_add_up()
    {
        await using var library = await SmallLibrary.OfAsync(2);
        var desk = (await library.EvidenceAsync()).Groups[0].Desk;
        var before = (Usual with { Limit = 90, DelaySeconds = 0 }).ToSettings();
        var after = (Usual with { Limit = 88, DelaySeconds = 20 }).ToSettings();
        var changes = desk.Signals(before, after);
        Assert.NotEmpty(changes.Gone);
        Assert.Equal(desk.Ask(before).Evidence!.Signals, changes.Gone.Count + changes.Kept);
        Assert.Empty(desk.Signals(before, before).Gone);
        Assert.Empty(desk.Signals(before, before).Added);
        Assert.Equal(changes.Gone.Count, desk.Signals(after, before).Added.Count);
    }

    [Fact]
    public async Task A_limit_at_the_backstop_is_said_to_be_impossible_and_gives_no_number()
    {
        await using var library = await SmallLibrary.OfAsync(1);
        var asked = (await library.EvidenceAsync()).Groups[0].Desk.Ask((Usual with { Limit = 80 }).ToSettings());
        Assert.Null(asked.Evidence);
        Assert.Contains("expected below the SpO2 low limit", Assert.Single(asked.Problems), StringComparison.Ordinal);
    }

    // typed | taken
    [Theory]
    [InlineData("90", 90.0)]
    [InlineData("90.1234", 90.123)]
    [InlineData("100", 100.0)]
    [InlineData("900", null)]
    [InlineData("49", null)]
    [InlineData("-3", null)]
    [InlineData("1e2", null)]
    [InlineData("", null)]
    public void A_limit_out_of_range_is_refused_in_words_and_the_last_one_stays(string typed, double? taken)
    {
        var limit = CandidateNumber.Low[0];
        Assert.Equal((decimal?)taken, limit.Read(typed));
        string found = typed.Length > 0 ? typed : "no number";
        if (taken is null) Assert.Equal($"Found {found}, expected 50 to 100: 88 stays.", limit.Refusal(typed, Usual with { Limit = 88 }));
    }

    [Fact]
    public async Task An_alarm_that_hardly_ever_stops_is_said_to_be_one_and_a_quiet_one_is_not()
    {
        await using var library = await SmallLibrary.OfAsync(2);
        var desk = (await library.EvidenceAsync()).Groups[0].Desk;
        var always = desk.Ask((Usual with { Limit = 100 }).ToSettings()).Evidence!;
        Assert.Equal($"A signal is on for {Stillwatch.App.Pages.Say.Share(always.SignalMinutesPerDay / 1440)} of the valid time", EventWords.HardlyStops(always, desk.Rails));
        Assert.True(always.SignalMinutesPerDay > 0.9 * 1440);
        Assert.Null(EventWords.HardlyStops(desk.Ask((Usual with { Limit = 88, DelaySeconds = 10 }).ToSettings()).Evidence!, desk.Rails));
    }

    [Theory]
    [InlineData("< 80 % for ≥ 15 s", "< 80 % for ≥ 15 s")]
    [InlineData("< 80 % for ≥ 15 s; ≤ 85 % for ≥ 60 s; < 80 % for ≥ 15 s", "< 80 % for ≥ 15 s (2 times); ≤ 85 % for ≥ 60 s")]
    public void A_reason_that_comes_again_is_said_once_with_its_count(string parts, string said) => Assert.Equal(said, EventWords.Because(parts));

    // seconds to signal | delay | backstop on, at once | said
    [Theory]
    [InlineData(0, 5, false, "already on")]
    [InlineData(0, 0, false, "on at the onset")]
    [InlineData(0, 5, true, "on at the onset")]
    [InlineData(7, 5, false, "after 7 s")]
    public void A_signal_that_was_on_before_the_onset_is_not_said_to_have_come_after_no_time(int seconds, int delay, bool promptBackstop, string said)
    {
        var settings = (Usual with { DelaySeconds = delay, HasBackstop = promptBackstop, BackstopDelaySeconds = 0 }).ToSettings();
        Assert.EndsWith(said, EventWords.Answer(CatchVerdict.InTime, Duration.FromSeconds(seconds), settings), StringComparison.Ordinal);
    }

    [Fact]
    public void Candidates_in_the_address_come_back_as_they_were()
    {
        Gen.Select(Gen.Int[50, 100], Gen.Int[0, 300], Gen.Int[0, 600], Gen.Int[0, 60000], Gen.Bool).Sample((limit, delay, area, averaging, backstop) =>
        {
            var draft = new CandidateDraft { Limit = limit, DelaySeconds = delay, Area = area, AveragingSeconds = averaging / 1000m, HasBackstop = backstop, BackstopLimit = 79, BackstopDelaySeconds = 5 };
            Assert.Equal(draft, CandidateAddress.Read(CandidateAddress.Of(draft)));
        });
        Assert.Equal("90_10_0_0_0_80_5_off", CandidateAddress.Of(new CandidateDraft { Limit = 90, DelaySeconds = 10, BackstopLimit = 80, BackstopDelaySeconds = 5 }));
    }

    [Theory]
    [InlineData(null)]
    [InlineData("")]
    [InlineData("90_10_0_0_0_80")]
    [InlineData("900_10_0_0_0_80_5")]
    [InlineData("90_10_0_0_0_80_5_on")]
    [InlineData("90_ten_0_0_0_80_5")]
    public void An_address_that_no_control_could_have_made_names_no_candidate(string? text) => Assert.Null(CandidateAddress.Read(text));

    [Fact]
    public async Task Files_without_a_pseudonym_are_said_to_count_as_a_patient_each()
    {
        await using var named = await SmallLibrary.OfAsync(1);
        Assert.DoesNotContain(PatientNote.Words, (await named.EvidenceAsync()).Groups[0].Words, StringComparison.Ordinal);
        await using var library = await SmallLibrary.OfAsync(1, (said, _) => said with { Patient = null });
        var group = (await library.EvidenceAsync()).Groups[0];
        Assert.EndsWith($"(2 patients, 2 recordings; {PatientNote.Words}), invented data", group.Words, StringComparison.Ordinal);
        Assert.Equal($" ({PatientNote.Words})", PatientNote.InBrackets(group.Group.Recordings));
    }

    [Fact]
    public void A_backstop_that_is_switched_off_and_on_again_is_as_it_was()
    {
        var off = Usual with { HasBackstop = false };
        Assert.Null(off.ToSettings().Backstop);
        Assert.Equal(new BackstopSettings(Percent.Of(80), Duration.FromSeconds(5)), (off with { HasBackstop = true }).ToSettings().Backstop);
    }
}
