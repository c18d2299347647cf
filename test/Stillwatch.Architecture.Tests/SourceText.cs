namespace Stillwatch.Architecture.Tests;

/// <summary>One line of a source file without its comments.</summary>
internal sealed record CodeLine(int Number, string Text);

/// <summary>C# source as text: enough to look for words in code and not in what is said about it.</summary>
internal static class SourceText
{
    /// <summary>
    /// The lines without their comments. Strings are left in. A '//' right after ':' is taken for an address in a string:
    /// better to look at a comment too many than to miss code.
    /// </summary>
    public static IEnumerable<CodeLine> CodeLines(string path)
    {
        bool inBlock = false;
        int number = 0;
        foreach (var line in Checkout.Read(path).Split('\n'))
        {
            number++;
            var text = line;
            if (inBlock)
            {
                int end = text.IndexOf("*/", StringComparison.Ordinal);
                if (end < 0) continue;
                text = text[(end + 2)..];
                inBlock = false;
            }

            int comment = text.IndexOf("//", StringComparison.Ordinal);
            while (comment > 0 && text[comment - 1] == ':') comment = text.IndexOf("//", comment + 2, StringComparison.Ordinal);
            if (comment >= 0) text = text[..comment];
            int block = text.TrimStart().StartsWith("/*", StringComparison.Ordinal) ? text.IndexOf("/*", StringComparison.Ordinal) : -1;
            if (block >= 0)
            {
                inBlock = !text.Contains("*/", StringComparison.Ordinal);
                text = text[..block];
            }

            if (text.Trim().Length > 0) yield return new CodeLine(number, text);
        }
    }
}
