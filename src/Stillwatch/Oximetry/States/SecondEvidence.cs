namespace Stillwatch.Oximetry.States;

/// <summary>
/// All that the rules of <see cref="StateRules"/> look at when they judge a second; NaN: not known, and then no rule speaks of it. "Near": the beats of about
/// four seconds around it, "window": those that are averaged.
/// </summary>
public readonly record struct SecondEvidence
{
    /// <summary>A second about which nothing is wrong, for rules to be tried on.</summary>
    public static SecondEvidence Quiet { get; } = new()
    {
        LevelOfReference = 1,
        LevelOfGreatest = 1,
        FlatShare = 0,
        ClippedShare = 0,
        StepOfPulse = 0,
        StepAlikeInCounts = double.NaN,
        NearBeats = 4,
        WindowBeats = 8,
        Shape = 0.98,
        Skewness = 0.6,
        SpectralShare = 0.95,
        LineShare = 0,
        LineInCounts = double.NaN,
        LineOfPulse = double.NaN,
        PulseInCounts = 0.3,
        LineSeconds = 0,
        PeakHz = 1.25,
        PeakOvertone = 0.3,
        PeakInCounts = 0.3,
        PulseHz = 1.2,
        IntervalSpread = 1.1,
        AmplitudeSpread = 1.2,
        AmplitudeOfReference = 1,
        Wander = 0.1,
        Unlike = 0.01,
        Ratio = 0.4,
        RatioScatter = 0.02,
        RatioError = 0.005,
        RatioChange = 0.02,
        RatioApart = 0.01,
        PulseOverNoise = 100,
        NoiseOfLevel = 0.0001,
        SecondsSinceStart = 60,
    };

    /// <summary>Mean raw light over that of the last trusted seconds; of both channels the one that is further away.</summary>
    public double LevelOfReference { get; init; }

    /// <summary>Mean raw light over the greatest second's since the start of the stream; of both channels the lower.</summary>
    public double LevelOfGreatest { get; init; }

    /// <summary>Share of the second in the longest run of one value; of both channels the less.</summary>
    public double FlatShare { get; init; }

    /// <summary>Share of the second at an end of the converter, the most of this second and its neighbours; of both channels the greater.</summary>
    public double ClippedShare { get; init; }

    /// <summary>The most abrupt step of the level near this second, over the pulse's amplitude; a pulse's own rise is below 0.5.</summary>
    public double StepOfPulse { get; init; }

    /// <summary>
    /// Whether that step is as many counts in red as in infrared, as added light is (0), or as large a share of each, as movement is (1); NaN: no step, or no telling.
    /// </summary>
    public double StepAlikeInCounts { get; init; }

    public int NearBeats { get; init; }

    public int WindowBeats { get; init; }

    /// <summary>Median correlation of the near beats with the mean shape.</summary>
    public double Shape { get; init; }

    /// <summary>Median skewness of the near beats.</summary>
    public double Skewness { get; init; }

    /// <summary>Share of the power at the pulse rate and its multiples, over 8 s.</summary>
    public double SpectralShare { get; init; }

    /// <summary>Share of the power in the strongest narrow line beside them.</summary>
    public double LineShare { get; init; }

    /// <summary>Slope of red on infrared in that line, in counts: 1 where it is light from elsewhere; NaN: no line, or one channel.</summary>
    public double LineInCounts { get; init; }

    /// <summary>Slope of red on infrared at the pulse rate, in counts; NaN: one channel.</summary>
    public double PulseInCounts { get; init; }

    /// <summary>Where that line is, over the pulse rate; NaN: no line.</summary>
    public double LineOfPulse { get; init; }

    /// <summary>Seconds on end for which a line of more than a twentieth of the power has stood there.</summary>
    public double LineSeconds { get; init; }

    /// <summary>Where the most power is, Hz.</summary>
    public double PeakHz { get; init; }

    /// <summary>Power at twice that frequency over the power there: a pulse has overtones, a lamp hardly any; NaN: beyond what is looked at.</summary>
    public double PeakOvertone { get; init; }

    /// <summary>Slope of red on infrared there, in counts: 1 where it is light from elsewhere; NaN: one channel.</summary>
    public double PeakInCounts { get; init; }

    /// <summary>Pulse rate, 1/s, from the median interval of the window.</summary>
    public double PulseHz { get; init; }

    /// <summary>Longest over shortest interval of the near beats.</summary>
    public double IntervalSpread { get; init; }

    /// <summary>Greatest over least amplitude of the near beats.</summary>
    public double AmplitudeSpread { get; init; }

    /// <summary>Median amplitude of the near beats over that of the last trusted seconds.</summary>
    public double AmplitudeOfReference { get; init; }

    /// <summary>Median change of the level from trough to trough of the near beats, over their amplitude.</summary>
    public double Wander { get; init; }

    /// <summary>Share of red's movement in the near beats that infrared does not explain, beyond what noise does.</summary>
    public double Unlike { get; init; }

    /// <summary>The window's ratio of ratios.</summary>
    public double Ratio { get; init; }

    /// <summary>How far the window's beats lie from it, as a share of it.</summary>
    public double RatioScatter { get; init; }

    /// <summary>Standard error of the window's ratio.</summary>
    public double RatioError { get; init; }

    /// <summary>How far the two estimates of the window's ratio lie apart, as a share of it.</summary>
    public double RatioApart { get; init; }

    /// <summary>The window's ratio minus the last trusted one.</summary>
    public double RatioChange { get; init; }

    /// <summary>Median amplitude of the near beats over one standard deviation of the noise after the band-pass.</summary>
    public double PulseOverNoise { get; init; }

    /// <summary>One standard deviation of the noise from sample to sample, over the light; of both channels the greater.</summary>
    public double NoiseOfLevel { get; init; }

    public double SecondsSinceStart { get; init; }

    /// <summary>The same second as if nothing had come before it: no level, size or ratio to compare it with.</summary>
    public SecondEvidence WithoutThePast() => this with
    {
        LevelOfReference = double.NaN,
        LevelOfGreatest = double.NaN,
        AmplitudeOfReference = double.NaN,
        RatioChange = double.NaN,
    };
}
