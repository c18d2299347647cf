using Stillwatch.App.Jobs;
using Stillwatch.App.Terminal;

namespace Stillwatch.App.Commands;

/// <summary>How a command ends when all was shown that could be.</summary>
internal static class Outcome
{
    /// <summary>Exit code 3 where a file could not be read, however much of the rest was shown.</summary>
    public static ExitCode Of(IReadOnlyList<UnreadableFile> unreadable, Screen screen)
    {
        foreach (var file in unreadable)
        {
            var t = file.Trouble;
            screen.Error.WriteLine(Printable.Of($"stillwatch: {t.Title}: found {t.Found}; expected {t.Expected}; where: {t.Where}; likely cause: {t.LikelyCause}"));
        }

        return unreadable.Count > 0 ? ExitCode.Unreadable : ExitCode.Done;
    }
}
