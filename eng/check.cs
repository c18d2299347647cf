// The whole check, step by step; ./check runs it. Every step leaves its full output in artifacts/check/.
// The last line is always "N passed, N failed"; the exit code is 0 only when nothing failed.

using System.Diagnostics;
using System.Globalization;
using System.Text.RegularExpressions;
using System.Xml.Linq;

// The one that Debian's packages belong to; another python3 may come first on the path.
const string peersPython = "/usr/bin/python3";

var known = new[] { "--full", "--write-docs", "--help" };
if (args.FirstOrDefault(a => !known.Contains(a)) is { } unknown)
{
    Console.Error.WriteLine($"check: found the option '{unknown}', expected --full, --write-docs or --help.");
    Console.WriteLine("0 passed, 1 failed");
    return 2;
}

if (args.Contains("--help"))
{
    Console.WriteLine("""
        ./check               what the tests need, formatting, build, tests, every benchmark tiny
        ./check --full        the same with the long forms: more seeds, 100 000 mutations, full benchmarks
        ./check --write-docs  writes the pages that are made from the sources (docs/rules-and-tests.md), checks nothing;
                              docs/accuracy.md is measured, not made: eng/accuracy --write-docs
        """);
    return 0;
}

bool full = args.Contains("--full");
bool inCi = string.Equals(Environment.GetEnvironmentVariable("CI"), "true", StringComparison.OrdinalIgnoreCase);
var root = Directory.GetCurrentDirectory();
if (!File.Exists(Path.Combine(root, "Stillwatch.slnx")))
{
    Console.Error.WriteLine($"check: found no Stillwatch.slnx in {root}, expected to be run from the checkout's root: ./check");
    Console.WriteLine("0 passed, 1 failed");
    return 2;
}

if (full) Environment.SetEnvironmentVariable("STILLWATCH_FULL", "1");
var house = new House(root, full);

if (args.Contains("--write-docs"))
{
    Environment.SetEnvironmentVariable("STILLWATCH_WRITE_DOCS", "1");
    house.Step("the pages made from the sources", "dotnet", "run", "--project", "test/Stillwatch.Architecture.Tests", "--", "--filter-method", "*The_page_of_rules_and_tests_is_up_to_date");
    return house.Finish();
}

House.Say($"Stillwatch check{(full ? ", long forms" : "")}{(inCi ? ", on a build agent (nothing may be skipped)" : "")}");
SayWhereTheRecordingsAre();
bool benchmarksCanRun = HavePythonPeers();
HaveOutsideReaders();
HavePostgres();
HaveBrowser();
HavePdfReader();

bool restored = house.Step("restore", "dotnet", "restore", "Stillwatch.slnx");
if (restored) house.Step("formatting", "dotnet", "format", "whitespace", "Stillwatch.slnx", "--verify-no-changes", "--no-restore");
if (restored && house.Step("build", "dotnet", "build", "Stillwatch.slnx", "--configuration", "Release", "--no-restore", "-warnaserror"))
{
    foreach (var project in TestProjects()) house.Tests(project);
    RunDemo();
    RunSecondReadings();
    RunAccuracy();
    RunMeasure();
    if (benchmarksCanRun) RunBenchmarks();
}
else
{
    House.Say("Tests, demo and benchmarks did not run: without a build there is nothing to run.");
}

return house.Finish();

IEnumerable<string> TestProjects() => XDocument.Load(Path.Combine(root, "Stillwatch.slnx"))
    .Descendants("Project")
    .Select(p => (string)p.Attribute("Path")!)
    .Where(p => p.StartsWith("test/", StringComparison.Ordinal));

void SayWhereTheRecordingsAre()
{
    var folder = Environment.GetEnvironmentVariable("STILLWATCH_DATA") ?? Path.Combine(root, "..", "shared", "data");
    if (Directory.Exists(folder))
        House.Say($"Open recordings: {Path.GetFullPath(folder)}");
    else
        House.Say($"Open recordings: none in {Path.GetFullPath(folder)} (STILLWATCH_DATA names another folder). Tests that need them {(inCi ? "fail" : "are skipped")}.");
}

// The benchmarks compare with scripts in numpy, numba and pandas, which Debian has as packages of its own Python.
// False: something is missing and could not be installed.
bool HavePythonPeers()
{
    string[] offered = ["numpy", "numba", "pandas", "scipy", "mne"];
    var scripts = Directory.Exists("bench") ? Directory.GetFiles("bench", "*.py", SearchOption.AllDirectories).Select(File.ReadAllText).ToList() : [];
    var needed = offered.Where(module => scripts.Any(text => Regex.IsMatch(text, $@"^\s*(import|from) {module}\b", RegexOptions.Multiline))).ToList();
    return Have("Python peers", () => needed.Count == 0 || Import(needed), string.Join(' ', needed.Select(module => "python3-" + module)),
        $"The benchmarks' peers need {peersPython} with {string.Join(", ", needed)}", "the benchmarks");
}

// Programs that are not ours read the files that we write: MNE, and BioSig's converter.
bool HaveOutsideReaders() => Have("outside readers of EDF+", () => Import(["mne"]) && House.Quiet("bash", "-c", "command -v save2gdf"), "python3-mne biosig-tools",
    $"The outside check of EDF+ needs {peersPython} with mne, and save2gdf of BioSig", "the test that compares our files with what those read");

// A program that is not ours reads the text of our PDFs.
bool HavePdfReader() => Have("outside reader of PDF", () => House.Quiet("bash", "-c", "command -v pdftotext"), "poppler-utils",
    "The outside check of PDFs needs pdftotext", "the tests that read the text of pages to hand over");

// The workbench is tried in a real browser.
bool HaveBrowser() => Have("browser", () => House.Quiet("bash", "-c", "[ -n \"$STILLWATCH_BROWSER\" ] || command -v chromium"), "chromium",
    "The tests of the workbench need a browser (Debian's chromium, or one named by STILLWATCH_BROWSER)", "the tests that use the workbench as a person would");

// The store's behaviour is tested on PostgreSQL too; the tests start a server of their own, in a private folder and without a network.
bool HavePostgres() => Have("PostgreSQL", () => House.Quiet("bash", "-c", "ls /usr/lib/postgresql/*/bin/initdb || command -v initdb"), "postgresql",
    "The store's tests need PostgreSQL's programs (initdb, pg_ctl)", "the tests of the store on PostgreSQL");

// Installs what is missing, where that is allowed; says what to do where it is not.
bool Have(string name, Func<bool> isThere, string packages, string need, string skipped)
{
    if (isThere())
    {
        house.Passed(name);
        return true;
    }

    bool isRoot = Environment.UserName == "root";
    // Only a build agent is asked for sudo: on a person's own machine nothing is installed behind their back.
    bool maySudo = !isRoot && inCi && House.Quiet("sudo", "-n", "true");
    if (House.Quiet("bash", "-c", "command -v apt-get") && (isRoot || maySudo))
    {
        Environment.SetEnvironmentVariable("DEBIAN_FRONTEND", "noninteractive");
        string sudo = isRoot ? "" : "sudo -n -E ";
        // Package lists on a fresh machine are empty or stale: update first, and try without when a mirror is out of reach.
        house.Run("install " + name, "bash", ["-c", $"{sudo}apt-get update -q; {sudo}apt-get install -y -q --no-install-recommends python3 {packages}"]);
        if (isThere())
        {
            house.Passed(name + " (installed)");
            return true;
        }
    }

    string missing = $"{need}; on Debian, as root: apt-get install python3 {packages}";
    if (inCi) house.Failed(name, missing);
    else House.Say($"{missing}\nSkipped here: {skipped}. A build agent (CI=true) fails instead.");
    return false;
}

bool Import(IEnumerable<string> modules) => House.Quiet(peersPython, "-c", "import " + string.Join(", ", modules));

// The README's first command, on what was just built, in a folder of its own.
void RunDemo()
{
    var folder = Path.Combine(root, "artifacts", "check", "demo");
    if (Directory.Exists(folder)) Directory.Delete(folder, recursive: true);
    Directory.CreateDirectory(folder);
    var program = Path.Combine(root, "src", "Stillwatch.App", "bin", "Release", "net10.0", "stillwatch.dll");
    if (!house.Step("demo", "bash", "-c", "cd \"$1\" && exec dotnet \"$2\" demo", "demo", folder, program)) return;
    var reports = Directory.GetFiles(folder, "*.html", SearchOption.AllDirectories);
    if (reports.Length == 0) house.Failed("demo wrote its report", $"Found no .html below {folder}; expected the report of the invented ward.");
    else if (!reports.All(r => File.ReadAllText(r).Contains("invented", StringComparison.OrdinalIgnoreCase))) house.Failed("demo wrote its report", "Its page does not say that the data are invented.");
    else house.Passed("demo wrote its report, which says that it is invented");
}

// What the program prints, read a second time in Python of its own: the rules, and light.
void RunSecondReadings()
{
    SecondReading("second reading of the rules", "test/outside/rules_twin.py");
    SecondReading("second reading of light", "test/outside/light_twin.py", "numpy", "scipy");
}

void SecondReading(string name, string script, params string[] modules)
{
    if (modules.Length == 0 ? !House.Quiet(peersPython, "-c", "pass") : !Import(modules))
    {
        string with = string.Join(", ", modules);
        string missing = $"{name}: needs {peersPython}{(modules.Length > 0 ? $" with {with}" : "")}; on Debian, as root: apt-get install python3 {string.Join(' ', modules.Select(m => "python3-" + m))}";
        if (inCi) house.Failed(name, missing);
        else House.Say($"{missing}\nSkipped here. A build agent (CI=true) fails instead.");
        return;
    }

    house.Step(name, peersPython, script, Path.Combine(root, "src", "Stillwatch.App", "bin", "Release", "net10.0", "stillwatch.dll"));
}

// docs/accuracy.md beside a new measurement of every row.
void RunAccuracy()
{
    const string Name = "accuracy table";
    const int DataAreMissing = 3;
    var (exit, log, seconds) = house.Run(Name, "dotnet", [Path.Combine(root, "eng", "Stillwatch.Accuracy", "bin", "Release", "net10.0", "Stillwatch.Accuracy.dll"), "--verify"]);
    if (exit == 0 || (exit == DataAreMissing && !inCi)) house.Passed($"{Name} ({seconds:0} s){(exit == 0 ? "" : "; rows on open recordings are skipped, for those are not on this machine")}");
    else house.Failed($"{Name} (exit code {exit})", File.ReadAllText(log));
}

// What a person waits for in a browser: once, so that it still runs; nothing is judged by the clock.
void RunMeasure()
{
    const string Name = "measure of the workbench, once";
    const int NoBrowser = 3;
    var (exit, log, seconds) = house.Run(Name, "dotnet", [Path.Combine(root, "eng", "Stillwatch.Measure", "bin", "Release", "net10.0", "Stillwatch.Measure.dll"), "--rounds", "1"]);
    if (exit == 0 || (exit == NoBrowser && !inCi)) house.Passed($"{Name} ({seconds:0} s){(exit == 0 ? "" : "; skipped, for there is no browser on this machine")}");
    else house.Failed($"{Name} (exit code {exit})", File.ReadAllText(log));
}

void RunBenchmarks()
{
    if (!Directory.Exists(Path.Combine(root, "bench", "Stillwatch.Bench"))) return;
    string[] command = ["run", "--configuration", "Release", "--no-build", "--project", "bench/Stillwatch.Bench", "--", "all"];
    house.Step(full ? "benchmarks" : "benchmarks, tiny", "dotnet", full ? command : [.. command, "--tiny"]);
}

/// <summary>Runs steps, keeps their output, counts.</summary>
internal sealed class House(string root, bool full)
{
    // Named, so that the normal run stays short; nothing fails by the clock.
    private const double SlowSeconds = 15;

    // Long enough for the slowest honest step, short enough that a hang is noticed the same day.
    private readonly TimeSpan stepLimit = full ? TimeSpan.FromHours(6) : TimeSpan.FromMinutes(15);
    private readonly string logs = Directory.CreateDirectory(Path.Combine(root, "artifacts", "check")).FullName;
    private readonly Stopwatch watch = Stopwatch.StartNew();
    private readonly List<string> failures = [];
    private int passed;
    private int failed;
    private int skipped;

    public static void Say(string text) => Console.WriteLine(text);

    public void Passed(string what)
    {
        passed++;
        Say($"  passed  {what}");
    }

    public void Failed(string what, string why)
    {
        failed++;
        failures.Add(what);
        Say($"  FAILED  {what}\n{Indent(why)}");
    }

    /// <summary>A command that counts as one: passed when it exits with 0.</summary>
    public bool Step(string name, string program, params string[] arguments)
    {
        var (exit, log, seconds) = Run(name, program, arguments);
        if (exit == 0) Passed($"{name} ({seconds:0} s)");
        else Failed($"{name} ({Exit(exit)}; whole output: {Shown(log)})", Tail(log, 60));
        return exit == 0;
    }

    /// <summary>A test project: each of its tests counts, and a run that breaks off or tests nothing counts as one failure.</summary>
    public void Tests(string project)
    {
        var name = Path.GetFileNameWithoutExtension(project);
        var program = Path.Combine(root, Path.GetDirectoryName(project)!, "bin", "Release", "net10.0", name + ".dll");
        var results = Path.Combine(logs, name + ".trx");
        File.Delete(results);
        var (exit, log, seconds) = Run(name, "dotnet", [program, "--progress", "off", "--no-ansi", "--results-directory", logs, "--report-xunit-trx", "--report-xunit-trx-filename", name + ".trx"]);
        if (!File.Exists(results))
        {
            Failed($"{name} wrote no results ({Exit(exit)}; whole output: {Shown(log)})", Tail(log, 60));
            return;
        }

        var tests = XDocument.Load(results).Descendants().Where(e => e.Name.LocalName == "UnitTestResult").ToList();
        int Count(string outcome) => tests.Count(t => (string?)t.Attribute("outcome") == outcome);
        int good = Count("Passed");
        int left = Count("NotExecuted");
        int bad = tests.Count - good - left;
        passed += good;
        failed += bad;
        skipped += left;
        Say($"  {(bad == 0 && good > 0 ? "passed " : "FAILED ")} {name}: {good} passed, {bad} failed, {left} skipped ({seconds:0} s)");
        foreach (var test in tests.Where(t => (string?)t.Attribute("outcome") is not ("Passed" or "NotExecuted")))
        {
            failures.Add((string?)test.Attribute("testName") ?? name);
            Say($"  FAILED  {test.Attribute("testName")?.Value}\n{Indent(Head(TextOf(test), 40))}");
        }

        foreach (var test in tests.Where(t => (string?)t.Attribute("outcome") == "NotExecuted"))
            Say($"  skipped {test.Attribute("testName")?.Value}: {Head(TextOf(test), 1)}");

        foreach (var test in tests.Where(t => SecondsOf(t) > SlowSeconds))
            Say($"  slow    {test.Attribute("testName")?.Value} ({SecondsOf(test):0} s)");

        if (good + bad == 0) Failed($"{name} ran no test", "Expected at least one: a project that tests nothing looks like one that passes.");
        else if (exit != 0 && bad == 0) Failed($"{name} ended with {Exit(exit)} although no test failed (whole output: {Shown(log)})", Tail(log, 30));
    }

    public int Finish()
    {
        var minutes = watch.Elapsed.TotalMinutes.ToString("0.0", CultureInfo.InvariantCulture);
        Say($"\n{minutes} minutes{(skipped > 0 ? $", {skipped} skipped" : "")}; full output in {Shown(logs)}");
        if (failures.Count > 0) Say("Failed:\n" + string.Join('\n', failures.Select(f => "  " + f)));
        Console.WriteLine($"{passed} passed, {failed} failed");
        return failed == 0 ? 0 : 1;
    }

    /// <summary>Runs a command to its end or the limit, without input, its output in a file: no pipe that a left-over child could hold open.</summary>
    public (int Exit, string Log, double Seconds) Run(string name, string program, string[] arguments)
    {
        var log = Path.Combine(logs, string.Concat(name.Select(c => char.IsLetterOrDigit(c) || c == '.' ? c : '-')) + ".log");
        Say($"          {name} …");
        var clock = Stopwatch.StartNew();
        var start = new ProcessStartInfo("bash") { WorkingDirectory = root };
        foreach (var argument in (string[])["-c", "log=$1; shift; exec \"$@\" >\"$log\" 2>&1 </dev/null", "check", log, program, .. arguments]) start.ArgumentList.Add(argument);
        using var process = Process.Start(start) ?? throw new InvalidOperationException("bash did not start.");
        if (process.WaitForExit(stepLimit)) return (process.ExitCode, log, clock.Elapsed.TotalSeconds);
        process.Kill(entireProcessTree: true);
        process.WaitForExit();
        File.AppendAllText(log, $"\nstopped after {stepLimit.TotalMinutes:0} minutes\n");
        return (-1, log, clock.Elapsed.TotalSeconds);
    }

    /// <summary>Whether a command exists and exits with 0; its output is dropped.</summary>
    public static bool Quiet(string program, params string[] arguments)
    {
        var start = new ProcessStartInfo("bash");
        foreach (var argument in (string[])["-c", "exec \"$@\" >/dev/null 2>&1 </dev/null", "check", program, .. arguments]) start.ArgumentList.Add(argument);
        using var process = Process.Start(start);
        process?.WaitForExit();
        return process?.ExitCode == 0;
    }

    private static string Exit(int code) => code == -1 ? "took too long" : $"exit code {code}";

    private string Shown(string path) => Path.GetRelativePath(root, path);

    // Tests of hostile input print what they choke on: it must not reach a terminal as it stands.
    private static string TextOf(XElement test) => string.Concat(
        string.Join('\n', test.Descendants().Where(e => e.Name.LocalName is "Message" or "StackTrace" or "StdOut").Select(e => e.Value.Trim()))
            .Select(c => (char.IsControl(c) && c != '\n') || char.IsSurrogate(c) ? '?' : c));

    private static double SecondsOf(XElement test) =>
        TimeSpan.TryParse((string?)test.Attribute("duration"), CultureInfo.InvariantCulture, out var length) ? length.TotalSeconds : 0;

    private static string Tail(string file, int lines) => string.Join('\n', File.ReadLines(file).TakeLast(lines));

    private static string Head(string text, int lines) => string.Join('\n', text.Split('\n').Take(lines));

    private static string Indent(string text) => "          " + text.TrimEnd().Replace("\n", "\n          ", StringComparison.Ordinal);
}
