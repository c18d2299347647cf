using System.Text.RegularExpressions;

namespace Stillwatch.Architecture.Tests;

/// <summary>The rules of the house that a machine can hold. Each failure says where and what to do instead.</summary>
public class HouseTests
{
    private const int MostLines = 500;

    // pattern | where it is not wanted | what to do instead. Words are split so that this file does not find itself.
    private static readonly (Regex Pattern, string[] Folders, string Instead)[] Unwanted =
    [
        (Word("TO" + "DO"), ["src", "test", "bench", "eng"], "finish it, or write a decision page"),
        (Word("FIX" + "ME"), ["src", "test", "bench", "eng"], "fix it, or write a decision page"),
        (Word("NotImplemented" + "Exception"), ["src", "test", "bench", "eng"], "build it or leave it out"),
        (Word(@"Thread\." + "Sleep"), ["src", "test", "bench", "eng"], "move sample time, or wait for what you mean"),
        (Word(@"Task\." + "Delay"), ["src", "test", "bench"], "move sample time, or wait for what you mean"),
        (Word(@"Random\." + "Shared"), ["src", "test", "bench"], "a seeded generator, passed in, its seed printed"),
        (new Regex(@"new Random\(" + @"\)"), ["src", "test", "bench"], "a seeded generator, passed in, its seed printed"),
        (Word(@"DateTime(Offset)?\." + "(Now|UtcNow|Today)"), ["test"], "a fixed time: a test must not depend on the day it runs"),
        (new Regex(@"\bSkip\s*=" + @"\s*"""), ["test"], "run it or delete it; a missing recording is skipped at run time"),
        (new Regex(@"Assert\.True\(" + @"true\b"), ["test"], "an assertion that can fail"),
        (Word("Caller" + "FilePath"), ["src", "test", "bench", "eng"], "look for the checkout from the program's folder: a deterministic build knows no path of a source file"),
        (Word("Http" + "Client"), ["src", "test", "bench"], "nothing here speaks to a network"),
        (new Regex("#pragma " + @"warning disable(?!.*//)"), ["src", "test", "bench", "eng"], "mend the cause, or give the reason on the same line"),
    ];

    // It holds an example of each impurity, so that the check of the core can be seen to find it.
    private const string ImpureOnPurpose = "test/Stillwatch.Architecture.Tests/PurityTests.cs";

    private static readonly string[] Drawers = ["common", "util", "utils", "utilities", "helper", "helpers", "misc", "shared", "stuff"];

    private static readonly string[] OurFolders = ["src", "test", "bench", "eng"];

    [Fact]
    public void No_unwanted_words_in_the_sources()
    {
        var found =
            from rule in Unwanted
            from folder in rule.Folders
            from path in Checkout.Files(folder, ".cs")
            where path != ImpureOnPurpose
            from line in Checkout.Read(path).Split('\n').Select((text, index) => (text, index))
            where rule.Pattern.IsMatch(line.text)
            select $"{path}:{line.index + 1}: {line.text.Trim()} — instead: {rule.Instead}";
        Findings.None(found);
    }

    [Fact]
    public void No_source_file_is_longer_than_500_lines()
    {
        var tooLong = OurFolders.SelectMany(f => Checkout.Files(f, ".cs"))
            .Select(path => (path, lines: Checkout.Read(path).AsSpan().Count('\n')))
            .Where(f => f.lines > MostLines)
            .Select(f => $"{f.path}: {f.lines} lines; expected at most {MostLines}: split it by what it tells");
        Findings.None(tooLong);
    }

    [Fact]
    public void No_folder_or_file_is_a_drawer_for_odds_and_ends()
    {
        var drawers = OurFolders.SelectMany(f => Checkout.Files(f, ".cs"))
            .Where(path => path.Split('/').Select(p => Path.GetFileNameWithoutExtension(p)).Any(p => Drawers.Contains(p.ToLowerInvariant())))
            .Select(path => $"{path}: name the folder after what is in it");
        Findings.None(drawers);
    }

    [Fact]
    public void No_test_lies_in_a_project_that_is_not_run()
    {
        // A test class in a project outside the solution would never run, and nobody would notice.
        var solution = Checkout.Read("Stillwatch.slnx");
        var notRun = Checkout.Files("test", ".cs")
            .Where(path => Tests.Marker.IsMatch(Checkout.Read(path)))
            .Where(path => !solution.Contains(string.Join('/', path.Split('/').Take(2)) + "/", StringComparison.Ordinal));
        Findings.None(notRun);
    }

    [Fact]
    public void Scripts_are_executable_and_end_their_lines_as_bash_wants()
    {
        foreach (var script in new[] { "check", "eng/accuracy", "eng/measure", ".ci/run" })
        {
            if (!OperatingSystem.IsWindows())
                Assert.True(File.GetUnixFileMode(Path.Combine(Checkout.Root, script)).HasFlag(UnixFileMode.UserExecute), $"{script} is not executable: chmod +x {script}");
            Assert.DoesNotContain('\r', Checkout.Read(script));
        }
    }

    [Fact]
    public void Nothing_committed_names_a_path_of_somebodys_machine()
    {
        var machinePath = new Regex(@"(?<![\w.])/(home|Users|work|root)/\w");
        var found =
            from path in Checkout.Files("", "")
            where Path.GetExtension(path) is ".cs" or ".md" or ".csproj" or ".props" or ".slnx" or ".json" or ".py" or ".txt" or ".css" or ".svg" or ""
            from line in Checkout.Read(path).Split('\n').Select((text, index) => (text, index))
            where machinePath.IsMatch(line.text) && !line.text.Contains("machinePath", StringComparison.Ordinal)
            select $"{path}:{line.index + 1}: {line.text.Trim()}";
        Findings.None(found);
    }

    [Theory]
    [InlineData("// TO" + "DO later", true)]
    [InlineData("Thread." + "Sleep(5);", true)]
    [InlineData("[Fact(Skip" + " = \"flaky\")]", true)]
    [InlineData("string Here([Caller" + "FilePath] string file = \"\")", true)]
    [InlineData("#pragma " + "warning disable CA1822", true)]
    [InlineData("#pragma " + "warning disable CA5394 // seeded on purpose", false)]
    [InlineData("var random = new Random(7);", false)]
    [InlineData("var todos = methodology;", false)]
    public void The_check_itself_tells_unwanted_lines_from_others(string line, bool unwanted) =>
        Assert.Equal(unwanted, Unwanted.Any(rule => rule.Pattern.IsMatch(line)));

    private static Regex Word(string pattern) => new($@"\b{pattern}\b", RegexOptions.CultureInvariant);
}
