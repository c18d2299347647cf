using Stillwatch.Alarms;
using Stillwatch.App.Tests.Running;
using Stillwatch.App.Workbench.Evidence;
using Stillwatch.App.Workbench.Library;
using Stillwatch.Quantities;
using Stillwatch.Replay;
using Stillwatch.Time;
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

    [Fact]
    public void Numbers_beyond_what_a_control_allows_are_drawn_back_inside()
    {
        var draft = new CandidateDraft { Limit = 400, DelaySeconds = -3, Area = 9999, AveragingSeconds = 7.12345m, ClearMargin = 50, BackstopLimit = 0 }.Inside();
        Assert.Equal(new CandidateDraft { Limit = 100, DelaySeconds = 0, Area = 600, AveragingSeconds = 7.123m, ClearMargin = 20, BackstopLimit = 30 }, draft);
    }

    [Fact]
    public void A_backstop_that_is_switched_off_and_on_again_is_as_it_was()
    {
        var off = Usual with { HasBackstop = false };
        Assert.Null(off.ToSettings().Backstop);
        Assert.Equal(new BackstopSettings(Percent.Of(80), Duration.FromSeconds(5)), (off with { HasBackstop = true }).ToSettings().Backstop);
    }
}
