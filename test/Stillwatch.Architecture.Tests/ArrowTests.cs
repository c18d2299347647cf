using System.Xml.Linq;

namespace Stillwatch.Architecture.Tests;

/// <summary>App → Reports, Formats, Storage → core; nothing else. Held twice: in the project files and in what the compiler made of them.</summary>
public class ArrowTests
{
    // project | its assembly | the projects it may know
    private const string Arrows = """
        Stillwatch          | Stillwatch.Core    |
        Stillwatch.Formats  | Stillwatch.Formats | Stillwatch
        Stillwatch.Reports  | Stillwatch.Reports | Stillwatch
        Stillwatch.Storage  | Stillwatch.Storage | Stillwatch
        Stillwatch.App      | stillwatch         | Stillwatch Stillwatch.Formats Stillwatch.Reports Stillwatch.Storage
        """;

    // What the pure core may stand on: types, collections, sums over spans. Nothing that opens, sends, waits or asks the clock.
    // (The last is where the compiler finds what it fills a List with; PurityTests watches what else is in it.)
    private static readonly string[] CoreStandsOn =
        ["System.Runtime", "System.Collections", "System.Collections.Immutable", "System.Linq", "System.Memory", "System.Runtime.Numerics", "System.Numerics.Vectors", "System.Runtime.Intrinsics", "System.Runtime.InteropServices", "MathNet.Numerics", "System.Numerics.Tensors"];

    private sealed record Row(string Project, string Assembly, string[] MayKnow);

    private static readonly Row[] Table = [.. Arrows.Split('\n').Select(line => line.Split('|', StringSplitOptions.TrimEntries))
        .Select(c => new Row(c[0], c[1], c[2].Split(' ', StringSplitOptions.RemoveEmptyEntries)))];

    [Fact]
    public void Every_project_under_src_has_a_line_in_the_table_of_arrows() =>
        Assert.Equal(Table.Select(r => $"src/{r.Project}/{r.Project}.csproj").Order(StringComparer.Ordinal), Checkout.Projects("src"));

    [Fact]
    public void Project_files_hold_no_arrow_outside_the_table()
    {
        var outside = Table.SelectMany(row => Referenced($"src/{row.Project}/{row.Project}.csproj")
            .Where(known => !row.MayKnow.Contains(known))
            .Select(known => $"{row.Project} → {known}"));
        Findings.None(outside);
    }

    [Fact]
    public void Assemblies_hold_no_arrow_outside_the_table()
    {
        var outside = Table.SelectMany(row => AssemblyFacts.Of(row.Assembly + ".dll").References
            .Where(name => name.StartsWith("stillwatch", StringComparison.OrdinalIgnoreCase))
            .Where(name => !row.MayKnow.Any(known => Table.Single(r => r.Project == known).Assembly == name))
            .Select(name => $"{row.Project} → {name}"));
        Findings.None(outside);
    }

    [Fact]
    public void The_core_stands_on_two_numeric_packages_alone()
    {
        // Transforms, statistics and sums over spans: pure, managed, and better kept than our own would be.
        var packages = XDocument.Parse(Checkout.Read("src/Stillwatch/Stillwatch.csproj")).Descendants("PackageReference").Select(p => (string)p.Attribute("Include")!);
        Findings.None(packages.Except(["MathNet.Numerics", "System.Numerics.Tensors"]));
    }

    [Fact]
    public void The_core_stands_on_few_platform_assemblies() =>
        Findings.None(AssemblyFacts.Of("Stillwatch.Core.dll").References.Except(CoreStandsOn));

    [Fact]
    public void Every_project_is_part_of_the_solution()
    {
        var listed = XDocument.Parse(Checkout.Read("Stillwatch.slnx")).Descendants("Project").Select(p => (string)p.Attribute("Path")!).Order(StringComparer.Ordinal);
        Assert.Equal(Checkout.Projects(""), listed);
    }

    [Fact]
    public void Nothing_that_ships_knows_the_tests_or_benchmarks()
    {
        var outside = Checkout.Projects("src").SelectMany(p => References(p).Where(r => !r.StartsWith("../", StringComparison.Ordinal) || r.Contains("/test/", StringComparison.Ordinal) || r.Contains("/bench/", StringComparison.Ordinal)));
        Findings.None(outside);
    }

    private static IEnumerable<string> Referenced(string project) => References(project).Select(r => Path.GetFileNameWithoutExtension(r));

    private static IEnumerable<string> References(string project) =>
        XDocument.Parse(Checkout.Read(project)).Descendants("ProjectReference").Select(p => ((string)p.Attribute("Include")!).Replace('\\', '/'));
}
