using Stillwatch.App.Commands;
using Stillwatch.Formats.Csv;
using Stillwatch.Replay.Fidelity;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.App.Jobs;

/// <summary>Which list of the monitor's own signals a replay is compared with, and how.</summary>
/// <param name="Path">Named with --log; null: what ward.json names, else the recording's own notes.</param>
/// <param name="IsLeftAside">--log none: nothing is compared.</param>
/// <param name="Tolerance">Told with --log-tolerance; null: the usual one.</param>
/// <param name="Offset">Told with --log-offset.</param>
/// <param name="DateOrder">Told with --date-order.</param>
public sealed record LogChoice(string? Path, bool IsLeftAside, Duration? Tolerance, Duration Offset, DateOrder DateOrder)
{
    /// <summary>What a list is called among the files that a report was made from.</summary>
    public const string Role = "alarm log";

    public static readonly LogChoice Default = new(null, false, null, Duration.Zero, DateOrder.Ask);

    public static readonly LogChoice Aside = Default with { IsLeftAside = true };

    public FidelityOptions OptionsFor(SourceAveraging source) => new(Tolerance ?? FidelityOptions.For(source).Tolerance, Offset);

    /// <summary>A list that was named and is then not read would go unnoticed.</summary>
    /// <param name="settings">What would be replayed.</param>
    /// <param name="option">The option that gives it.</param>
    /// <exception cref="StopException">Exit code 2.</exception>
    public void CheckSettings(Files.SettingsFile? settings, string option)
    {
        if (Path is null || settings is not null) return;
        throw StopException.Usage(new Trouble("an alarm log and nothing to compare it with", $"--log {Path} without {option}", $"the settings in force meanwhile: {option} FILE", "--log", "a log is compared with the replay of settings"));
    }

    /// <summary>One list cannot be of several recordings.</summary>
    /// <exception cref="StopException">Exit code 2.</exception>
    public void CheckAgainst(LoadedSet loaded)
    {
        int recordings = loaded.Recordings.Count + loaded.Unreadable.Count;
        if (Path is null || recordings == 1) return;
        throw StopException.Usage(new Trouble("one alarm log for several recordings", $"--log {Path} and {recordings} recordings", "one recording, or \"alarmLog\" beside each recording in ward.json", "--log", "a folder was named in place of one night"));
    }
}
