using System.CommandLine;
using Stillwatch.App.Jobs;
using Stillwatch.Formats.Csv;
using Stillwatch.Time;

namespace Stillwatch.App.Commands;

/// <summary>The options that say what a replay is compared with.</summary>
internal sealed class LogOptions
{
    private const string LeftAside = "none";

    private readonly Option<string?> log = SharedOptions.Log();
    private readonly Option<Duration?> tolerance = SharedOptions.LogTolerance();
    private readonly Option<Duration?> offset = SharedOptions.LogOffset();

    public void AddTo(Command command)
    {
        command.Options.Add(log);
        command.Options.Add(tolerance);
        command.Options.Add(offset);
    }

    public LogChoice Of(ParseResult parsed, DateOrder dateOrder) => parsed.GetValue(log) is LeftAside
        ? LogChoice.Aside
        : new LogChoice(parsed.GetValue(log), IsLeftAside: false, parsed.GetValue(tolerance), parsed.GetValue(offset) ?? Duration.Zero, dateOrder);
}
