using System.Globalization;
using Stillwatch.Oximetry.Feed;

namespace Stillwatch.Oximetry.Planning;

/// <summary>
/// Whether channels that are called light can be raw light: it has a level above zero, and it falls when blood comes. Both are looked at in each channel, for a label proves neither.
/// </summary>
/// <param name="rateHz">Of the samples.</param>
/// <param name="hasRed">Whether there are two.</param>
internal sealed class LightCheck(double rateHz, bool hasRed) : IFrameSink
{
    private readonly One pulse = new(rateHz), red = new(rateHz);

    /// <summary>What is wrong with the infrared light, or the one light there is; null: nothing.</summary>
    public string? WithoutLevel => pulse.WithoutLevel();

    /// <summary>What is wrong with the red light's level; null: nothing, or no red.</summary>
    public string? RedWithoutLevel => hasRed ? red.WithoutLevel() : null;

    /// <summary>Whether the infrared light, or the one light there is, rises with blood, beyond doubt.</summary>
    public bool Rises => pulse.Rises;

    public bool RedRises => hasRed && red.Rises;

    public void Take(ReadOnlySpan<double> pulse, ReadOnlySpan<double> red)
    {
        this.pulse.Take(pulse);
        if (hasRed) this.red.Take(red);
    }

    public void TakeGap(long samples)
    {
        pulse.TakeGap(samples);
        red.TakeGap(samples);
    }

    private sealed class One(double rateHz)
    {
        // A detector's counts are never below zero but for an offset that was taken off too much; around a mean of zero half of them are.
        private const double MostBelowZero = 0.1;

        // Own choice, on rehearsed light (seeds below 9000): there the steps' skewness is below -0.1 for every shape of pulse up to 210 a minute, and beyond 0.1 the other way for none.
        private const int LeastBlocks = 3;
        private const double LeastVotes = 0.6, LeastSkewness = 0.1;

        private readonly SlopeAsymmetry asymmetry = new(rateHz);
        private long numbers, below;
        private double sum, least = double.PositiveInfinity, greatest = double.NegativeInfinity;

        /// <summary>Light falls with blood; what is known of it is turned over only where it rises beyond doubt.</summary>
        public bool Rises => asymmetry.Blocks >= LeastBlocks && asymmetry.Votes >= LeastVotes * asymmetry.Blocks && asymmetry.MeanSkewness > LeastSkewness;

        public void Take(ReadOnlySpan<double> values)
        {
            asymmetry.Take(values, default);
            foreach (double value in values)
            {
                if (!(Math.Abs(value) <= Streaming.Intake.GreatestMagnitude)) continue;
                numbers++;
                if (value < 0) below++;
                sum += value;
                (least, greatest) = (Math.Min(least, value), Math.Max(greatest, value));
            }
        }

        public void TakeGap(long samples) => asymmetry.TakeGap(samples);

        public string? WithoutLevel() => numbers == 0 || below <= MostBelowZero * numbers ? null
            : string.Create(CultureInfo.InvariantCulture,
                $"found {100.0 * below / numbers:0} % of its values below zero ({least:G4} to {greatest:G4}, mean {sum / numbers:G3}), expected raw light above zero; likely cause: the recording holds the pulse without its level, or light that was turned over");
    }
}
