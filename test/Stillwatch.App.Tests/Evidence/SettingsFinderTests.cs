using Stillwatch.Alarms;
using Stillwatch.App.Commands;
using Stillwatch.App.Files;
using Stillwatch.App.Workbench.Review;
using Stillwatch.App.Tests.Running;
using Stillwatch.Storage;
using Stillwatch.Storage.Settings;
using Xunit;

namespace Stillwatch.App.Tests.Evidence;

/// <summary>Where the present settings and the unit's default come from, and that it is said.</summary>
public class SettingsFinderTests
{
    private static readonly CategoryChoice Adult = new(CategoryPresets.Adult);

    [Fact]
    public async Task Settings_said_of_every_recording_are_the_present_ones()
    {
        await using var library = await SmallLibrary.OfAsync(2);
        var present = await library.Finder.PresentAsync(await library.AllAsync(), Adult, SmallLibrary.Unit, TestContext.Current.CancellationToken);
        Assert.Equal(SmallLibrary.InForce("adult").Settings, present!.Set.Settings);
        Assert.Null(present.Doubt);
    }

    [Fact]
    public async Task Recordings_that_disagree_are_compared_with_what_most_of_them_had_and_the_doubt_is_said()
    {
        await using var library = await SmallLibrary.OfAsync(2, (said, number) => number == 0 ? said with { SettingsInForceJson = SettingsForm.JsonOf(SmallLibrary.InForce("adult", 20)) } : said);
        var present = await library.Finder.PresentAsync(await library.AllAsync(), Adult, SmallLibrary.Unit, TestContext.Current.CancellationToken);
        Assert.Equal(SmallLibrary.InForce("adult").Settings, present!.Set.Settings);
        Assert.Equal("Said of 3 of 4 recordings; others had other settings, and all are compared with these.", present.Doubt);
    }

    [Fact]
    public async Task Where_nobody_said_anything_the_settings_history_of_the_unit_is_asked_and_then_nobody()
    {
        await using var library = await SmallLibrary.OfAsync(1, (said, _) => said with { SettingsInForceJson = null });
        var all = await library.AllAsync();
        Assert.Null(await library.Finder.PresentAsync(all, Adult, SmallLibrary.Unit, TestContext.Current.CancellationToken));
        Assert.StartsWith("the category's starting settings", (await library.Finder.DefaultAsync(Adult, SmallLibrary.Unit, TestContext.Current.CancellationToken)).From);
        var decided = SmallLibrary.InForce("adult", 15);
        await library.Store.Settings.AddAsync(
            new NewSettingsEntry { Scope = SettingsScope.UnitDefault, Category = "adult", Unit = SmallLibrary.Unit, Name = "decided", SettingsJson = SettingsForm.JsonOf(decided), Why = "a test", AcceptedBy = "ward lead" },
            Actor.Local, TestContext.Current.CancellationToken);
        Assert.Equal(decided.Settings, (await library.Finder.PresentAsync(all, Adult, SmallLibrary.Unit, TestContext.Current.CancellationToken))!.Set.Settings);
        var standard = await library.Finder.DefaultAsync(Adult, SmallLibrary.Unit, TestContext.Current.CancellationToken);
        Assert.Equal((decided.Settings, "written down 2026-03-10, accepted by ward lead"), (standard.Set.Settings, standard.From));
        Assert.StartsWith("the category's starting settings", (await library.Finder.DefaultAsync(Adult, "another unit", TestContext.Current.CancellationToken)).From);
    }

    [Fact]
    public async Task Something_that_is_no_settings_file_is_refused_with_the_recording_named()
    {
        await using var library = await SmallLibrary.OfAsync(1, (said, _) => said with { SettingsInForceJson = """{ "format": "stillwatch.marks/1" }""" });
        var stopped = await Assert.ThrowsAsync<StopException>(async () =>
            await library.Finder.PresentAsync(await library.AllAsync(), Adult, SmallLibrary.Unit, TestContext.Current.CancellationToken));
        Assert.Contains("patient-01-night-1", stopped.Trouble.Where, StringComparison.Ordinal);
    }

    [Fact]
    public void A_settings_set_written_down_reads_back_to_the_same_settings()
    {
        foreach (var preset in new[] { CategoryPresets.Adult, CategoryPresets.AdultHypercapnicRisk, CategoryPresets.NeonatalOnOxygen, CategoryPresets.Paediatric(8) })
        {
            var set = new NamedSettings("a name", preset.Name, preset.ToSettings());
            Assert.Equal(set, Assert.Single(SettingsFile.OfText("a test", SettingsForm.JsonOf(set)).Sets));
        }
    }
}
