namespace Stillwatch.Tuning.Proposals;

/// <summary>
/// Repeatable draws from one seed, the same on every machine and version.
/// </summary>
/// <remarks>The mixing function of Steele, Lea and Flood, OOPSLA 2014 (from memory); good enough for resampling, not for secrets.</remarks>
internal struct SeededDraws(ulong seed)
{
    private ulong state = seed;

    public ulong NextBits()
    {
        unchecked // wrapping is what the mixing is made of
        {
            state += 0x9E3779B97F4A7C15UL;
            ulong z = state;
            z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9UL;
            z = (z ^ (z >> 27)) * 0x94D049BB133111EBUL;
            return z ^ (z >> 31);
        }
    }

    /// <summary>A whole number from 0 to <paramref name="below"/> − 1, each as likely to within 2⁻³².</summary>
    public int Below(int below) => (int)(((NextBits() >> 32) * (ulong)below) >> 32);

    /// <summary>Puts the items in an order drawn from the seed.</summary>
    public void Shuffle<T>(T[] items)
    {
        for (int i = items.Length - 1; i > 0; i--)
        {
            int j = Below(i + 1);
            (items[i], items[j]) = (items[j], items[i]);
        }
    }

    /// <summary>Another seed for another purpose, so that drawing more for one never shifts another.</summary>
    public static SeededDraws For(ulong seed, ulong purpose)
    {
        unchecked // wrapping is what the mixing is made of
        {
            return new SeededDraws(new SeededDraws(seed ^ (purpose * 0xD1342543DE82EF95UL)).NextBits());
        }
    }
}
