using System.CommandLine;
using System.CommandLine.Help;
using System.CommandLine.Invocation;
using Stillwatch.App.Terminal;

namespace Stillwatch.App.Commands;

/// <summary>Help as a short lesson: the question, an example that runs, the options, what the numbers mean, the cautions.</summary>
internal sealed class TeachingHelp(Command command, Lesson lesson, Screen screen) : SynchronousCommandLineAction
{
    private const int Indent = 2;

    public override bool ClearsParseErrors => true;

    public override int Invoke(ParseResult parseResult)
    {
        Write();
        return (int)ExitCode.Done;
    }

    /// <summary>Gives a command its lesson in place of the library's help.</summary>
    public static void Attach(Command command, Lesson lesson, Screen screen)
    {
        var option = command.Options.OfType<HelpOption>().FirstOrDefault();
        if (option is null)
        {
            option = new HelpOption();
            command.Options.Add(option);
        }

        option.Description = "Show this help";
        option.Action = new TeachingHelp(command, lesson, screen);
    }

    private void Write()
    {
        bool isRoot = command is RootCommand;
        Paragraph(lesson.Question);
        screen.Out.WriteLine();
        Paragraph(lesson.About, Indent);
        Heading("Usage");
        Paragraph(UsageLine(isRoot), Indent);
        if (command.Subcommands.Count > 0)
            Rows("Commands", command.Subcommands.Select(c => (c.Name, c.Description ?? string.Empty)));
        Heading(lesson.Examples.Count == 1 ? "Example" : "Examples");
        foreach (var (line, shows) in lesson.Examples)
        {
            screen.Out.WriteLine("  " + line); // never wrapped: it is there to be copied
            Paragraph(shows, 6);
        }

        if (!isRoot) Rows("Options", command.Options.Where(o => !o.Hidden).Select(o => ($"{o.Name} {o.HelpName}".TrimEnd(), o.Description ?? string.Empty)));
        Rows("What the numbers mean", lesson.Numbers);
        Rows("Exit codes", Lesson.ExitCodes.Select(c => (((int)c.Code).ToString(), c.Means)));
        Heading("Cautions");
        foreach (string caution in lesson.Cautions.Append(Lesson.Caution)) Paragraph("• " + caution, Indent, hanging: 2);
    }

    private string UsageLine(bool isRoot)
    {
        if (isRoot) return "stillwatch COMMAND [arguments] [options]      stillwatch COMMAND --help";
        var arguments = command.Arguments.Select(a => a.Arity.MaximumNumberOfValues > 1 ? $"{a.HelpName}..." : a.HelpName);
        return string.Join(' ', new[] { "stillwatch", command.Name }.Concat(arguments.OfType<string>()).Append("[options]"));
    }

    private void Heading(string text)
    {
        screen.Out.WriteLine();
        screen.Out.WriteLine(text);
    }

    private void Rows(string heading, IEnumerable<(string Word, string Meaning)> rows)
    {
        var list = rows.ToList();
        if (list.Count == 0) return;
        Heading(heading);
        int width = Math.Min(26, list.Max(r => r.Word.Length)) + 2;
        foreach (var (word, meaning) in list)
        {
            string start = new string(' ', Indent) + word.PadRight(width);
            if (word.Length >= width)
            {
                screen.Out.WriteLine(start.TrimEnd());
                start = new string(' ', Indent + width);
            }

            foreach (string line in Wrapped.Lines(meaning, screen.Width - Indent - width))
            {
                screen.Out.WriteLine((start + line).TrimEnd());
                start = new string(' ', Indent + width);
            }
        }
    }

    private void Paragraph(string text, int indent = 0, int hanging = 0)
    {
        string margin = new(' ', indent);
        foreach (string line in Wrapped.Lines(text, screen.Width - indent - hanging))
        {
            screen.Out.WriteLine(margin + line);
            margin = new string(' ', indent + hanging);
        }
    }
}
