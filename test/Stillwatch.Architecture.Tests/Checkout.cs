
namespace Stillwatch.Architecture.Tests;

/// <summary>The checkout under test: where it is, and the files that are ours (not what a build leaves behind).</summary>
internal static class Checkout
{
    private static readonly string[] LeftByBuilds = ["bin", "obj", "artifacts", "TestResults", "BenchmarkDotNet.Artifacts", "stillwatch-demo", ".git", ".vs", ".idea", "__pycache__"];

    public static readonly string Root = FindRoot();

    public static string Read(string path) => File.ReadAllText(Path.Combine(Root, path));

    public static bool Holds(string path) => Path.Exists(Path.Combine(Root, path));

    /// <summary>Our files with this ending below a folder ("" for all), as paths from the root with forward slashes, in order.</summary>
    public static IReadOnlyList<string> Files(string folder, string ending)
    {
        var start = Path.Combine(Root, folder);
        if (!Directory.Exists(start)) return [];
        return [.. Walk(start)
            .Where(f => f.EndsWith(ending, StringComparison.Ordinal))
            .Select(f => Path.GetRelativePath(Root, f).Replace('\\', '/'))
            .Order(StringComparer.Ordinal)];
    }

    public static IReadOnlyList<string> Projects(string folder) => Files(folder, ".csproj");

    private static IEnumerable<string> Walk(string folder)
    {
        foreach (var file in Directory.EnumerateFiles(folder)) yield return file;
        foreach (var child in Directory.EnumerateDirectories(folder))
        {
            if (LeftByBuilds.Contains(Path.GetFileName(child))) continue;
            foreach (var file in Walk(child)) yield return file;
        }
    }

    // The path of this source file is no use in a deterministic build on an agent (it is mapped to /_/): look upwards from the assembly.
    private static string FindRoot()
    {
        for (string? folder = AppContext.BaseDirectory; !string.IsNullOrEmpty(folder); folder = Path.GetDirectoryName(folder))
        {
            if (File.Exists(Path.Combine(folder, "Stillwatch.slnx"))) return folder;
        }

        throw new InvalidOperationException($"Found no Stillwatch.slnx above {AppContext.BaseDirectory}; expected the tests to lie in a checkout.");
    }
}
