namespace Stillwatch.Rehearsal.Sensor;

/// <summary>How a rehearsed sensor and the finger under it are made. The values are our own unless a source stands beside them.</summary>
public sealed record OpticalSensorSettings
{
    public static readonly OpticalSensorSettings Default = new();

    /// <summary>A foot or hand of the newborn: another shape, little sinus variation.</summary>
    public static readonly OpticalSensorSettings Newborn = new() { Shape = PulseShape.Newborn, SinusVariation = 0.01, SlowVariation = 0.015 };

    /// <summary>Nothing but the pulse: no breathing in it, no noise, no drift, every beat alike. For checks of the arithmetic.</summary>
    public static readonly OpticalSensorSettings Ideal = new()
    {
        Bits = 24,
        NoisePercent = 0,
        DriftPercent = 0,
        BreathBaselinePercent = 0,
        BreathAmplitude = 0,
        SinusVariation = 0,
        SlowVariation = 0,
        BreathVariation = 0,
    };

    public BloodTable Blood { get; init; } = BloodTable.GratzerKollias;

    public InfraredLamp Infrared { get; init; } = InfraredLamp.At940Nanometres;

    public PulseShape Shape { get; init; } = PulseShape.Adult;

    /// <summary>20 to 1000.</summary>
    public int SamplesPerSecond { get; init; } = 125;

    /// <summary>
    /// Of the converter, 8 to 24; its counts go from 0 (no light) to 2^bits − 1. At 18 a perfusion of 0.2 % is 210 counts of infrared from trough to
    /// peak, and 71 of red at 97 % saturation. 15 is the most that a 16-bit file holds without rounding: a step is then three quarters of the noise, which
    /// still hides it.
    /// </summary>
    public int Bits { get; init; } = 18;

    /// <summary>Red light through a quiet finger between two pulses (97 % saturation, venous 75 %) over the converter's range.</summary>
    public double RedLevel { get; init; } = 0.32;

    /// <summary>Infrared light through a quiet finger between two pulses over the converter's range.</summary>
    public double InfraredLevel { get; init; } = 0.40;

    /// <summary>Brightness of both lamps over the one set for the finger: above about 2.4 the converter is at its end.</summary>
    public double Brightness { get; init; } = 1;

    /// <summary>
    /// White noise of each sample, one standard deviation over the mean light, in percent. A photocurrent of 1 µA gathered for 100 µs is 6·10^8
    /// electrons, whose own chance is 0.004 %; amplifier and converter are given as much again and more.
    /// </summary>
    public double NoisePercent { get; init; } = 0.01;

    /// <summary>Slow wander of the lamps, one standard deviation over the mean light, in percent; over about a minute, nearly alike in both.</summary>
    public double DriftPercent { get; init; } = 0.05;

    /// <summary>
    /// How far breathing moves the infrared light by venous blood, trough to peak in percent, at usual effort and a perfusion of 1 %; it goes with the root
    /// of the perfusion, for a cold hand holds less venous blood too.
    /// </summary>
    public double BreathBaselinePercent { get; init; } = 0.25;

    /// <summary>How far breathing changes the pulse's height, up and down, at usual effort.</summary>
    public double BreathAmplitude { get; init; } = 0.08;

    /// <summary>How far breathing changes the time between beats, up and down, at usual depth.</summary>
    public double SinusVariation { get; init; } = 0.04;

    /// <summary>Slow variation of the time between beats, one standard deviation.</summary>
    public double SlowVariation { get; init; } = 0.02;

    /// <summary>Variation of the time between breaths, one standard deviation.</summary>
    public double BreathVariation { get; init; } = 0.05;

    /// <summary>Pulse of the venous blood over that of the arterial blood, in infrared; a congested vein may reach a third.</summary>
    public double VenousPulse { get; init; }

    /// <summary>How much of the movement's light is moved venous blood; the rest is a change of path that knows no colour.</summary>
    public double MotionVenousShare { get; init; } = 0.5;

    /// <summary>How much of the movement differs between red and infrared, which take different ways through the tissue.</summary>
    public double MotionUnlike { get; init; } = 0.1;

    /// <summary>How much of steady light from elsewhere is left when the sample without lamp has been taken off.</summary>
    public double AmbientLeft { get; init; } = 0.02;

    /// <summary>Light from elsewhere, over the mean infrared light, from which the amplifier before the converter is at its end.</summary>
    public double AmbientLimit { get; init; } = 5;

    /// <summary>How the light from elsewhere grows when no tissue shades the detector.</summary>
    public double AmbientUnshaded { get; init; } = 20;

    /// <summary>How much of the lamps' light a sensor without tissue gives back, over the mean light of a finger.</summary>
    public double OffLevel { get; init; } = 0.004;

    /// <summary>How deep the light beside the tissue is moved by the pulse, over the infrared pulse: the skin's edge moves in the beam and knows no colour.</summary>
    public double EdgePulse { get; init; } = 0.6;

    /// <exception cref="ArgumentOutOfRangeException">A value that no sensor can have.</exception>
    internal OpticalSensorSettings Checked()
    {
        Within(SamplesPerSecond, 20, 1000, nameof(SamplesPerSecond));
        Within(Bits, 8, 24, nameof(Bits));
        Within(RedLevel, 1e-3, 1, nameof(RedLevel));
        Within(InfraredLevel, 1e-3, 1, nameof(InfraredLevel));
        Within(Brightness, 0, 1000, nameof(Brightness));
        Within(NoisePercent, 0, 100, nameof(NoisePercent));
        Within(DriftPercent, 0, 10, nameof(DriftPercent));
        Within(BreathBaselinePercent, 0, 10, nameof(BreathBaselinePercent));
        Within(BreathAmplitude, 0, 0.9, nameof(BreathAmplitude));
        Within(SinusVariation, 0, 0.4, nameof(SinusVariation));
        Within(SlowVariation, 0, 0.2, nameof(SlowVariation));
        Within(BreathVariation, 0, 0.2, nameof(BreathVariation));
        Within(VenousPulse, 0, 1, nameof(VenousPulse));
        Within(MotionVenousShare, 0, 1, nameof(MotionVenousShare));
        Within(MotionUnlike, 0, 1, nameof(MotionUnlike));
        Within(AmbientLeft, 0, 1, nameof(AmbientLeft));
        Within(AmbientLimit, 0, 1e6, nameof(AmbientLimit));
        Within(AmbientUnshaded, 1, 1e6, nameof(AmbientUnshaded));
        Within(OffLevel, 0, 1, nameof(OffLevel));
        Within(EdgePulse, 0, 1, nameof(EdgePulse));
        Within(Shape.RiseShare, 0.05, 0.4, "Shape.RiseShare");
        Within(Shape.FallShare, 0.05, 0.4, "Shape.FallShare");
        Within(Shape.DicroticHeight, 0, 0.7, "Shape.DicroticHeight");
        Within(Shape.DicroticDelayShare, 0.1, 0.6, "Shape.DicroticDelayShare");
        Within(Shape.DicroticWidthShare, 0.03, 0.3, "Shape.DicroticWidthShare");
        Within(Shape.RunOffShare, 0.03, 0.5, "Shape.RunOffShare");
        return this;
    }

    private static void Within(double value, double least, double most, string name)
    {
        if (!(value >= least && value <= most)) throw new ArgumentOutOfRangeException(name, $"Sensor, {name}: found {value}, expected {least} to {most}.");
    }
}
