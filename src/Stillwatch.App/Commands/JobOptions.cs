using System.CommandLine;

namespace Stillwatch.App.Commands;

/// <summary>What every command that computes on recordings takes: how to read, how to condition, side files, and where the answer goes.</summary>
internal sealed class JobOptions
{
    public ReadingOptions Reading { get; } = new();

    public ConditioningOptions Conditioning { get; } = new();

    public SideFileOptions SideFiles { get; } = new();

    public Option<string?> Report { get; } = SharedOptions.Report();

    public Option<bool> Json { get; } = SharedOptions.Json();

    /// <param name="command">The command to add them to.</param>
    /// <param name="map">The grid of the settings map, where the command draws one; it stands before the side files.</param>
    public void AddTo(Command command, MapOptions? map = null)
    {
        Reading.AddTo(command);
        Conditioning.AddTo(command);
        map?.AddTo(command);
        SideFiles.AddTo(command);
        command.Options.Add(Report);
        command.Options.Add(Json);
    }
}
