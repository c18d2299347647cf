namespace Stillwatch.App.Commands;

/// <summary>What a command's help teaches besides its options.</summary>
/// <param name="Question">The question that the command answers, as its user would ask it.</param>
/// <param name="About">What it does, in a paragraph.</param>
/// <param name="Examples">Commands that run as they stand after <c>demo</c>, each with a line on what it shows.</param>
/// <param name="Numbers">What the numbers mean: word and meaning.</param>
/// <param name="Cautions">What the numbers are not.</param>
internal sealed record Lesson(
    string Question,
    string About,
    IReadOnlyList<(string Command, string Shows)> Examples,
    IReadOnlyList<(string Word, string Meaning)> Numbers,
    IReadOnlyList<string> Cautions)
{
    /// <summary>Said at the end of every page and every help text (docs/safety.md).</summary>
    public const string Caution =
        "Evidence for a person to judge: not for primary alarming or diagnosis. Local policy, the prescription and licensed clinicians decide.";

    public static readonly IReadOnlyList<(ExitCode Code, string Means)> ExitCodes =
    [
        (ExitCode.Done, "done; also when a proposal was refused, for a refusal is an answer"),
        (ExitCode.Defect, "a defect in the program; nothing it printed should be relied on"),
        (ExitCode.Usage, "the command line cannot be understood"),
        (ExitCode.Unreadable, "a file cannot be read, or is not what it should be"),
        (ExitCode.NothingComputable, "all was read, but nothing can be computed from it (no SpO2, no light, no valid value)"),
    ];
}
