using System.Text.Json;
using System.Text.RegularExpressions;
using System.Xml.Linq;

namespace Stillwatch.Architecture.Tests;

/// <summary>Versions stand in one place, and every package's licence was read and is still the one we read.</summary>
public class PackageTests
{
    private const string LicencePage = "docs/licences.md";

    // What may be combined with and shipped beside our Apache-2.0.
    private static readonly string[] Welcome = ["MIT", "Apache-2.0", "BSD-2-Clause", "BSD-3-Clause", "ISC", "Zlib", "0BSD", "Unlicense", "PostgreSQL"];

    private static readonly IReadOnlyDictionary<string, string> Versions = XDocument.Parse(Checkout.Read("Directory.Packages.props"))
        .Descendants("PackageVersion")
        .ToDictionary(p => (string)p.Attribute("Include")!, p => (string)p.Attribute("Version")!);

    private static IEnumerable<string> BuildFiles => Checkout.Files("", ".csproj").Concat(Checkout.Files("", "Directory.Build.props"));

    [Fact]
    public void Package_versions_stand_only_in_the_central_file()
    {
        var elsewhere =
            from path in BuildFiles
            from package in XDocument.Parse(Checkout.Read(path)).Descendants("PackageReference")
            where package.Attribute("Version") is not null || package.Attribute("VersionOverride") is not null || package.Element("Version") is not null
            select $"{path}: {package.Attribute("Include")?.Value}";
        Findings.None(elsewhere);
        Assert.DoesNotContain(Checkout.Files("eng", ".cs"), path => Checkout.Read(path).Contains("#:package", StringComparison.Ordinal));
    }

    [Fact]
    public void Package_versions_are_exact() =>
        Assert.All(Versions, v => Assert.Matches(@"^\[?\d+\.\d+\.\d+(\.\d+)?(-[\w.]+)?\]?$", v.Value));

    [Fact]
    public void Every_central_version_is_used_by_a_project()
    {
        var used = BuildFiles.SelectMany(p => XDocument.Parse(Checkout.Read(p)).Descendants("PackageReference")).Select(p => (string)p.Attribute("Include")!);
        Findings.None(Versions.Keys.Except(used));
    }

    [Fact]
    public void The_table_of_licences_agrees_with_the_central_file()
    {
        var table = Tables.Rows(Checkout.Read(LicencePage), "package").Select(row => $"{row[0]} {row[1]}").Order(StringComparer.Ordinal);
        Assert.Equal(Versions.Select(v => $"{v.Key} {v.Value.Trim('[', ']')}").Order(StringComparer.Ordinal), table);
    }

    [Fact]
    public void Every_packages_own_file_states_the_licence_in_the_table()
    {
        foreach (var row in Tables.Rows(Checkout.Read(LicencePage), "package"))
        {
            Assert.Contains(row[2], Welcome);
            Assert.Equal(row[2], StatedLicence(row[0], row[1]));
        }
    }

    [Fact]
    public void Every_package_that_comes_along_has_a_welcome_licence()
    {
        var known = Tables.Rows(Checkout.Read(LicencePage), "comes along").ToDictionary(row => row[0], row => row[1]);
        var testsAlone = Tables.Rows(Checkout.Read(LicencePage), "tests alone").ToDictionary(row => row[0], row => row[1]);
        var all = Checkout.Projects("").SelectMany(Restored).Distinct().ToList();
        var shipped = Checkout.Projects("src").SelectMany(Restored).Distinct().ToHashSet();
        Assert.True(all.Count >= Versions.Count, "found fewer restored packages than named ones; expected a restored checkout");
        var unwelcome = all
            .Where(p => shipped.Contains(p) || testsAlone.GetValueOrDefault(p.Name) != StatedLicence(p.Name, p.Version))
            .Select(p => (p.Name, p.Version, Licence: known.GetValueOrDefault(p.Name) ?? StatedLicence(p.Name, p.Version)))
            .Where(p => !Welcome.Contains(p.Licence))
            .Select(p => $"{p.Name} {p.Version}: found '{p.Licence}', expected one of {string.Join(", ", Welcome)}; read it and, where it is one of them, list it in {LicencePage}");
        Findings.None(unwelcome);
    }

    /// <summary>The licence that the package itself states: an SPDX expression, or "file …" or "address …" for a person to read.</summary>
    private static string StatedLicence(string name, string version)
    {
        var folder = Environment.GetEnvironmentVariable("NUGET_PACKAGES")
            ?? Path.Combine(Environment.GetFolderPath(Environment.SpecialFolder.UserProfile), ".nuget", "packages");
        var path = Path.Combine(folder, name.ToLowerInvariant(), version, name.ToLowerInvariant() + ".nuspec");
        Assert.True(File.Exists(path), $"{name} {version}: found no {path}, expected what a restore leaves there");
        var metadata = XDocument.Load(path).Descendants().First(e => e.Name.LocalName == "metadata");
        var licence = metadata.Elements().FirstOrDefault(e => e.Name.LocalName == "license");
        if (licence is not null) return (string?)licence.Attribute("type") == "expression" ? licence.Value : $"file {licence.Value}";
        return $"address {metadata.Elements().FirstOrDefault(e => e.Name.LocalName == "licenseUrl")?.Value}";
    }

    private static IEnumerable<(string Name, string Version)> Restored(string project)
    {
        var path = Path.Combine(Checkout.Root, Path.GetDirectoryName(project)!, "obj", "project.assets.json");
        if (!File.Exists(path)) yield break;
        using var assets = JsonDocument.Parse(File.ReadAllText(path));
        foreach (var library in assets.RootElement.GetProperty("libraries").EnumerateObject())
        {
            if (library.Value.GetProperty("type").GetString() != "package") continue;
            var parts = library.Name.Split('/');
            yield return (parts[0], parts[1]);
        }
    }
}
