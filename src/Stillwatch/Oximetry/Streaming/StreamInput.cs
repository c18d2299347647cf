using Stillwatch.Time;

namespace Stillwatch.Oximetry;

/// <summary>What kind of samples a stream is given.</summary>
/// <param name="Rate">Even, 25 to 500 a second.</param>
/// <param name="HasRed">Whether red light comes beside the pulse's channel; only then is there a saturation.</param>
/// <param name="FallsWithBlood">Whether the values fall when blood volume rises, as light through tissue does.</param>
/// <param name="IsLight">Whether zero means no light. Then the chain works on the negative natural logarithm, and the values must be above zero.</param>
public sealed record StreamInput(SampleRate Rate, bool HasRed, bool FallsWithBlood, bool IsLight)
{
    /// <summary>The lowest rate at which a pulse keeps its shape: common practice, no source.</summary>
    public const double LeastRateHz = 25;

    public const double GreatestRateHz = 500;

    /// <summary>Red and infrared light: transmitted or reflected, it falls when blood rises.</summary>
    public static StreamInput RedAndInfrared(SampleRate rate) => new(rate, HasRed: true, FallsWithBlood: true, IsLight: true);

    /// <summary>One pleth of unknown zero that rises with blood.</summary>
    public static StreamInput Pleth(SampleRate rate) => new(rate, HasRed: false, FallsWithBlood: false, IsLight: false);
}
