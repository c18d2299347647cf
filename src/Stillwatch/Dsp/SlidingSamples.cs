namespace Stillwatch.Dsp;

/// <summary>The latest samples of an endless series in one piece of memory, found by their index in the series.</summary>
/// <param name="kept">How many of the latest samples can always be read.</param>
public sealed class SlidingSamples(int kept)
{
    private double[] items = new double[2 * kept];
    private int count;

    /// <summary>Index of the oldest sample that is still here.</summary>
    public long StartIndex { get; private set; }

    /// <summary>Index of the sample that comes next.</summary>
    public long EndIndex => StartIndex + count;

    /// <summary>Forgets all; the next sample has this index.</summary>
    public void Reset(long startIndex = 0)
    {
        StartIndex = startIndex;
        count = 0;
    }

    public void Append(ReadOnlySpan<double> samples) => samples.CopyTo(Extend(samples.Length));

    /// <summary>Makes room for so many new samples and gives it, to be filled at once.</summary>
    public Span<double> Extend(int length)
    {
        if (count + length > items.Length) MakeRoom(length);
        var room = items.AsSpan(count, length);
        count += length;
        return room;
    }

    /// <summary>The samples before this index that are not here yet are NaN.</summary>
    public void SkipTo(long index)
    {
        if (index <= EndIndex) return;
        if (index - EndIndex > kept) Reset(index - kept);
        Extend((int)(index - EndIndex)).Fill(double.NaN);
    }

    /// <summary>A stretch of samples, to be read before the next is appended.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Not, or no longer, here.</exception>
    public ReadOnlySpan<double> Slice(long fromIndex, int length) => items.AsSpan(0, count).Slice(checked((int)(fromIndex - StartIndex)), length);

    private void MakeRoom(int length)
    {
        int keep = Math.Min(count, kept);
        int leaving = count - keep;
        if (keep + length > items.Length) // a block larger than was planned for
        {
            var larger = new double[2 * (keep + length)];
            items.AsSpan(leaving, keep).CopyTo(larger);
            items = larger;
        }
        else
        {
            items.AsSpan(leaving, keep).CopyTo(items);
        }

        StartIndex += leaving;
        count = keep;
    }
}
