using Stillwatch.Time;

namespace Stillwatch.Conditioning;

/// <summary>Why a stretch of a recording has no value that counts.</summary>
public enum LossReason
{
    /// <summary>No row at all.</summary>
    NoRow,

    /// <summary>Rows without a number.</summary>
    NoNumber,

    FlaggedBySource,

    /// <summary>Numbers that are no measurement: 0, negative, above 100 %.</summary>
    OutOfRange,

    PoorQuality,
    DoubtedJump,

    /// <summary>Accepted rows, and too few of them for our averaging (R4).</summary>
    WindowTooEmpty,
}

/// <summary>A stretch without a value.</summary>
/// <param name="Span">From the end of a value's hold to the next value, or to an end of the recording.</param>
/// <param name="Reason">What most of its rows have in common; where two are as many, the earlier of <see cref="LossReason"/>.</param>
public sealed record LostStretch(TimeSlice Span, LossReason Reason)
{
    /// <summary>Whether numbers stood there that do not count.</summary>
    public bool HadNumbers => Reason is not (LossReason.NoRow or LossReason.NoNumber);
}

/// <summary>The lost time of a series with its reasons, so that a gap never looks like health.</summary>
public static class LostStretches
{
    /// <summary>In time order; together with the pieces of the series they fill the recording.</summary>
    /// <param name="source">The channel.</param>
    /// <param name="settings">Those by which <paramref name="series"/> was made.</param>
    /// <param name="series">The channel's conditioned series.</param>
    public static IReadOnlyList<LostStretch> Of(ConditionedSource source, ConditioningSettings settings, ConditionedSeries series)
    {
        var spans = Spans(series);
        var counts = new int[spans.Count, Enum.GetValues<LossReason>().Length];
        if (spans.Count > 0) Count(source, settings, spans, counts);
        return [.. spans.Select((span, i) => new LostStretch(span, ReasonOf(counts, i)))];
    }

    private static List<TimeSlice> Spans(ConditionedSeries series)
    {
        var spans = new List<TimeSlice>();
        var from = series.Start;
        foreach (var piece in series.Pieces)
        {
            if (piece.Start > from) spans.Add(new TimeSlice(from, piece.Start));
            from = piece.End;
        }

        if (series.End > from) spans.Add(new TimeSlice(from, series.End));
        return spans;
    }

    private static void Count(ConditionedSource source, ConditioningSettings settings, List<TimeSlice> spans, int[,] counts)
    {
        var times = source.Channel.Times;
        var conditioner = new Conditioner(source.Quantity, settings, times.Period);
        var judge = new OutsideJudge(source.SourceValid, source.Quality);
        var timeBuffer = new long[TimeAxis.ChunkLength];
        var valueBuffer = new int[TimeAxis.ChunkLength];
        int span = 0;
        for (int chunk = 0; chunk < times.ChunkCount; chunk++)
        {
            var (length, _, _) = times.ChunkShape(chunk);
            times.CopyChunk(chunk, timeBuffer);
            source.Channel.Values.CopyChunk(chunk, valueBuffer);
            for (int i = 0; i < length; i++)
            {
                long time = timeBuffer[i];
                bool poor = OutsideJudge.IsPoor(judge.QualityMicro(time), source.QualityThresholdMicro);
                var verdict = conditioner.Accept(time, valueBuffer[i], judge.IsFlagged(time), poor, out _, out _);
                while (span < spans.Count && spans[span].End.Milliseconds <= time) span++;
                if (span < spans.Count && spans[span].Start.Milliseconds <= time) counts[span, (int)ReasonOf(verdict)]++;
            }
        }
    }

    private static LossReason ReasonOf(SampleVerdict verdict) => verdict switch
    {
        SampleVerdict.NoNumber => LossReason.NoNumber,
        SampleVerdict.FlaggedBySource => LossReason.FlaggedBySource,
        SampleVerdict.OutOfRange => LossReason.OutOfRange,
        SampleVerdict.PoorQuality => LossReason.PoorQuality,
        SampleVerdict.DoubtedJump => LossReason.DoubtedJump,
        _ => LossReason.WindowTooEmpty,
    };

    private static LossReason ReasonOf(int[,] counts, int span)
    {
        int best = (int)LossReason.NoRow;
        for (int reason = 1; reason < counts.GetLength(1); reason++)
        {
            if (counts[span, reason] > counts[span, best]) best = reason;
        }

        return (LossReason)best;
    }
}
