namespace Stillwatch.Tests.Alarms;

/// <summary>Where the text tables lie, and their lines without comments.</summary>
internal static class RuleTables
{
    public static string RepositoryRoot { get; } = FindRoot();

    public static string PathOf(string file) => Path.Combine(RepositoryRoot, "test", "rules", file);

    public static IEnumerable<string[]> Lines(string file) =>
        from line in File.ReadLines(PathOf(file))
        where line.Length > 0 && line[0] != '#'
        select line.Split('|', StringSplitOptions.TrimEntries);

    private static string FindRoot()
    {
        for (var folder = new DirectoryInfo(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
        {
            if (File.Exists(Path.Combine(folder.FullName, "Stillwatch.slnx"))) return folder.FullName;
        }

        throw new InvalidOperationException($"No Stillwatch.slnx found above {AppContext.BaseDirectory}.");
    }
}
