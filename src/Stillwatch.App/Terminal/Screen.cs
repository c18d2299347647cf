using System.Text;
using Spectre.Console;

namespace Stillwatch.App.Terminal;

/// <summary>Where a command writes: pages and JSON to <see cref="Out"/>, trouble and progress to <see cref="Error"/>.</summary>
/// <param name="Out">Standard output.</param>
/// <param name="Error">Standard error.</param>
/// <param name="OutIsTerminal">Whether a person sees the output directly; otherwise it is plain text, 100 columns wide.</param>
/// <param name="ErrorIsTerminal">Whether progress may be drawn.</param>
/// <param name="Colour">Whether colour may be used at all.</param>
/// <param name="Width">Columns to fill.</param>
public sealed record Screen(TextWriter Out, TextWriter Error, bool OutIsTerminal, bool ErrorIsTerminal, bool Colour, int Width)
{
    public const int PlainWidth = 100;
    private const int WidestPage = 120;
    private const int NarrowestPage = 72;

    /// <summary>Plain text into two writers, as when piped; for tests and for pages inside other pages.</summary>
    public static Screen Plain(TextWriter output, TextWriter error) => new(output, error, false, false, false, PlainWidth);

    /// <summary>The process's own streams. Colour is off where NO_COLOR is set to anything, where the terminal is "dumb", and in a pipe.</summary>
    public static Screen OfThisProcess()
    {
        bool terminal = !Console.IsOutputRedirected;
        bool dumb = Environment.GetEnvironmentVariable("TERM") is "dumb";
        bool colour = terminal && !dumb && string.IsNullOrEmpty(Environment.GetEnvironmentVariable("NO_COLOR"));
        return new Screen(Console.Out, Console.Error, terminal, !Console.IsErrorRedirected && !dumb, colour, terminal ? TerminalWidth() : PlainWidth);
    }

    /// <summary>A console for drawing pages on <see cref="Out"/>.</summary>
    public IAnsiConsole OpenPage()
    {
        var console = AnsiConsole.Create(new AnsiConsoleSettings
        {
            Ansi = Colour ? AnsiSupport.Yes : AnsiSupport.No,
            ColorSystem = Colour ? ColorSystemSupport.Standard : ColorSystemSupport.NoColors,
            Interactive = InteractionSupport.No,
            Out = new PageOutput(Out, Width),
        });
        console.Profile.Capabilities.Unicode = true;
        console.Profile.Width = Width;
        return console;
    }

    private static int TerminalWidth()
    {
        try
        {
            return Console.WindowWidth > 0 ? Math.Clamp(Console.WindowWidth, NarrowestPage, WidestPage) : PlainWidth;
        }
        catch (IOException)
        {
            return PlainWidth; // a terminal that does not know its size
        }
    }

    private sealed class PageOutput(TextWriter writer, int width) : IAnsiConsoleOutput
    {
        public TextWriter Writer => writer;

        public bool IsTerminal => false;

        public int Width => width;

        public int Height => 1000;

        public void SetEncoding(Encoding encoding)
        {
            // The process sets its encoding once, without a byte-order mark.
        }
    }
}
