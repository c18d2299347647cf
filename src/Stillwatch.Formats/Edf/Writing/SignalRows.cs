using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Formats.Edf.Writing;

/// <summary>Hands out the rows of one channel as counts on their grid, forwards, a chunk of rows in memory.</summary>
internal sealed class SignalRows(Channel channel, ChannelGrid grid, SignalCounts counts)
{
    private readonly int[] samples = new int[TimeAxis.ChunkLength];
    private readonly long[] times = new long[grid.IsEven ? 0 : TimeAxis.ChunkLength];
    private int chunkIndex = -1;
    private int length;
    private int position;
    private long firstRow;

    /// <summary>Fills the places from <paramref name="firstPlace"/> on; calls must go forwards.</summary>
    public void Fill(long firstPlace, Span<int> to)
    {
        to.Fill(counts.NoRow);
        while (HasRow())
        {
            if (grid.Stride == 1)
            {
                long place = grid.FirstPlace + firstRow + position - firstPlace;
                if (place >= to.Length) return;
                int taken = (int)Math.Min(length - position, to.Length - place);
                samples.AsSpan(position, taken).CopyTo(to[(int)place..]);
                position += taken;
            }
            else
            {
                long place = (grid.IsEven ? grid.FirstPlace + (firstRow + position) * grid.Stride : grid.PlaceAt(times[position])) - firstPlace;
                if (place >= to.Length) return;
                to[(int)place] = samples[position++];
            }
        }
    }

    private bool HasRow()
    {
        if (position < length) return true;
        if (chunkIndex + 1 >= channel.Times.ChunkCount) return false;
        firstRow += length;
        chunkIndex++;
        length = channel.Counts?.CopyChunk(chunkIndex, samples) ?? channel.Values.CopyChunk(chunkIndex, samples);
        if (!grid.IsEven) channel.Times.CopyChunk(chunkIndex, times);
        counts.Convert(samples.AsSpan(0, length));
        position = 0;
        return true;
    }
}
