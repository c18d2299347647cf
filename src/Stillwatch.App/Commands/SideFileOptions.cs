using System.CommandLine;
using Stillwatch.App.Jobs;

namespace Stillwatch.App.Commands;

/// <summary>The options that name side files.</summary>
internal sealed class SideFileOptions
{
    private readonly Option<string?> settings = SharedOptions.Settings();
    private readonly Option<string?> present = SharedOptions.Present();
    private readonly Option<string?> mustCatch = SharedOptions.MustCatch();
    private readonly Option<string?> marks = SharedOptions.Marks();

    public void AddTo(Command command)
    {
        command.Options.Add(settings);
        command.Options.Add(present);
        command.Options.Add(mustCatch);
        command.Options.Add(marks);
    }

    public SideFiles Of(ParseResult parsed) => SideFiles.Read(
        parsed.GetValue(settings),
        parsed.GetValue(present),
        parsed.GetValue(mustCatch),
        parsed.GetValue(marks));
}
