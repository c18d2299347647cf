using System.Text.RegularExpressions;
using Clock = System.DateTime;

namespace Stillwatch.Architecture.Tests;

/// <summary>
/// The core has no clock, files, network, threads or randomness of its own. Held twice: in the compiled metadata, where an
/// alias cannot hide a name, and in the source text, where the reader sees at once what is meant.
/// </summary>
public class PurityTests
{
    // A name ending in '.' is a whole namespace. After '|': what of it is allowed all the same, and why.
    private const string ImpureTypes = """
        System.IO.                          | System.IO.InvalidDataException: an exception, opens nothing
        System.Net.                         |
        System.Data.                        |
        System.Threading.                   | System.Threading.CancellationToken: asked, never waited for
        System.Timers.                      |
        System.Diagnostics.Stopwatch        |
        System.Diagnostics.Process          |
        System.Diagnostics.Debugger         |
        System.TimeProvider                 |
        System.TimeZoneInfo                 |
        System.Console                      |
        System.AppContext                   |
        System.AppDomain                    |
        System.Activator                    |
        System.Security.Cryptography.       |
        System.Runtime.InteropServices.Marshal |
        System.Runtime.InteropServices.NativeLibrary |
        System.Runtime.InteropServices.GCHandle |
        Microsoft.Win32.                    |
        """;

    // type.member, and the number of parameters where it matters ('*': any).
    private const string ImpureMembers = """
        System.DateTime.get_Now              *
        System.DateTime.get_UtcNow           *
        System.DateTime.get_Today            *
        System.DateTime.ToLocalTime          *
        System.DateTime.ToUniversalTime      *
        System.DateTimeOffset.get_Now        *
        System.DateTimeOffset.get_UtcNow     *
        System.DateTimeOffset.ToLocalTime    *
        System.DateTimeOffset.get_LocalDateTime *
        System.Guid.NewGuid                  *
        System.Guid.CreateVersion7           *
        System.Random.get_Shared             *
        System.Random..ctor                  0
        System.GC.Collect                    *
        """;

    // For Environment it is the other way round: an iterator written with 'yield' asks for its thread's number, nothing else may be asked.
    private const string OnlyEnvironmentMember = "get_CurrentManagedThreadId";

    private static readonly Regex ImpureText = new(
        @"\b(DateTime(Offset)?\.(Now|UtcNow|Today)|Stopwatch|TimeProvider|HttpClient|Environment\.|Console\.|File\.|Directory\.|FileStream|StreamReader|StreamWriter"
        + @"|Thread\b|Task\b|Parallel\b|Monitor\.|Interlocked\.|new Random\(\)|Random\.Shared|Guid\.NewGuid|DllImport|LibraryImport|ThreadStatic|async\s|await\s)",
        RegexOptions.CultureInvariant);

    private static readonly AssemblyFacts Core = AssemblyFacts.Of("Stillwatch.Core.dll");

    [Fact]
    public void The_core_refers_to_no_type_that_opens_sends_waits_or_asks_the_clock() => Findings.None(ImpureTypesIn(Core));

    [Fact]
    public void The_core_calls_nothing_that_asks_the_clock_or_draws_unseeded_numbers() => Findings.None(ImpureMembersIn(Core));

    [Fact]
    public void The_core_calls_no_native_code() => Findings.None(Core.NativeCalls);

    [Fact]
    public void The_core_keeps_no_static_state_that_can_change() => Findings.None(Core.ChangeableStatics);

    [Fact]
    public void The_cores_source_text_names_nothing_impure()
    {
        var found = Checkout.Files("src/Stillwatch", ".cs").SelectMany(path => SourceText.CodeLines(path)
            .Where(line => ImpureText.IsMatch(line.Text))
            .Select(line => $"{path}:{line.Number}: {line.Text.Trim()}"));
        Findings.None(found);
    }

    [Fact]
    public void The_check_itself_sees_through_an_alias()
    {
        // ImpureProbe, below, hides a clock behind an alias and a file behind a static call.
        var here = AssemblyFacts.Of("Stillwatch.Architecture.Tests.dll");
        Assert.Contains("System.DateTime.get_UtcNow(0)", ImpureMembersIn(here));
        Assert.Contains("System.Random..ctor(0)", ImpureMembersIn(here));
        Assert.Contains("System.Environment.get_MachineName(0)", ImpureMembersIn(here));
        Assert.Contains("System.IO.File", ImpureTypesIn(here));
        Assert.Contains("ImpureProbe.calls", here.ChangeableStatics);
        Assert.Matches(ImpureText, "var now = DateTime.UtcNow;");
    }

    private static IEnumerable<string> ImpureTypesIn(AssemblyFacts assembly)
    {
        var rules = ImpureTypes.Split('\n').Select(l => l.Split('|', StringSplitOptions.TrimEntries)).ToList();
        return assembly.Types.Where(type => rules.Any(rule =>
            (rule[0].EndsWith('.') ? type.StartsWith(rule[0], StringComparison.Ordinal) : type == rule[0] || type.StartsWith(rule[0] + ".", StringComparison.Ordinal))
            && rule[1].Split(':')[0] != type));
    }

    private static IEnumerable<string> ImpureMembersIn(AssemblyFacts assembly)
    {
        var rules = ImpureMembers.Split('\n').Select(l => l.Split(' ', StringSplitOptions.RemoveEmptyEntries)).ToList();
        return assembly.Members.Where(member =>
                (member.Type == "System.Environment" && member.Name != OnlyEnvironmentMember)
                || rules.Any(rule => rule[0] == $"{member.Type}.{member.Name}" && (rule[1] == "*" || rule[1] == $"{member.Parameters}")))
            .Select(m => m.ToString());
    }

    /// <summary>What the core must not do, done on purpose, so that the check can be seen to find it. Never run.</summary>
    internal static class ImpureProbe
    {
        private static int calls;

        internal static string Ask()
        {
            calls++;
            return $"{Clock.UtcNow} {new Random().Next()} {Environment.MachineName} {File.Exists("none")} {calls}";
        }
    }
}
