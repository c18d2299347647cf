using System.Text.Json;
using Stillwatch.App.Commands;
using Stillwatch.App.Terminal;

namespace Stillwatch.App.Tests.Running;

/// <summary>One run of the program in this process, with what it wrote.</summary>
internal sealed record Ran(ExitCode ExitCode, string Out, string Error)
{
    /// <summary>Runs the program as in a pipe: plain text, 100 columns.</summary>
    public static Ran With(params string[] args)
    {
        using var output = new StringWriter { NewLine = "\n" };
        using var error = new StringWriter { NewLine = "\n" };
        var exitCode = StillwatchProgram.Run(args, Screen.Plain(output, error));
        return new Ran(exitCode, output.ToString(), error.ToString());
    }

    /// <summary>The output as JSON; fails where anything else stands in it.</summary>
    public JsonElement Json()
    {
        Assert.True(ExitCode is ExitCode.Done or ExitCode.Unreadable, Error);
        using var document = JsonDocument.Parse(Out);
        return document.RootElement.Clone();
    }

    /// <summary>Out without line breaks and runs of blanks, so that a sentence is found however it is wrapped.</summary>
    public string Words => string.Join(' ', Out.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries));

    public string ErrorWords => string.Join(' ', Error.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries));
}
