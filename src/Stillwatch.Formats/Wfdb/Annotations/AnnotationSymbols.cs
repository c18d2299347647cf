namespace Stillwatch.Formats.Wfdb.Annotations;

/// <summary>
/// The standard annotation types: code (ecgcodes.h of the WFDB library) and symbol (WFDB Programmer's Guide, "Annotation codes"). Types 42 to 49 are
/// the user's; a file may define symbols of its own.
/// </summary>
internal static class AnnotationSymbols
{
    /// <summary>Comment annotation.</summary>
    public const int Note = 22;

    private static readonly string?[] Standard = Table();

    public static string Of(int code, IReadOnlyDictionary<int, string> own) =>
        own.TryGetValue(code, out string? symbol) ? symbol : code < Standard.Length && Standard[code] is { } known ? known : $"[{code}]";

    private static string?[] Table()
    {
        var table = new string?[50];
        foreach (var (code, symbol) in new (int, string)[]
        {
            (1, "N"), (2, "L"), (3, "R"), (4, "a"), (5, "V"), (6, "F"), (7, "J"), (8, "A"), (9, "S"), (10, "E"), (11, "j"), (12, "/"), (13, "Q"), (14, "~"),
            (16, "|"), (18, "s"), (19, "T"), (20, "*"), (21, "D"), (22, "\""), (23, "="), (24, "p"), (25, "B"), (26, "^"), (27, "t"), (28, "+"), (29, "u"), (30, "?"),
            (31, "!"), (32, "["), (33, "]"), (34, "e"), (35, "n"), (36, "@"), (37, "x"), (38, "f"), (39, "("), (40, ")"), (41, "r"),
        }) table[code] = symbol;
        return table;
    }
}
