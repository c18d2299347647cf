namespace Stillwatch.Testing;

/// <summary>Open recordings made by others, read in place: beside the checkout, or where STILLWATCH_DATA points.</summary>
internal static class OpenRecordings
{
    /// <summary>The path of a file. Without the folder the test is skipped on a laptop and fails in CI.</summary>
    public static string Path(string relative)
    {
        string path = System.IO.Path.Combine(Folder() ?? "", relative);
        if (File.Exists(path)) return path;
        if (Environment.GetEnvironmentVariable("CI") == "true") Assert.Fail($"Open recording {relative} is missing; expected under ../shared/data or STILLWATCH_DATA.");
        Assert.Skip($"Open recording {relative} is not on this machine.");
        return path;
    }

    private static string? Folder()
    {
        if (Environment.GetEnvironmentVariable("STILLWATCH_DATA") is { Length: > 0 } told) return told;
        for (var folder = new DirectoryInfo(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
        {
            if (File.Exists(System.IO.Path.Combine(folder.FullName, "Stillwatch.slnx")))
                return System.IO.Path.Combine(folder.Parent?.FullName ?? "/", "shared", "data");
        }

        return null;
    }
}
