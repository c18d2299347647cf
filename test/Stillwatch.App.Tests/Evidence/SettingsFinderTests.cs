using Stillwatch.App.Workbench.Evidence;
using Stillwatch.Alarms;
using Stillwatch.App.Commands;
using Stillwatch.App.Files;
using Stillwatch.App.Workbench.Library;
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
        var present = SettingsFinder.Present(await library.AllAsync(), Adult);
        Assert.Equal(SmallLibrary.InForce("adult").Settings, present!.Set.Settings);
        Assert.Null(present.Doubt);
    }

    [Fact]
    public async Task Recordings_that_disagree_are_compared_with_what_most_of_them_had_and_how_many_said_what_is_told()
    {
        await using var library = await SmallLibrary.OfAsync(2, (said, number) => number switch
        {
            0 => said with { SettingsInForceJson = SettingsForm.JsonOf(SmallLibrary.InForce("adult", 20)) },
            1 => said with { SettingsInForceJson = null },
            _ => said,
        });
        var present = SettingsFinder.Present(await library.AllAsync(), Adult);
        Assert.Equal(SmallLibrary.InForce("adult").Settings, present!.Set.Settings);
        Assert.StartsWith("Of 4 recordings, 2 had SpO2 below 90 % for more than 5 s", present.Doubt);
        Assert.Contains("; 1 had SpO2 below 90 % for more than 20 s", present.Doubt, StringComparison.Ordinal);
        Assert.EndsWith("; of 1 nothing is known. The first of these stands for all.", present.Doubt);
    }

    [Fact]
    public async Task What_invented_recordings_had_is_never_the_present_of_real_ones()
    {
        await using var library = await SmallLibrary.OfAsync(1);
        var invented = await library.AllAsync();
        var real = invented[0] with { IsInvented = false, Description = invented[0].Description with { SettingsInForceJson = null } };
        Assert.NotNull(SettingsFinder.Present(invented, Adult));
        Assert.Null(SettingsFinder.Present([.. invented, real], Adult));
    }

    [Fact]
    public async Task Real_nights_beside_the_invented_ward_are_a_group_of_their_own_whose_present_settings_are_not_known()
    {
        await using var library = await SmallLibrary.OfAsync(2);
        await library.AddRealAsync("real-1");
        var all = await library.AllAsync();
        // Together they are refused; each apart knows its own alone.
        await Assert.ThrowsAsync<Commands.StopException>(library.EvidenceAsync);
        Task<EvidenceAtHand> OfAsync(bool invented) => new EvidenceRun(library.Loader, library.Finder).RunAsync(
            [.. all.Where(r => r.IsInvented == invented)], SmallLibrary.Unit, new SmallLibrary.Silence(), TestContext.Current.CancellationToken);
        var real = Assert.Single((await OfAsync(invented: false)).Groups);
        Assert.Null(real.Present);
        Assert.StartsWith("not known.", real.PresentNote);
        Assert.Equal(["real-1"], real.Group.Recordings.Select(r => r.Loaded.Patient).Distinct());
        Assert.All((await OfAsync(invented: true)).Groups, g => Assert.NotNull(g.Present));
    }

    [Fact]
    public async Task Where_nobody_said_anything_the_present_settings_are_not_known_whatever_the_unit_decided_since()
    {
        await using var library = await SmallLibrary.OfAsync(1, (said, _) => said with { SettingsInForceJson = null });
        await WriteAsync(library, 15);
        Assert.Null(SettingsFinder.Present(await library.AllAsync(), Adult));
    }

    [Fact]
    public async Task The_default_is_what_the_unit_decided_last_and_else_the_categorys_starting_settings()
    {
        await using var library = await SmallLibrary.OfAsync(0);
        Assert.StartsWith("the category's starting settings, for the unit has written down none", (await DefaultAsync(library)).From);
        await WriteAsync(library, 10);
        await WriteAsync(library, 15);
        var standard = await DefaultAsync(library);
        Assert.Equal((SmallLibrary.InForce("adult", 15).Settings, "written down 2026-03-10, accepted by ward lead", true), (standard.Set.Settings, standard.From, standard.IsWrittenDown));
        Assert.StartsWith("the category's starting settings", (await library.Finder.DefaultAsync(Adult, "another unit", TestContext.Current.CancellationToken)).From);
    }

    [Fact]
    public async Task A_decision_on_invented_data_is_a_default_for_invented_recordings_alone_and_says_what_it_stood_on()
    {
        await using var library = await SmallLibrary.OfAsync(0);
        await WriteAsync(library, 15);
        await WriteAsync(library, 25, evidence: """{ "isInvented": true, "against": ["47 of 93 must-catch events missed", "outside the bounds"] }""");
        Assert.Equal(SmallLibrary.InForce("adult", 15).Settings, (await DefaultAsync(library)).Set.Settings);
        var invented = await DefaultAsync(library, isInvented: true);
        Assert.Equal(SmallLibrary.InForce("adult", 25).Settings, invented.Set.Settings);
        Assert.True(invented.IsInvented);
        Assert.Equal("written down 2026-03-10, accepted by ward lead; decided on invented data; against the evidence: 47 of 93 must-catch events missed, outside the bounds", invented.From);
    }

    [Theory]
    [InlineData("{ }")] // of a version that did not write it down
    [InlineData("[1]")]
    [InlineData("no JSON")]
    public async Task Evidence_that_does_not_say_what_it_is_of_is_not_taken_for_a_real_patient(string evidence)
    {
        await using var library = await SmallLibrary.OfAsync(0);
        await WriteAsync(library, 25, evidence);
        Assert.False((await DefaultAsync(library)).IsWrittenDown);
        Assert.True((await DefaultAsync(library, isInvented: true)).IsWrittenDown);
    }

    [Fact]
    public async Task Where_no_recording_is_asked_about_a_unit_with_nothing_but_invented_recordings_is_an_invented_one()
    {
        await using var library = await SmallLibrary.OfAsync(1);
        await WriteAsync(library, 25, evidence: """{ "isInvented": true, "against": [] }""");
        Assert.True((await library.Finder.DefaultAsync(Adult, SmallLibrary.Unit, TestContext.Current.CancellationToken)).IsInvented);
        await library.AddRealAsync("real-1");
        Assert.False((await library.Finder.DefaultAsync(Adult, SmallLibrary.Unit, TestContext.Current.CancellationToken)).IsWrittenDown);
    }

    [Fact]
    public async Task A_decision_whose_time_has_run_out_is_said_and_not_used_and_none_before_it_comes_back()
    {
        await using var library = await SmallLibrary.OfAsync(0);
        await WriteAsync(library, 10);
        await WriteAsync(library, 15, until: SmallLibrary.Now.AddMinutes(-1));
        var ended = await DefaultAsync(library);
        Assert.False(ended.IsWrittenDown);
        Assert.Equal(CategoryPresets.Adult.ToSettings(), ended.Set.Settings);
        Assert.Equal("the category's starting settings, for the unit’s own (written down 2026-03-10, accepted by ward lead) ended on 2026-03-10; look at it again", ended.From);
        await WriteAsync(library, 20, until: SmallLibrary.Now);
        Assert.Equal(SmallLibrary.InForce("adult", 20).Settings, (await DefaultAsync(library)).Set.Settings);
    }

    private static Task<KnownSettings> DefaultAsync(SmallLibrary library, bool isInvented = false) =>
        library.Finder.DefaultAsync(Adult, SmallLibrary.Unit, isInvented, TestContext.Current.CancellationToken);

    private static Task<SettingsEntry> WriteAsync(SmallLibrary library, int delaySeconds, string? evidence = null, DateTimeOffset? until = null) => library.Store.Settings.AddAsync(
        new NewSettingsEntry
        {
            Scope = SettingsScope.UnitDefault,
            Category = "adult",
            Unit = SmallLibrary.Unit,
            Name = "decided",
            SettingsJson = SettingsForm.JsonOf(SmallLibrary.InForce("adult", delaySeconds)),
            Why = "a test",
            AcceptedBy = "ward lead",
            EvidenceJson = evidence,
            ValidUntil = until,
        },
        Actor.Local, TestContext.Current.CancellationToken);

    [Fact]
    public async Task Something_that_is_no_settings_file_is_refused_with_the_recording_named()
    {
        await using var library = await SmallLibrary.OfAsync(1, (said, _) => said with { SettingsInForceJson = """{ "format": "stillwatch.marks/1" }""" });
        var all = await library.AllAsync();
        var stopped = Assert.Throws<StopException>(() => SettingsFinder.Present(all, Adult));
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
