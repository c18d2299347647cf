using Stillwatch.Time;

namespace Stillwatch.Storage.Recordings;

/// <summary>What a channel looks like between two times, in as many columns as a picture has: least and greatest value of each.</summary>
/// <param name="From">Start of the first column.</param>
/// <param name="To">End of the last.</param>
/// <param name="Least">One value a column in the channel's unit; NaN where the column holds no number.</param>
/// <param name="Greatest">Likewise.</param>
/// <param name="Rows">Rows with a number in each column.</param>
/// <remarks>
/// Read from the coarsest level of the stored pyramid that is finer than a column, so a column's edge may lie up to one entry of that
/// level off; an entry that reaches over <see cref="From"/> is part of the first column, so that nothing in sight is left out. Where a
/// column is shorter than 64 typical steps from row to row, the samples themselves are read and nothing is rounded. Gaps stay empty.
/// </remarks>
public sealed record ChannelWindow(SampleTime From, SampleTime To, float[] Least, float[] Greatest, int[] Rows)
{
    public int Columns => Least.Length;
}
