using System.CommandLine;
using System.CommandLine.Help;
using Stillwatch.App.Terminal;
using Stillwatch.Storage;

namespace Stillwatch.App.Commands;

/// <summary>The program from command line to exit code.</summary>
public static class StillwatchProgram
{
    private const string ReportDefectsTo = "the project's issue tracker, with the command line and the text below, and without any patient's data";

    public static ExitCode Run(IReadOnlyList<string> args, Screen screen)
    {
        try
        {
            using var output = new GuardedOutput(screen.Out);
            return Parsed(args, screen with { Out = output });
        }
        catch (OutputLostException e)
        {
            if (!e.IsClosedPipe) screen.Error.WriteLine($"stillwatch: cannot write to standard output: {e.Message}. What was written is not whole.");
            return ExitCode.Unreadable;
        }
        catch (StopException e)
        {
            Explain(e.Trouble, screen);
            return e.ExitCode;
        }
        catch (StoreException e)
        {
            Explain(new Trouble(e.IsTransient ? "the store cannot do this just now" : "the store cannot do this", e.Found, e.Expected, e.Where, e.LikelyCause), screen);
            return ExitCode.Unreadable;
        }
        catch (AggregateException e) when (e.Flatten().InnerExceptions.OfType<StopException>().FirstOrDefault() is { } stop)
        {
            // Several recordings are worked on at once: the first that stops the command speaks for all.
            Explain(stop.Trouble, screen);
            return stop.ExitCode;
        }
#pragma warning disable CA1031 // The outermost door: whatever comes here is a defect, and says so instead of a stack trace.
        catch (Exception e)
#pragma warning restore CA1031
        {
            var cause = e is AggregateException several ? several.Flatten().InnerExceptions[0] : e;
            screen.Error.WriteLine("stillwatch: sorry, this is a defect in the program. Do not rely on anything it printed.");
            screen.Error.WriteLine($"  Please report it to {ReportDefectsTo}:");
            screen.Error.WriteLine($"  {cause.GetType().Name}: {cause.Message}");
            foreach (string line in (cause.StackTrace ?? string.Empty).Split('\n').Take(6)) screen.Error.WriteLine("  " + line.Trim());
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
            bool noCommand = parsed.CommandResult.Command == root;
            // Without a command every word is "unrecognized"; the first of them is the one to speak of.
            IEnumerable<string> messages = noCommand
                ? [args.Count == 0 ? "found no command, expected one of" : $"found '{args[0]}', expected one of the commands"]
                : parsed.Errors.Select(e => e.Message);
            foreach (string message in messages) screen.Error.WriteLine("stillwatch: " + Printable.Of(message));
            if (noCommand)
            {
                foreach (var known in root.Subcommands) screen.Error.WriteLine($"  stillwatch {known.Name,-8} {known.Description}");
            }

            string command = noCommand ? "stillwatch" : "stillwatch " + parsed.CommandResult.Command.Name;
            screen.Error.WriteLine($"  {command} --help  explains the options, with an example");
            return ExitCode.Usage;
        }

        return (ExitCode)parsed.Invoke(new InvocationConfiguration { Output = screen.Out, Error = screen.Error, EnableDefaultExceptionHandler = false });
    }

    private static void Explain(Trouble trouble, Screen screen)
    {
        screen.Error.WriteLine("stillwatch: " + Printable.Of(trouble.Title));
        screen.Error.WriteLine("  found         " + Printable.Of(trouble.Found));
        screen.Error.WriteLine("  expected      " + Printable.Of(trouble.Expected));
        screen.Error.WriteLine("  where         " + Printable.Of(trouble.Where));
        screen.Error.WriteLine("  likely cause  " + Printable.Of(trouble.LikelyCause));
    }
}
