using System.Globalization;
using System.Text;

namespace Stillwatch.Measure;

/// <summary>The waits as a table.</summary>
internal static class WaitTable
{
    private const string How = """
        From the act (a click, a key, a control that moves) to the frame of the browser in which its answer stands, by the browser's own clock; frames come
        16.7 ms apart, and no time here is finer than that. The program and the browser run on the same machine and share its processors.
        """;

    public static string Terminal(string machine, IReadOnlyList<Wait> waits)
    {
        var text = new StringBuilder();
        int width = waits.Max(w => w.What.Length);
        text.AppendLine(machine);
        text.AppendLine(CultureInfo.InvariantCulture, $"{"what".PadRight(width)}  {"median",10}  {"worst",10}  {"times",5}  asked");
        foreach (var wait in waits) text.AppendLine(CultureInfo.InvariantCulture, $"{wait.What.PadRight(width)}  {Words(wait.Median),10}  {Words(wait.Worst),10}  {wait.Milliseconds.Count,5}  {wait.Asked}");
        return text.ToString();
    }

    public static string Markdown(string machine, IReadOnlyList<Wait> waits)
    {
        var text = new StringBuilder();
        text.AppendLine("# How long the workbench lets a person wait").AppendLine();
        text.AppendLine("Written by `eng/measure --write-docs`.").AppendLine();
        text.AppendLine(How).AppendLine();
        text.AppendLine(CultureInfo.InvariantCulture, $"{machine}:").AppendLine();
        text.AppendLine("| what | median | worst | times | asked |").AppendLine("|---|---|---|---|---|");
        foreach (var wait in waits) text.AppendLine(CultureInfo.InvariantCulture, $"| {wait.What} | {Words(wait.Median)} | {Words(wait.Worst)} | {wait.Milliseconds.Count} | {wait.Asked} |");
        return text.Replace("\r\n", "\n").ToString();
    }

    private static string Words(double milliseconds) => milliseconds < 1000
        ? string.Create(CultureInfo.InvariantCulture, $"{milliseconds:0} ms")
        : string.Create(CultureInfo.InvariantCulture, $"{milliseconds / 1000:0.0} s");
}
