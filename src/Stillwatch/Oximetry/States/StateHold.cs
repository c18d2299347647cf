namespace Stillwatch.Oximetry.States;

/// <summary>
/// A disturbance is over when it has been away for five seconds, or for ten as long as no number has been trusted yet: between two jerks lies often a second that looks
/// quiet and is not. Holds back numbers, never a worse state.
/// </summary>
public sealed class StateHold
{
    /// <summary>Own choice, fixed on rehearsed light (seeds below 9000).</summary>
    public const int QuietSeconds = 5, FirstQuietSeconds = 10;

    private LightState last = LightState.Valid;
    private long lastSecond;

    /// <summary>What is said of a second whose own evidence gives that state.</summary>
    /// <param name="second">Its index; greater than the last one's.</param>
    /// <param name="own">By the rules.</param>
    /// <param name="isTrusted">Whether a number has been shown since the start.</param>
    public LightState Next(long second, LightState own, bool isTrusted)
    {
        if (own is LightState.SensorOff or LightState.Ambient or LightState.Flicker or LightState.Motion)
        {
            last = own;
            lastSecond = second;
            return own;
        }

        return own == LightState.Valid && last != LightState.Valid && second - lastSecond <= (isTrusted ? QuietSeconds : FirstQuietSeconds) ? last : own;
    }

    public void Reset() => last = LightState.Valid;
}
