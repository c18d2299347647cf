using Stillwatch.App.Commands;
using Stillwatch.App.Terminal;
using Stillwatch.App.Tests.Running;

namespace Stillwatch.App.Tests;

/// <summary>Where the output cannot go, and what a command line that asks for nothing gets.</summary>
public sealed class OutputTests : IDisposable
{
    private readonly Folder folder = new();

    public void Dispose() => folder.Dispose();

    [Theory]
    [InlineData("inspect {}")]
    [InlineData("review {} --json")]
    [InlineData("tune --help")]
    public void A_full_disk_behind_standard_output_is_one_plain_line_and_no_defect(string line)
    {
        string night = folder.WriteNight("night.csv", 1800);
        using var error = new StringWriter { NewLine = "\n" };
        using var full = new Failing(new IOException("No space left on device"));
        var code = StillwatchProgram.Run(line.Replace("{}", night, StringComparison.Ordinal).Split(' '), Screen.Plain(full, error));
        Assert.Equal(ExitCode.Unreadable, code);
        Assert.Equal("stillwatch: cannot write to standard output: No space left on device. What was written is not whole.\n", error.ToString());
    }

    [Fact]
    public void A_reader_that_has_gone_is_nothing_to_talk_about()
    {
        using var error = new StringWriter();
        using var closed = new Failing(new IOException("Broken pipe", 32));
        Assert.Equal(ExitCode.Unreadable, StillwatchProgram.Run(["--help"], Screen.Plain(closed, error)));
        Assert.Empty(error.ToString());
    }

    [Theory]
    [InlineData("", "found no command, expected one of")]
    [InlineData("quieten night.csv", "found 'quieten', expected one of the commands")]
    [InlineData("--quieten", "found '--quieten', expected one of the commands")]
    public void Without_a_known_command_the_commands_are_listed(string line, string said)
    {
        var ran = Ran.With(line.Split(' ', StringSplitOptions.RemoveEmptyEntries));
        Assert.Equal(ExitCode.Usage, ran.ExitCode);
        Assert.Equal("stillwatch: " + said, ran.Error.Split('\n')[0]);
        foreach (string command in HelpTests.Commands.Select(c => c.Data))
            Assert.Contains($"\n  stillwatch {command} ", ran.Error, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("")]
    [InlineData(" \n")]
    [InlineData("\uFEFF")]
    public void An_empty_side_file_is_said_to_be_empty(string text)
    {
        var ran = Ran.With("review", folder.WriteNight("night.csv", 1800), "--settings", folder.Write("s.json", text));
        Assert.Equal(ExitCode.Unreadable, ran.ExitCode);
        Assert.Contains("found the file is empty expected JSON", ran.ErrorWords, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("SpO2", "SpO2")]
    [InlineData("spo2_nominal_pct_ASSUMED_SCALE", "spo2_nominal_pct_|ASSUMED_SCALE")]
    [InlineData("SpO2 of the left hand's ring finger", "SpO2 of the left|hand's ring finger")]
    [InlineData("Saturationwithoutanybreakinit_pct", "Saturationwithout…|pct")]
    public void A_long_label_breaks_between_its_words(string label, string lines) =>
        Assert.Equal(lines, Wrapped.Label(label, 18).Replace('\n', '|'));

    [Fact]
    public void Inspect_breaks_a_long_header_at_an_underscore()
    {
        folder.Write("long.csv", "Time,spo2_nominal_pct_ASSUMED_SCALE\n0,97\n1,96\n2,97\n");
        string page = Ran.With("inspect", folder["long.csv"]).Out;
        Assert.Contains("  spo2_nominal_  ", page, StringComparison.Ordinal);
        Assert.Contains("\n  pct_ASSUMED_  ", page, StringComparison.Ordinal);
        Assert.Contains("\n  SCALE  ", page, StringComparison.Ordinal);
    }

    private sealed class Failing(IOException failure) : StringWriter
    {
        public override void Write(char value) => throw failure;

        public override void Write(string? value) => throw failure;

        public override void Write(char[] buffer, int index, int count) => throw failure;

        public override void Write(ReadOnlySpan<char> buffer) => throw failure;

        public override void WriteLine() => throw failure;

        public override void WriteLine(string? value) => throw failure;
    }
}
