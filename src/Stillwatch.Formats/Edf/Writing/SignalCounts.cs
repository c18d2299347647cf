using Stillwatch.Signals;

namespace Stillwatch.Formats.Edf.Writing;

/// <summary>Makes the counts of the file from what a channel holds.</summary>
/// <param name="scale">As the header states it.</param>
/// <param name="noNumber">For a row without a number.</param>
/// <param name="noRow">For a place without a row.</param>
internal abstract class SignalCounts(SignalScale scale, int noNumber, int noRow)
{
    public SignalScale Scale { get; } = scale;

    public int NoNumber { get; } = noNumber;

    public int NoRow { get; } = noRow;

    /// <summary>Whether some row has no number.</summary>
    public bool HasRowsWithoutNumber { get; init; }

    /// <summary>Whether values are rounded.</summary>
    public bool IsRounded { get; init; }

    /// <summary>The greatest so far, in the unit; zero where nothing is rounded.</summary>
    public double GreatestError { get; protected set; }

    /// <summary>In place: what the column holds (its missing value too) → counts of the file.</summary>
    public abstract void Convert(Span<int> samples);

    /// <summary>The very counts of a converter.</summary>
    public sealed class AsTheyAre(SignalScale scale, int noNumber, int noRow) : SignalCounts(scale, noNumber, noRow)
    {
        public override void Convert(Span<int> samples) => samples.Replace(CountColumn.Missing, NoNumber);
    }

    /// <summary>Millionths on a scale; exact or rounded to the nearest count.</summary>
    public sealed class OfDecimals(SignalScale scale, int noNumber, int noRow) : SignalCounts(scale, noNumber, noRow)
    {
        private readonly DecimalsToCounts convert = new(scale);

        public override void Convert(Span<int> samples)
        {
            for (int i = 0; i < samples.Length; i++)
            {
                int micro = samples[i];
                if (micro == ValueColumn.Missing)
                {
                    samples[i] = NoNumber;
                    continue;
                }

                samples[i] = convert.CountOf(micro);
                if (IsRounded) GreatestError = Math.Max(GreatestError, Math.Abs(Scale.Calibration.ValueOf(samples[i]) - micro / 1e6));
            }
        }
    }

    /// <summary>Counts on a coarser scale, or a file's scale said otherwise; rounded.</summary>
    public sealed class Rounded(SignalScale scale, Calibration from, int noNumber, int noRow) : SignalCounts(scale, noNumber, noRow)
    {
        public override void Convert(Span<int> samples)
        {
            var to = Scale.Calibration;
            double origin = to.Origin, offset = (double)to.Offset, countsPerUnit = (double)to.Denominator / (double)to.Numerator;
            for (int i = 0; i < samples.Length; i++)
            {
                if (samples[i] == CountColumn.Missing)
                {
                    samples[i] = NoNumber;
                    continue;
                }

                double value = from.ValueOf(samples[i]);
                double count = Math.Round(origin + (value - offset) * countsPerUnit);
                samples[i] = (int)Math.Clamp(count, Scale.DigitalMinimum, Scale.DigitalMaximum);
                GreatestError = Math.Max(GreatestError, Math.Abs(to.ValueOf(samples[i]) - value));
            }
        }
    }
}

/// <summary>Millionths → the nearest count of a scale, by whole numbers.</summary>
internal readonly struct DecimalsToCounts(SignalScale scale)
{
    private readonly int origin = scale.DigitalMinimum;
    private readonly long counts = scale.DigitalMaximum - (long)scale.DigitalMinimum;
    private readonly long offsetMicro = (long)(scale.PhysicalMinimum * 1_000_000m);
    private readonly long spanMicro = (long)((scale.PhysicalMaximum - scale.PhysicalMinimum) * 1_000_000m);

    public int CountOf(int micro)
    {
        long scaled = (micro - offsetMicro) * counts; // below 10^17
        long half = spanMicro / 2;
        return (int)(origin + (scaled >= 0 ? scaled + half : scaled - half) / spanMicro);
    }
}
