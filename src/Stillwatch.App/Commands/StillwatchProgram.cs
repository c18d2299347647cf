using System.CommandLine;
using System.CommandLine.Help;
using Stillwatch.App.Terminal;

namespace Stillwatch.App.Commands;

/// <summary>The program from command line to exit code.</summary>
public static class StillwatchProgram
{
    private const string ReportDefectsTo = "the project's issue tracker, with the command line and the text below, and without any patient's data";

    public static ExitCode Run(IReadOnlyList<string> args, Screen screen)
    {
        try
        {
            return Parsed(args, screen);
        }
        catch (StopException e)
        {
            Explain(e.Trouble, screen);
            return e.ExitCode;
        }
#pragma warning disable CA1031 // The outermost door: whatever comes here is a defect, and says so instead of a stack trace.
        catch (Exception e)
#pragma warning restore CA1031
        {
            screen.Error.WriteLine("stillwatch: sorry, this is a defect in the program. Do not rely on anything it printed.");
            screen.Error.WriteLine($"  Please report it to {ReportDefectsTo}:");
            screen.Error.WriteLine($"  {e.GetType().Name}: {e.Message}");
            foreach (string line in (e.StackTrace ?? string.Empty).Split('\n').Take(6)) screen.Error.WriteLine("  " + line.Trim());
            return ExitCode.Defect;
        }
    }

    private static ExitCode Parsed(IReadOnlyList<string> args, Screen screen)
    {
        var root = CommandTree.Build(screen);
        var parsed = root.Parse(args, new ParserConfiguration { EnablePosixBundling = false, ResponseFileTokenReplacer = null });
        bool asksForHelp = parsed.Action is HelpAction or TeachingHelp;
        if (parsed.Errors.Count > 0 && !asksForHelp)
        {
            foreach (var error in parsed.Errors) screen.Error.WriteLine("stillwatch: " + error.Message);
            string command = parsed.CommandResult.Command == root ? "stillwatch" : "stillwatch " + parsed.CommandResult.Command.Name;
            screen.Error.WriteLine($"  {command} --help  explains the options, with an example");
            return ExitCode.Usage;
        }

        return (ExitCode)parsed.Invoke(new InvocationConfiguration { Output = screen.Out, Error = screen.Error, EnableDefaultExceptionHandler = false });
    }

    private static void Explain(Trouble trouble, Screen screen)
    {
        screen.Error.WriteLine("stillwatch: " + trouble.Title);
        screen.Error.WriteLine("  found         " + trouble.Found);
        screen.Error.WriteLine("  expected      " + trouble.Expected);
        screen.Error.WriteLine("  where         " + trouble.Where);
        screen.Error.WriteLine("  likely cause  " + trouble.LikelyCause);
    }
}
