using System.CommandLine;
using Stillwatch.App.Jobs;

namespace Stillwatch.App.Commands;

/// <summary>The options that name side files.</summary>
internal sealed class SideFileOptions(bool withPresent)
{
    private readonly Option<string?> settings = SharedOptions.Settings();
    private readonly Option<string?>? present = withPresent ? SharedOptions.Present() : null;
    private readonly Option<string?> mustCatch = SharedOptions.MustCatch();
    private readonly Option<string?> marks = SharedOptions.Marks();

    public void AddTo(Command command)
    {
        command.Options.Add(settings);
        if (present is not null) command.Options.Add(present);
        command.Options.Add(mustCatch);
        command.Options.Add(marks);
    }

    public SideFiles Of(ParseResult parsed) => SideFiles.Read(
        parsed.GetValue(settings),
        present is null ? null : parsed.GetValue(present),
        parsed.GetValue(mustCatch),
        parsed.GetValue(marks));
}
