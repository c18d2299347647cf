using Stillwatch.Alarms;
using Stillwatch.Quantities;
using Stillwatch.Time;

namespace Stillwatch.Replay.Fidelity;

public enum SettingsChangeKind
{
    Limit,
    Delay,
    Averaging,

    /// <summary>SpO2 low without its backstop.</summary>
    NoBackstop,
}

/// <summary>One setting other than it is, all else alike: tried as evidence of settings that are not known, never applied.</summary>
/// <param name="Kind">Which setting.</param>
/// <param name="Condition">Whose; averaging is one for both limits of a quantity.</param>
/// <param name="LimitMicro">The limit tried, in millionths of its unit; for <see cref="SettingsChangeKind.Limit"/>.</param>
/// <param name="Seconds">The delay or averaging time tried.</param>
/// <param name="From">What the setting is: a limit in millionths, or milliseconds.</param>
public sealed record SettingsChange(SettingsChangeKind Kind, AlarmCondition Condition, int LimitMicro, Duration Seconds, long From)
{
    /// <summary>How far it is from what the setting is: in steps of one percent, one beat or one second.</summary>
    internal long Size => Kind switch
    {
        SettingsChangeKind.Limit => Math.Abs(LimitMicro - From) / FixedPoint.One,
        SettingsChangeKind.NoBackstop => 0,
        _ => Math.Abs(Seconds.Milliseconds - From) / 1000,
    };

    /// <summary>"a limit of 91 % in place of 90 %".</summary>
    public override string ToString() => Kind switch
    {
        SettingsChangeKind.Limit => $"a limit of {Value(LimitMicro)} in place of {Value((int)From)}",
        SettingsChangeKind.Delay => $"a delay of {Seconds} in place of {new Duration(From)}",
        SettingsChangeKind.Averaging when From == 0 => $"averaging over {Seconds} on top of the source's own",
        SettingsChangeKind.Averaging when Seconds == Duration.Zero => $"no averaging in place of {new Duration(From)}",
        SettingsChangeKind.Averaging => $"averaging over {Seconds} in place of {new Duration(From)}",
        _ => "no backstop",
    };

    private string Value(int micro) => Condition is AlarmCondition.PulseRateLow or AlarmCondition.PulseRateHigh
        ? BeatsPerMinute.FromMicro(micro).ToString()
        : Percent.FromMicro(micro).ToString();
}

/// <summary>What agreement would have been with one setting changed.</summary>
/// <param name="Change">The setting.</param>
/// <param name="Of">The figure of that condition (for averaging, of its two limits) with the change.</param>
/// <param name="Physiological">The figure of all physiological conditions with the change.</param>
public sealed record ChangeTried(SettingsChange Change, FidelityFigure Of, FidelityFigure Physiological)
{
    public AlarmCondition Condition => Change.Condition;
}
