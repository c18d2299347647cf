namespace Stillwatch.Rehearsal;

/// <summary>
/// A small reproducible source of chance: the same seed gives the same numbers on every machine and runtime version.
/// </summary>
/// <remarks>SplitMix64 (Steele, Lea, Flood, OOPSLA 2014; constants from memory). Not for secrets.</remarks>
public sealed class SeededRandom(ulong seed)
{
    private ulong state = seed;
    private double? spareNormal;

    /// <summary>A child source for a named part, so that changing one part of a ward leaves the others as they were.</summary>
    public static SeededRandom For(ulong seed, params ReadOnlySpan<int> path)
    {
        var random = new SeededRandom(seed);
        foreach (int step in path) random = new SeededRandom(unchecked(random.NextBits() ^ ((ulong)(uint)step * 0x9E3779B97F4A7C15UL)));
        return random;
    }

    public ulong NextBits()
    {
        unchecked
        {
            state += 0x9E3779B97F4A7C15UL;
            ulong z = state;
            z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9UL;
            z = (z ^ (z >> 27)) * 0x94D049BB133111EBUL;
            return z ^ (z >> 31);
        }
    }

    /// <summary>Even over [0, 1).</summary>
    public double Unit() => (NextBits() >> 11) * (1.0 / (1UL << 53));

    /// <summary>Even over [low, high).</summary>
    public double Between(double low, double high) => low + (high - low) * Unit();

    /// <summary>A whole number from 0 to <paramref name="count"/> − 1.</summary>
    public int Index(int count) => (int)(Unit() * count);

    /// <summary>Normal with mean 0 and standard deviation 1 (Box–Muller).</summary>
    public double Normal()
    {
        if (spareNormal is { } spare)
        {
            spareNormal = null;
            return spare;
        }

        double radius = Math.Sqrt(-2 * Math.Log(1 - Unit()));
        double angle = 2 * Math.PI * Unit();
        spareNormal = radius * Math.Sin(angle);
        return radius * Math.Cos(angle);
    }

    /// <summary>Waiting time to the next of events that come at random, <paramref name="mean"/> apart on average.</summary>
    public double Wait(double mean) => -mean * Math.Log(1 - Unit());
}
