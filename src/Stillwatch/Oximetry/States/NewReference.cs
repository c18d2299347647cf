namespace Stillwatch.Oximetry.States;

/// <summary>
/// When light that is unlike what was trusted before is trusted again: after so many seconds on end in which nothing but the comparison with the past speaks against it, and in which it
/// looks like a pulse at rest and stays what it is. Without this a real change in the patient would be refused for ever, for what is refused teaches nothing.
/// </summary>
/// <remarks>
/// Own choice, fixed on rehearsed light (seeds below 9000). A wait that does not depend on how far the new differs from the old is bounded; what is asked of each second is more than the
/// rules ask of one that follows a trusted one, for here nothing vouches for it.
/// </remarks>
internal sealed class NewReference
{
    /// <summary>Seconds on end that are needed; each has the whole averaging window around it.</summary>
    public const int NeededSeconds = 8;

    /// <summary>So many where the light itself is another by a sixth: a sensor that has moved may lie badly, and steady light beside the tissue looks like a pulse too.</summary>
    public const int NeededWhenMovedSeconds = 14;

    private const double LeastShape = 0.93;
    private const double LeastSpectralShare = 0.7;
    private const double MostSigns = 1;
    private const double MostApart = 0.1; // the two estimates of the ratio, as a share of it
    private const double MostRatioStep = 0.06; // from second to second: blood that changes by two percent a second
    private const double MostSizeStep = 1.35;

    private long lastSecond = -1;
    private int seconds;
    private double ratio, amplitude;

    /// <summary>True where the light of this second may be trusted, whatever was trusted before.</summary>
    /// <param name="second">Its index; greater than the last one's.</param>
    /// <param name="evidence">Of this second.</param>
    /// <param name="windowAmplitude">Median of the averaging window.</param>
    /// <param name="hasMoved">Whether the level is another than in the last trusted second.</param>
    public bool Take(long second, in SecondEvidence evidence, double windowAmplitude, bool hasMoved)
    {
        bool isOn = second == lastSecond + 1 && seconds > 0;
        bool isSame = !isOn || (!(Math.Abs(evidence.Ratio - ratio) > MostRatioStep) && !(Math.Abs(Math.Log(windowAmplitude / amplitude)) > Math.Log(MostSizeStep)));
        lastSecond = second;
        (ratio, amplitude) = (evidence.Ratio, windowAmplitude);
        seconds = !LooksAtRest(evidence) ? 0 : isOn && isSame ? seconds + 1 : 1;
        return seconds >= (hasMoved ? NeededWhenMovedSeconds : NeededSeconds);
    }

    public void Reset()
    {
        lastSecond = -1;
        seconds = 0;
    }

    private static bool LooksAtRest(in SecondEvidence e) =>
        StateRules.Judge(e.WithoutThePast()) == LightState.Valid
        && e.Shape >= LeastShape && !(e.SpectralShare < LeastSpectralShare) && MovementSigns.Of(e) <= MostSigns && !(e.RatioApart > MostApart);
}
