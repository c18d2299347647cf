using Stillwatch.App.Commands;
using Stillwatch.App.Tests.Running;
using Stillwatch.App.Workbench.Library;
using Stillwatch.App.Workbench.Recordings;
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
    public async Task Real_and_invented_recordings_are_never_counted_together_and_real_ones_come_first()
    {
        await using var library = await SmallLibrary.OfAsync(1);
        var night = DemoWard.Compose(nightSeconds: 3600).Patients[1].Nights[0];
        var invented = await library.AllAsync();
        Assert.Equal(invented, LibraryChoice.OfOneKind(invented, invented: false)); // alone, they are what is looked at
        var real = await library.AddAsync(night.Recording, "real.csv", new RecordingDescription { Patient = "P1", Category = "adult" }, isInvented: false);
        var all = await library.AllAsync();

        Assert.True(LibraryChoice.HasBothKinds(all));
        Assert.Equal(real, Assert.Single(LibraryChoice.OfOneKind(all, invented: false)).Id);
        Assert.Equal(invented.Select(r => r.Id), LibraryChoice.OfOneKind(all, invented: true).Select(r => r.Id));
        var mixed = await Assert.ThrowsAsync<StopException>(() => library.Loader.LoadAsync(all, new SmallLibrary.Silence(), TestContext.Current.CancellationToken));
        Assert.Equal("1 real and 2 invented", mixed.Trouble.Found);
    }

    [Theory]
    [InlineData("adult", "Adult without a lower prescribed target")]
    [InlineData("paediatric:8mo", "Child, 6–9 months (8 months)")]
    [InlineData("paediatric:4y", "Child, 4–6 years (4 years)")]
    [InlineData("something else", "something else")]
    public void A_category_is_said_in_words(string name, string words) => Assert.Equal(words, RecordingLine.CategoryWords(name));

    [Fact]
    public async Task Categories_of_which_no_settings_are_known_are_judged_beside_those_of_which_they_are()
    {
        await using var library = await SmallLibrary.OfAsync(10, (said, _) => said.Category == "hypercapnic" ? said with { SettingsInForceJson = null } : said, nightSeconds: 2400);
        var groups = (await library.EvidenceAsync()).Groups;
        Assert.All(groups, g => Assert.Equal(g.Group.Category.Name == "hypercapnic", g.Present is null));
        Assert.Contains(groups, g => g.Present is null);
    }
}
