using Stillwatch.Time;

namespace Stillwatch.Conditioning;

/// <summary>
/// A channel after validity rules, averaging, hold and rounding: what every alarm decision is made on. Held in memory as
/// pieces of constant value, in time order; between pieces that do not touch lies lost time.
/// </summary>
public sealed class ConditionedSeries
{
    private readonly List<Piece> pieces;

    private ConditionedSeries(List<Piece> pieces, SampleTime start, SampleTime end)
    {
        this.pieces = pieces;
        Start = start;
        End = end;
        foreach (var piece in pieces) Valid += piece.Length;
    }

    /// <summary>A stretch [Start, End) of one value.</summary>
    /// <param name="Start">First instant.</param>
    /// <param name="End">First instant after it.</param>
    /// <param name="Micro">The compared value in millionths.</param>
    /// <param name="Arrival">How it relates to the piece before it.</param>
    public readonly record struct Piece(SampleTime Start, SampleTime End, int Micro, Arrival Arrival)
    {
        public Duration Length => End - Start;
    }

    public IReadOnlyList<Piece> Pieces => pieces;

    /// <summary>The first row's time, valid or not.</summary>
    public SampleTime Start { get; }

    /// <summary>The recording's end (R1).</summary>
    public SampleTime End { get; }

    /// <summary>Time with a value, held time included: the denominator of exposure and of the physiological alarm load (R12).</summary>
    public Duration Valid { get; }

    /// <summary>Start to end, with or without values: the time connected.</summary>
    public Duration Connected => End - Start;

    /// <summary>Valid over connected time, 0–1; 0 for an empty recording.</summary>
    public double Coverage => Connected > Duration.Zero ? Valid.Seconds / Connected.Seconds : 0;

    public static ConditionedSeries Of(ConditionedSource source, ConditioningSettings settings)
    {
        var times = source.Channel.Times;
        var collector = new Collector();
        ConditionedScan.Run(source, settings, ref collector);
        return new ConditionedSeries(collector.Pieces, times.Count > 0 ? times.First : default, times.End);
    }

    /// <summary>Tells a visitor what the scan told when the series was made.</summary>
    internal void Replay<TVisitor>(ref TVisitor visitor)
        where TVisitor : IConditionedVisitor, allows ref struct
    {
        if (Connected <= Duration.Zero) return;
        var last = Start;
        bool any = false;
        foreach (ref readonly var piece in System.Runtime.InteropServices.CollectionsMarshal.AsSpan(pieces))
        {
            if (any && last < piece.Start) visitor.Lost(last.Milliseconds);
            visitor.Value(piece.Start.Milliseconds, piece.Micro, piece.Arrival);
            last = piece.End;
            any = true;
        }

        if (any && last < End) visitor.Lost(last.Milliseconds);
        visitor.End(End.Milliseconds);
    }

    private sealed class Collector : IConditionedVisitor
    {
        private Piece open;
        private bool isOpen;

        public List<Piece> Pieces { get; } = [];

        public void Value(long milliseconds, int micro, Arrival arrival)
        {
            Close(milliseconds);
            open = new Piece(new SampleTime(milliseconds), default, micro, arrival);
            isOpen = true;
        }

        public void Lost(long milliseconds) => Close(milliseconds);

        public void End(long milliseconds) => Close(milliseconds);

        private void Close(long milliseconds)
        {
            if (isOpen) Pieces.Add(open with { End = new SampleTime(milliseconds) });
            isOpen = false;
        }
    }
}
