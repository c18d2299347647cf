using System.Text.RegularExpressions;

namespace Stillwatch.Architecture.Tests;

/// <summary>The test sources of all projects, as text.</summary>
internal static class Tests
{
    public static readonly Regex Marker = new(@"\[(Fact|Theory)\b", RegexOptions.CultureInvariant);

    private static readonly Regex Method = new(@"\[(?:Fact|Theory)\b.*?\bpublic\s+(?:static\s+)?(?:async\s+)?[\w<>.]+\s+(?<name>\w+)\s*\(", RegexOptions.Singleline | RegexOptions.CultureInvariant);

    private static readonly Regex Class = new(@"\bclass\s+(?<name>\w+)", RegexOptions.CultureInvariant);

    private static readonly Regex Case = new(@"^\s*(?<name>[a-z]+[a-z0-9-]*-\d+) +\|", RegexOptions.Multiline | RegexOptions.CultureInvariant);

    /// <summary>Files that hold tests, and the text tables that tests read.</summary>
    public static IReadOnlyList<string> Files { get; } =
        [.. Checkout.Files("test", ".cs").Where(f => Marker.IsMatch(Checkout.Read(f))), .. Checkout.Files("test", ".txt")];

    /// <summary>Names of test methods, of the classes in files that hold tests, and of the lines of case tables ("valid-1").</summary>
    public static IReadOnlySet<string> Names { get; } = Files
        .Select(Checkout.Read)
        .SelectMany(text => Method.Matches(text).Concat(Class.Matches(text)).Concat(Case.Matches(text)).Select(m => m.Groups["name"].Value))
        .ToHashSet();
}
