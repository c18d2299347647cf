using Stillwatch.App.Tests.Running;
using Stillwatch.App.Workbench.Library;
using Stillwatch.App.Workbench.Load;
using Stillwatch.App.Workbench.Review;
using Stillwatch.Replay;
using Stillwatch.Storage;
using Stillwatch.Storage.Settings;
using Xunit;

namespace Stillwatch.App.Tests.Evidence;

/// <summary>The load is counted under the settings in force, and beside a change its before and after stand apart.</summary>
public class LoadRunTests
{
    [Fact]
    public async Task The_load_is_that_of_the_settings_said_to_be_in_force()
    {
        await using var library = await SmallLibrary.OfAsync(3);
        var found = await RunAsync(library);
        Assert.Equal(3, found.Model.Patients.Count);
        long engine = found.Model.Recordings.Sum(r => Replayer.Run(r.Loaded.Recording, SmallLibrary.InForce("adult").Settings).Signals.Count(s => Stillwatch.Alarms.AlarmConditions.IsPhysiological(s.Condition)));
        Assert.Equal(engine, found.Model.Load.Physiological.Signals);
        Assert.Contains("as said of the recordings", found.SettingsWords, StringComparison.Ordinal);
        Assert.Empty(found.Changes);
        Assert.Empty(found.NotInForce);
        Assert.Equal("present settings", found.Settings);
    }

    [Fact]
    public async Task Where_nobody_said_what_was_in_force_it_is_not_called_the_load_of_the_present_settings()
    {
        await using var library = await SmallLibrary.OfAsync(1, (said, _) => said with { SettingsInForceJson = null });
        var found = await RunAsync(library);
        Assert.Contains("nobody said which settings were in force during these recordings. This is what", Assert.Single(found.NotInForce), StringComparison.Ordinal);
        Assert.DoesNotContain("present", found.Settings, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Groups_that_may_be_compared_hold_nobody_whose_category_was_assumed_beside_others()
    {
        await using var library = await SmallLibrary.OfAsync(1, (said, number) => number == 0 ? said with { Category = null } : said);
        Assert.Equal([false, true], (await RunAsync(library)).Model.Groups.Select(g => g.IsCategoryAssumed));
    }

    [Fact]
    public async Task Where_not_all_had_the_same_settings_the_load_says_which_part_is_counted_under_others()
    {
        await using var library = await SmallLibrary.OfAsync(1, (said, number) => number == 0 ? said with { SettingsInForceJson = null } : said);
        Assert.Contains("of 1 nothing is known", Assert.Single((await RunAsync(library)).NotInForce), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(true, 1)]
    [InlineData(false, 0)] // a real ward's decision is no change of the invented one, though the unit has its name
    public async Task A_change_is_one_that_was_decided_on_data_of_the_recordings_own_kind(bool isInvented, int changes)
    {
        await using var library = await SmallLibrary.OfAsync(1);
        await DecideAsync(library, isInvented);
        Assert.Equal(changes, (await RunAsync(library)).Changes.Count);
    }

    [Fact]
    public async Task Recordings_after_a_change_are_none_when_the_change_is_newer_than_all_of_them()
    {
        await using var library = await SmallLibrary.OfAsync(2);
        await DecideAsync(library, isInvented: true);
        var change = Assert.Single((await RunAsync(library)).Changes);
        Assert.Null(change.After); // written down on 10 March, recorded on 2 and 3 March
        Assert.Equal(4, change.Before!.Recordings);
        Assert.Equal(0, change.Undated);
    }

    private static Task<SettingsEntry> DecideAsync(SmallLibrary library, bool isInvented) => library.Store.Settings.AddAsync(
        new NewSettingsEntry
        {
            Scope = SettingsScope.UnitDefault,
            Category = "adult",
            Unit = SmallLibrary.Unit,
            Name = "decided",
            SettingsJson = SettingsForm.JsonOf(SmallLibrary.InForce("adult", 15)),
            Why = "a test",
            AcceptedBy = "ward lead",
            EvidenceJson = new DecisionGrounds(isInvented, []).ToJson(),
        },
        Actor.Local, TestContext.Current.CancellationToken);

    private static async Task<LoadAtHand> RunAsync(SmallLibrary library) =>
        await new LoadRun(library.Store, library.Loader, library.Finder).RunAsync(await library.AllAsync(), SmallLibrary.Unit, new SmallLibrary.Silence(), TestContext.Current.CancellationToken);
}
