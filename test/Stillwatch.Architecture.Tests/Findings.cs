namespace Stillwatch.Architecture.Tests;

/// <summary>A list of what a rule of the house found wrong, shown whole: a truncated one would have to be hunted for.</summary>
internal static class Findings
{
    public static void None(IEnumerable<string> found)
    {
        var all = found.Distinct().ToList();
        Assert.True(all.Count == 0, $"found {all.Count}, expected none:\n{string.Join('\n', all)}");
    }
}
