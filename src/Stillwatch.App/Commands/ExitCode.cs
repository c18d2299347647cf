namespace Stillwatch.App.Commands;

/// <summary>What the program says to the shell; the same for every command, printed by every <c>--help</c>.</summary>
public enum ExitCode
{
    /// <summary>Done; also when a proposal was refused, for a refusal is an answer.</summary>
    Done = 0,

    /// <summary>A defect in the program itself.</summary>
    Defect = 1,

    /// <summary>The command line cannot be understood.</summary>
    Usage = 2,

    /// <summary>A file cannot be read or is not what it should be.</summary>
    Unreadable = 3,

    /// <summary>Everything was read, yet nothing can be computed from it.</summary>
    NothingComputable = 4,
}
