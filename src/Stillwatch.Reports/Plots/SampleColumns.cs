using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Reports.Plots;

/// <summary>The samples of a waveform within a span: as they are where there is room, thinned to lowest and highest of each pixel column where not.</summary>
internal static class SampleColumns
{
    /// <summary>Lowest and highest of a column; NaN: no sample in it.</summary>
    public readonly record struct Column(double Least, double Greatest)
    {
        public bool HasValue => !double.IsNaN(Least);
    }

    /// <summary>One pass over the channel; samples without a number are passed over.</summary>
    public static Column[] Of(Channel channel, SampleTime from, SampleTime to, int columns)
    {
        var found = new Column[columns];
        Array.Fill(found, new Column(double.NaN, double.NaN));
        double width = (to - from).Milliseconds / (double)columns;
        foreach (var (time, value) in Within(channel, from, to))
        {
            int c = Math.Clamp((int)((time - from.Milliseconds) / width), 0, columns - 1);
            found[c] = found[c].HasValue ? new Column(Math.Min(found[c].Least, value), Math.Max(found[c].Greatest, value)) : new Column(value, value);
        }

        return found;
    }

    /// <summary>Time in milliseconds and value of each sample with a number in [from, to].</summary>
    public static IEnumerable<(long Milliseconds, double Value)> Within(Channel channel, SampleTime from, SampleTime to)
    {
        var times = new long[TimeAxis.ChunkLength];
        var values = new double[TimeAxis.ChunkLength];
        int first = channel.Times.IndexAtOrAfter(from);
        for (int c = first / TimeAxis.ChunkLength; c < channel.Times.ChunkCount; c++)
        {
            int length = channel.Times.CopyChunk(c, times);
            channel.CopyValues(c, values);
            for (int i = c == first / TimeAxis.ChunkLength ? first % TimeAxis.ChunkLength : 0; i < length; i++)
            {
                if (times[i] > to.Milliseconds) yield break;
                if (double.IsFinite(values[i])) yield return (times[i], values[i]);
            }
        }
    }
}
