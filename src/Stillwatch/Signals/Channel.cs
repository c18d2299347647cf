using Stillwatch.Quantities;
using Stillwatch.Time;

namespace Stillwatch.Signals;

/// <summary>One measured channel: its rows' times and values. Channels of one file may share their <see cref="TimeAxis"/>.</summary>
/// <remarks>
/// What the rules judge (SpO2, pulse rate, quality …) is held in exact decimals, <see cref="Values"/>. A waveform may be held as its
/// converter's counts instead, <see cref="Counts"/>; <see cref="CopyValues"/> reads either.
/// </remarks>
public sealed class Channel
{
    private readonly ValueColumn? values;

    public Channel(string label, ChannelKind kind, string unit, TimeAxis times, ValueColumn values)
        : this(label, kind, unit, times, values.Count)
    {
        this.values = values;
    }

    /// <exception cref="ArgumentException">The rules judge channels of this kind, and they need decimals.</exception>
    public Channel(string label, ChannelKind kind, string unit, TimeAxis times, CountColumn counts)
        : this(label, kind, unit, times, counts.Count)
    {
        if (!kind.MayBeCounts()) throw new ArgumentException($"Channel '{label}': found counts for {kind}, expected decimals.", nameof(counts));
        Counts = counts;
    }

    private Channel(string label, ChannelKind kind, string unit, TimeAxis times, int count)
    {
        if (times.Count != count) throw new ArgumentException($"Channel '{label}': found {count} values, expected one for each of {times.Count} times.");
        Label = label;
        Kind = kind;
        Unit = unit;
        Times = times;
    }

    /// <summary>The label as the source gives it.</summary>
    public string Label { get; }

    public ChannelKind Kind { get; }

    /// <summary>The unit after reading ("%", "/min", "1"); empty where unknown.</summary>
    public string Unit { get; }

    public TimeAxis Times { get; }

    /// <exception cref="InvalidOperationException">The channel is held as <see cref="Counts"/>.</exception>
    public ValueColumn Values => values ?? throw new InvalidOperationException($"Channel '{Label}' is held as counts; read it by CopyValues.");

    /// <summary>The converter's counts where a waveform is held as such; otherwise null.</summary>
    public CountColumn? Counts { get; }

    /// <summary>Writes the values of one chunk of <see cref="Times"/> in the unit (NaN: no number) and returns their count.</summary>
    /// <param name="chunkIndex">Of <see cref="Times"/>.</param>
    /// <param name="to">At least <see cref="TimeAxis.ChunkLength"/> long.</param>
    public int CopyValues(int chunkIndex, Span<double> to)
    {
        if (Counts is not null) return Counts.CopyValues(chunkIndex, to);
        Span<int> micro = stackalloc int[TimeAxis.ChunkLength];
        int length = Values.CopyChunk(chunkIndex, micro);
        for (int i = 0; i < length; i++) to[i] = micro[i] == ValueColumn.Missing ? double.NaN : micro[i] / (double)FixedPoint.One;
        return length;
    }
}
