using Stillwatch.Conditioning;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Bench;

/// <summary>
/// An invented patient: SpO2 in whole percent, one row a second, the same on every machine for the same seed. A slow baseline
/// with noise, trains of dips at night, single-second spikes, dropouts to zero, rows without a number, the sensor off.
/// </summary>
internal static class PatientDay
{
    public const int Seconds = 86_400;

    /// <summary>A row without a number, in the file handed to the peers and here.</summary>
    public const short Missing = short.MinValue;

    /// <summary>Hundredths of a percent per second.</summary>
    public static short[] Hundredths(ulong seed, int seconds = Seconds)
    {
        var random = new SplitMix(seed);
        var rows = new short[seconds];
        double baseline = 95.5, noise = 0, dip = 0;
        int dipLeft = 0, dipLength = 1, untilDip = 600, gapLeft = 0, zeroLeft = 0;
        double dipDepth = 0;
        for (int i = 0; i < seconds; i++)
        {
            bool night = i % Seconds is > 28_800 and < 61_200;
            baseline += 0.004 * ((night ? 94.6 : 96.2) - baseline) + 0.02 * random.Signed();
            noise = 0.96 * noise + 0.17 * random.Signed();
            if (dipLeft == 0 && --untilDip <= 0)
            {
                dipLength = dipLeft = 25 + random.Below(60);
                dipDepth = random.Below(20) == 0 ? 12 + random.Below(14) : 2 + random.Below(9);
                untilDip = night ? 30 + random.Below(70) : 600 + random.Below(3000);
            }

            dip = dipLeft > 0 ? dipDepth * Math.Sin(Math.PI * (dipLength - dipLeft) / dipLength) : 0;
            if (dipLeft > 0) dipLeft--;
            double value = Math.Clamp(Math.Round(baseline + noise - dip), 1, 100);
            if (random.Below(900) == 0) value = Math.Max(1, value - 15 - random.Below(40)); // motion
            if (zeroLeft == 0 && random.Below(1500) == 0) zeroLeft = 1 + random.Below(7);
            if (gapLeft == 0 && random.Below(3000) == 0) gapLeft = random.Below(4) == 0 ? 30 + random.Below(400) : 1 + random.Below(25);
            if (zeroLeft > 0)
            {
                zeroLeft--;
                value = 0;
            }

            rows[i] = (short)(value * 100);
            if (gapLeft > 0)
            {
                gapLeft--;
                rows[i] = Missing;
            }
        }

        return rows;
    }

    public static ConditionedSource Source(IEnumerable<short> hundredths)
    {
        var values = new ValueColumn.Builder();
        foreach (short value in hundredths) values.Add(value == Missing ? ValueColumn.Missing : value * 10_000);
        var column = values.Build();
        var times = TimeAxis.Even(default, new Duration(1000), column.Count);
        return new ConditionedSource(new Channel("SpO2", ChannelKind.SpO2, "%", times, column), ConditionedQuantity.SpO2);
    }

    /// <summary>SplitMix64: a dozen characters that give the same numbers in any language.</summary>
    private struct SplitMix(ulong seed)
    {
        private ulong state = seed;

        public int Below(int bound) => (int)(Next() % (ulong)bound);

        /// <summary>Roughly normal: the sum of four even draws, less their mean.</summary>
        public double Signed()
        {
            double sum = -2;
            for (int i = 0; i < 4; i++) sum += (Next() >> 11) / (double)(1UL << 53);
            return sum * 1.7;
        }

        private ulong Next()
        {
            unchecked
            {
                state += 0x9E3779B97F4A7C15;
                ulong z = state;
                z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9;
                z = (z ^ (z >> 27)) * 0x94D049BB133111EB;
                return z ^ (z >> 31);
            }
        }
    }
}
