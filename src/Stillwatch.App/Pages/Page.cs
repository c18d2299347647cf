using Spectre.Console;
using Stillwatch.App.Commands;
using Stillwatch.App.Terminal;

namespace Stillwatch.App.Pages;

/// <summary>
/// A page on the terminal: the question first, then the answer, then the evidence, definitions last, and one line of caution.
/// Everything reads the same without colour.
/// </summary>
internal sealed class Page
{
    private readonly IAnsiConsole console;
    private bool endsBlank; // a table ends with an empty line of its own

    public Page(Screen screen)
    {
        console = screen.OpenPage();
        Width = screen.Width;
    }

    public int Width { get; }

    /// <summary>The question that the page answers, between rules.</summary>
    public void Question(string text)
    {
        console.Write(new Rule($"[bold]{Markup.Escape(text)}[/]") { Justification = Justify.Left, Border = BoxBorder.Double });
    }

    /// <summary>What was looked at.</summary>
    public void Subject(string text) => Words(text, "grey");

    /// <summary>The answer in a sentence or two.</summary>
    public void Answer(string text, bool blankBefore = true)
    {
        if (blankBefore) Blank();
        Words(text, "bold");
    }

    public void Heading(string text)
    {
        if (!endsBlank) Blank();
        Words(text, "bold underline");
    }

    public void Text(string text) => Words(text, "default");

    /// <summary>A definition or a reservation, smaller in tone.</summary>
    public void Note(string text) => Words(text, "grey", hanging: 2);

    public void Bullet(string text)
    {
        string margin = "  • ";
        foreach (string line in Wrapped.Lines(Printable.Of(text), Width - margin.Length))
        {
            Line(Markup.Escape(margin + line));
            margin = "    ";
        }
    }

    /// <summary>A line drawn as it stands, with markup.</summary>
    public void Line(string markup)
    {
        endsBlank = false;
        console.MarkupLine(markup);
    }

    public void Blank()
    {
        endsBlank = true;
        console.WriteLine();
    }

    public void Show(Table table)
    {
        console.Write(table);
        endsBlank = true;
    }

    /// <summary>Where the report lies, if one was asked for.</summary>
    public void Report(string? path)
    {
        if (path is null) return;
        Blank();
        Text($"Report: {path}");
    }

    /// <summary>Every page ends with this.</summary>
    public void Caution()
    {
        if (!endsBlank) Blank();
        console.Write(new Rule());
        Words(Lesson.Caution, "grey");
    }

    /// <summary>A table whose columns are named; numbers stand to the right.</summary>
    public static Table TableOf(params (string Name, bool IsNumber)[] columns)
    {
        var table = new Table { Border = TableBorder.Simple, UseSafeBorder = true };
        foreach (var (name, isNumber) in columns)
        {
            var column = new TableColumn(Markup.Escape(name)) { Alignment = isNumber ? Justify.Right : Justify.Left, NoWrap = isNumber };
            table.AddColumn(column);
        }

        return table;
    }

    /// <summary>Lets no cell wrap, for a table of short words.</summary>
    public static void KeepWhole(Table table)
    {
        foreach (var column in table.Columns) column.NoWrap = true;
    }

    /// <summary>A row of plain text.</summary>
    public static void Row(Table table, params string[] cells) => table.AddRow([.. cells.Select(c => new Text(Printable.Of(c)))]);

    private void Words(string text, string style, int hanging = 0)
    {
        string margin = string.Empty;
        foreach (string line in Wrapped.Lines(Printable.Of(text), Width - hanging))
        {
            Line($"[{style}]{Markup.Escape(margin + line)}[/]");
            margin = new string(' ', hanging);
        }
    }
}
