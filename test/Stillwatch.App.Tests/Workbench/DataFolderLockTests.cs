using Stillwatch.App.Commands;
using Stillwatch.App.Tests.Running;
using Stillwatch.App.Workbench;

namespace Stillwatch.App.Tests.Workbench;

/// <summary>Two workbenches on one data folder would empty each other's arrivals.</summary>
public sealed class DataFolderLockTests
{
    [Fact]
    public void A_second_workbench_is_refused_in_words_until_the_first_has_ended()
    {
        using var folder = new Folder();
        var first = DataFolderLock.Take(folder["data"]);
        var refused = Assert.Throws<StopException>(() => DataFolderLock.Take(folder["data"]));
        Assert.Equal(ExitCode.Unreadable, refused.ExitCode);
        Assert.Equal("another workbench that holds the data folder", refused.Trouble.Found);

        first.Dispose();
        using var second = DataFolderLock.Take(folder["data"]);
        Assert.NotNull(second);
    }

    [Fact]
    public void A_folder_that_cannot_be_made_is_named()
    {
        using var folder = new Folder();
        string file = folder.Write("file", "in the way");
        var refused = Assert.Throws<StopException>(() => DataFolderLock.Take(Path.Combine(file, "data")));
        Assert.Equal(Path.Combine(file, "data"), refused.Trouble.Where);
    }
}
