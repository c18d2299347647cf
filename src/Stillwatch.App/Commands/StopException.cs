namespace Stillwatch.App.Commands;

/// <summary>What went wrong, as every error says it: found, expected, where, likely cause.</summary>
/// <param name="Title">One line: what could not be done.</param>
/// <param name="Found">What was there instead.</param>
/// <param name="Expected">What should have been there.</param>
/// <param name="Where">File, line, field or option.</param>
/// <param name="LikelyCause">The usual reason and what to do.</param>
public sealed record Trouble(string Title, string Found, string Expected, string Where, string LikelyCause);

/// <summary>Ends a command early with a documented exit code and words for the person at the keyboard.</summary>
public sealed class StopException(ExitCode exitCode, Trouble trouble, Exception? inner = null) : Exception(trouble.Title, inner)
{
    public ExitCode ExitCode { get; } = exitCode;

    public Trouble Trouble { get; } = trouble;

    public static StopException Usage(Trouble trouble) => new(ExitCode.Usage, trouble);

    public static StopException Unreadable(Trouble trouble, Exception? inner = null) => new(ExitCode.Unreadable, trouble, inner);

    public static StopException NothingComputable(Trouble trouble) => new(ExitCode.NothingComputable, trouble);
}
