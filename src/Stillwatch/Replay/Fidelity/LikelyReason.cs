using Stillwatch.Quantities;
using Stillwatch.Time;

namespace Stillwatch.Replay.Fidelity;

/// <summary>Why log and replay may differ in one signal. Each is found by computing, from the recording, the log, or a replay with one setting changed.</summary>
public enum ReasonKind
{
    /// <summary>The settings have no limit for the condition.</summary>
    NoSuchLimit,

    /// <summary>The recording has no valid value there.</summary>
    NoValue,

    /// <summary>No value there is beyond the limit.</summary>
    NeverBeyondLimit,

    /// <summary>Beyond the limit, and no longer than the delay.</summary>
    TooShort,

    /// <summary>It begins inside a signal that the other has: one of the two counts once what the other counts twice.</summary>
    PartOfOther,

    /// <summary>The other has a signal of this condition without a pair nearby, farther off than the tolerance.</summary>
    OutsideTolerance,

    /// <summary>The other has another condition at this time.</summary>
    NamedOtherwise,

    /// <summary>The log names this condition nowhere.</summary>
    NotInLog,

    /// <summary>Before the first line of the log, or after its last.</summary>
    BeyondLog,

    /// <summary>It has a pair once the difference of the clocks that explains the starts is taken off.</summary>
    OtherClock,

    /// <summary>One setting changed would account for it.</summary>
    OtherSetting,

    /// <summary>Nothing that was tried accounts for it.</summary>
    Unexplained,
}

/// <summary>One likely reason with what shows it.</summary>
/// <param name="Kind">What is likely.</param>
/// <param name="Words">In words, with the value, the length or the setting that shows it.</param>
/// <param name="Change">For <see cref="ReasonKind.OtherSetting"/>.</param>
public sealed record LikelyReason(ReasonKind Kind, string Words, SettingsChange? Change = null)
{
    internal static string Value(int micro, bool isPulse) => isPulse ? BeatsPerMinute.FromMicro(micro).ToString() : Percent.FromMicro(micro).ToString();

    internal static string Apart(Duration difference) => $"{new Duration(Math.Abs(difference.Milliseconds))} {(difference < Duration.Zero ? "earlier" : "later")}";
}
