namespace Stillwatch.Oximetry.States;

/// <summary>
/// A disturbance is over when it has been away for five seconds: between two jerks lies often a second that looks quiet and is not. Holds back numbers, never
/// a worse state.
/// </summary>
public sealed class StateHold
{
    /// <summary>Own choice, fixed on rehearsed light (seeds below 9000).</summary>
    public const int QuietSeconds = 5;

    private LightState last = LightState.Valid;
    private long lastSecond;

    /// <summary>What is said of a second whose own evidence gives that state.</summary>
    public LightState Next(long second, LightState own)
    {
        if (own is LightState.SensorOff or LightState.Ambient or LightState.Flicker or LightState.Motion)
        {
            last = own;
            lastSecond = second;
            return own;
        }

        return own == LightState.Valid && last != LightState.Valid && second - lastSecond <= QuietSeconds ? last : own;
    }

    public void Reset() => last = LightState.Valid;
}
