using Stillwatch.Time;

namespace Stillwatch.Formats.Edf.Records;

/// <summary>Rows of one signal that follow each other at its rate.</summary>
/// <param name="OriginMilliseconds">Where counting begins, on the recording's time line.</param>
/// <param name="FirstIndex">Of the first row, from there.</param>
/// <param name="Count">Rows.</param>
internal readonly record struct Stretch(long OriginMilliseconds, long FirstIndex, int Count);

/// <summary>Makes time axes of stretches; signals whose rows are at the same times share one.</summary>
internal sealed class StretchAxes
{
    private const int Remembered = 64;

    private readonly List<(IReadOnlyList<Stretch> Stretches, SampleRate Rate, Duration? Period, TimeAxis Axis)> made = [];

    /// <param name="stretches">In time order.</param>
    /// <param name="rate">Of the samples.</param>
    /// <param name="period">P of rule R1 where the file states it; null: the step of the samples.</param>
    public TimeAxis Of(IReadOnlyList<Stretch> stretches, SampleRate rate, Duration? period)
    {
        foreach (var known in made)
        {
            if (known.Rate == rate && known.Period == period && known.Stretches.SequenceEqual(stretches)) return known.Axis;
        }

        var axis = Make(stretches, rate, period ?? rate.Period);
        if (made.Count < Remembered) made.Add((stretches, rate, period, axis));
        return axis;
    }

    private static TimeAxis Make(IReadOnlyList<Stretch> stretches, SampleRate rate, Duration period)
    {
        if (stretches.Count == 0) return TimeAxis.Even(default, rate, 0);
        if (stretches is [var only] && period == rate.Period && (Int128)only.FirstIndex * rate.Milliseconds % rate.Samples == 0)
            return TimeAxis.Even(new SampleTime(only.OriginMilliseconds + rate.MillisecondsAt(only.FirstIndex)), rate, only.Count);

        var builder = new TimeAxis.Builder(mayShareMilliseconds: !rate.IsOnePerMillisecondAtMost);
        foreach (var stretch in stretches)
        {
            for (int i = 0; i < stretch.Count; i++) builder.Add(stretch.OriginMilliseconds + rate.MillisecondsAt(stretch.FirstIndex + i));
        }

        return builder.Build(period);
    }
}
