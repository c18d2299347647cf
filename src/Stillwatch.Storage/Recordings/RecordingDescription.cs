namespace Stillwatch.Storage.Recordings;

/// <summary>What people say of a recording, beyond what is in its file. All of it may be unknown (null), and nothing is guessed.</summary>
public sealed record RecordingDescription
{
    public static readonly RecordingDescription Nothing = new();

    /// <summary>A pseudonym; never a name.</summary>
    public string? Patient { get; init; }

    /// <summary>A category's name as the presets have it ("adult", "paediatric:4y").</summary>
    public string? Category { get; init; }

    /// <summary>The ward or unit.</summary>
    public string? Unit { get; init; }

    /// <summary>"air" or "oxygen".</summary>
    public string? Oxygen { get; init; }

    /// <summary>The source's own averaging.</summary>
    public decimal? SourceAveragingSeconds { get; init; }

    /// <summary>The prescribed range of saturation, in percent.</summary>
    public decimal? TargetLow { get; init; }

    public decimal? TargetHigh { get; init; }

    /// <summary>The settings in force at the time: a settings file (stillwatch.settings/1).</summary>
    public string? SettingsInForceJson { get; init; }

    public string? Note { get; init; }
}
