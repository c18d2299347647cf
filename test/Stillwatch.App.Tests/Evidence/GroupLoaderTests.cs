using Stillwatch.App.Tests.Running;
using Stillwatch.Rehearsal;
using Stillwatch.Storage;
using Stillwatch.Storage.Recordings;
using Stillwatch.Time;
using Stillwatch.Tuning.MustCatch;
using Xunit;

namespace Stillwatch.App.Tests.Evidence;

/// <summary>Results lead back to the right recording, and marks to theirs.</summary>
public class GroupLoaderTests
{
    [Fact]
    public async Task Two_recordings_of_one_file_name_are_kept_apart_and_each_has_its_own_marks()
    {
        await using var library = await SmallLibrary.OfAsync(0);
        var nights = DemoWard.Compose(nightSeconds: 3600).Patients[0].Nights;
        await library.AddAsync(nights[0].Recording, "night.csv", new RecordingDescription { Patient = "P1", Category = "adult" });
        var second = await library.AddAsync(nights[1].Recording, "night.csv", new RecordingDescription { Patient = "P2", Category = "adult" });
        var mark = new ReviewMark("AB", new TimeSlice(SampleTime.FromSeconds(10), SampleTime.FromSeconds(20)), MarkVerdict.Artefact);
        await library.Store.Marks.AddAsync(second, mark, Actor.Local, TestContext.Current.CancellationToken);
        long withdrawn = await library.Store.Marks.AddAsync(second, new ReviewMark("AB", mark.Span, MarkVerdict.CannotTell), Actor.Local, TestContext.Current.CancellationToken);
        await library.Store.Marks.WithdrawAsync(withdrawn, Actor.Local, TestContext.Current.CancellationToken);

        var ready = await library.Loader.LoadAsync(await library.AllAsync(), new SmallLibrary.Silence(), TestContext.Current.CancellationToken);

        Assert.Equal(["night.csv", $"night.csv ({second.Text[..8]})"], ready.Loaded.Recordings.Select(r => r.File.Name));
        Assert.Equal(["P1", "P2"], ready.Loaded.Recordings.Select(r => ready.ByName[r.File.Name].Description.Patient!));
        Assert.Empty(ready.Marks.MarksOn("night.csv"));
        Assert.Equal(mark, Assert.Single(ready.Marks.MarksOn($"night.csv ({second.Text[..8]})")));
    }

    [Fact]
    public async Task Categories_of_which_no_settings_are_known_are_judged_beside_those_of_which_they_are()
    {
        await using var library = await SmallLibrary.OfAsync(10, (said, _) => said.Category == "hypercapnic" ? said with { SettingsInForceJson = null } : said, nightSeconds: 2400);
        var groups = (await library.EvidenceAsync()).Groups;
        Assert.All(groups, g => Assert.Equal(g.Group.Category.Name == "hypercapnic", g.Present is null));
        Assert.Contains(groups, g => g.Present is null);
    }
}
