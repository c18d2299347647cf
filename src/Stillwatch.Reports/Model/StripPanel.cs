using Stillwatch.Conditioning;
using Stillwatch.Quantities;
using Stillwatch.Reports.Plots;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Reports.Model;

/// <summary>What a panel of the strip shows, in the order from top to bottom.</summary>
public enum StripPanelKind
{
    SpO2,
    PulseRate,
    Perfusion,
    Quality,
    InhaledOxygen,
    Pleth,
    Other,
}

/// <summary>One channel over one window, thinned to lowest and highest of each column: no low is lost at any width.</summary>
public sealed record StripPanel
{
    /// <param name="kind">Decides place, height and scale.</param>
    /// <param name="label">"SpO2".</param>
    /// <param name="unit">May be empty.</param>
    /// <param name="span">From the start of the first column to the end of the last.</param>
    /// <param name="least">Lowest value of each column; NaN: no number in it.</param>
    /// <param name="greatest">Highest value of each column.</param>
    /// <param name="hold">How long a number stands without another, or how far apart two samples of an unbroken wave lie; zero: columns are filled throughout.</param>
    /// <exception cref="ArgumentException">The two arrays differ in length or are empty.</exception>
    public StripPanel(StripPanelKind kind, string label, string unit, TimeSlice span, float[] least, float[] greatest, Duration hold)
    {
        if (least.Length != greatest.Length || least.Length == 0)
            throw new ArgumentException($"Panel {label}: found {least.Length} lowest and {greatest.Length} highest values, expected as many of each, at least one.", nameof(least));
        (Kind, Label, Unit, Span, Least, Greatest, Hold) = (kind, label, unit, span, least, greatest, hold);
    }

    public StripPanelKind Kind { get; }

    public string Label { get; }

    public string Unit { get; }

    public TimeSlice Span { get; }

    public IReadOnlyList<float> Least { get; }

    public IReadOnlyList<float> Greatest { get; }

    public Duration Hold { get; }

    /// <summary>Values at the bottom and the top, so that the scale stands still while the window moves; null: from what the window holds.</summary>
    public (double From, double To)? Range { get; init; }

    /// <summary>A series in memory: what was compared with limits. Lost time is empty columns.</summary>
    public static StripPanel OfSeries(StripPanelKind kind, string label, string unit, ConditionedSeries series, TimeSlice window, int columns)
    {
        var envelope = Envelope.Of(series, window.Start, window.End, columns);
        return new StripPanel(
            kind, label, unit, window,
            [.. envelope.Select(c => c.HasValue ? c.MinMicro / (float)FixedPoint.One : float.NaN)],
            [.. envelope.Select(c => c.HasValue ? c.MaxMicro / (float)FixedPoint.One : float.NaN)],
            Duration.Zero);
    }

    /// <summary>A channel in memory, row by row as the source has it.</summary>
    /// <param name="kind">Decides place, height and scale.</param>
    /// <param name="channel">Rows without a number are passed over.</param>
    /// <param name="window">What is shown.</param>
    /// <param name="columns">In how many columns.</param>
    /// <param name="hold">Null: three periods.</param>
    public static StripPanel OfChannel(StripPanelKind kind, Channel channel, TimeSlice window, int columns, Duration? hold = null)
    {
        var found = SampleColumns.Of(channel, window.Start, window.End, columns);
        return new StripPanel(
            kind, channel.Label, channel.Unit, window, [.. found.Select(c => (float)c.Least)], [.. found.Select(c => (float)c.Greatest)],
            hold ?? new Duration(Math.Max(1, channel.Times.Period.Milliseconds) * 3));
    }
}
