using Stillwatch.App.Commands;
using Stillwatch.App.Tests.Running;

namespace Stillwatch.App.Tests;

public sealed class HelpTests
{
    public static readonly TheoryData<string> Commands = ["inspect", "review", "tune", "ward", "report", "export", "derive", "rehearse", "import", "backup", "restore", "audit", "serve", "demo"];

    [Theory]
    [MemberData(nameof(Commands))]
    public void Help_asks_the_question_shows_an_example_explains_the_numbers_and_warns(string command)
    {
        var help = Ran.With(command, "--help");
        Assert.Equal(ExitCode.Done, help.ExitCode);
        string first = help.Out.Split('\n')[0];
        Assert.EndsWith("?", first, StringComparison.Ordinal);
        foreach (string heading in new[] { "\nUsage\n", "\nExamples\n", "\nOptions\n", "\nWhat the numbers mean\n", "\nExit codes\n", "\nCautions\n" })
            Assert.Contains(heading, help.Out, StringComparison.Ordinal);
        Assert.Contains("not for primary alarming or diagnosis", help.Words, StringComparison.Ordinal);
        Assert.Contains("Local policy, the prescription and licensed clinicians decide.", help.Words, StringComparison.Ordinal);
        Assert.Contains("0 done; also when a proposal was refused", help.Words, StringComparison.Ordinal);
        Assert.Contains("4 all was read, but nothing can be computed", help.Words, StringComparison.Ordinal);
        // serve answers in a browser, and ends when it is told to: there are no numbers to hand on.
        Assert.Equal(command != "serve", help.Out.Contains("--json", StringComparison.Ordinal));
    }

    [Fact]
    public void The_program_alone_says_what_it_is_for_and_names_its_commands()
    {
        var help = Ran.With("--help");
        foreach (string command in Commands.Select(c => c.Data)) Assert.Contains($"\n  {command} ", help.Out, StringComparison.Ordinal);
        Assert.Contains("Demo data are invented.", help.Words, StringComparison.Ordinal);
        Assert.Contains("not for primary alarming or diagnosis", help.Words, StringComparison.Ordinal);
    }

    [Fact]
    public void Tune_has_every_option_by_its_fixed_name()
    {
        string help = Ran.With("tune", "--help").Out;
        foreach (string option in "--averaging --gap-tolerance --clear-margin --validity --rounding --channel --limits --delays --areas --category --settings --present --must-catch --marks --map --report --json".Split(' '))
            Assert.Contains($"\n  {option}", help, StringComparison.Ordinal);
    }

    [Theory]
    [MemberData(nameof(Commands))]
    public void Help_fits_a_hundred_columns_except_for_lines_to_copy(string command)
    {
        foreach (string line in Ran.With(command, "--help").Out.Split('\n').Where(l => !l.StartsWith("  stillwatch ", StringComparison.Ordinal)))
            Assert.True(line.Length <= 100, line);
    }
}
