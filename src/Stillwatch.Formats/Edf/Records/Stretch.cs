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

    private readonly List<(IReadOnlyList<Stretch> Stretches, SampleRate Rate, TimeAxis Axis)> made = [];

    public TimeAxis Of(IReadOnlyList<Stretch> stretches, SampleRate rate)
    {
        foreach (var known in made)
        {
            if (known.Rate == rate && known.Stretches.SequenceEqual(stretches)) return known.Axis;
        }

        var axis = Make(stretches, rate);
        if (made.Count < Remembered) made.Add((stretches, rate, axis));
        return axis;
    }

    private static TimeAxis Make(IReadOnlyList<Stretch> stretches, SampleRate rate)
    {
        if (stretches.Count == 0) return TimeAxis.Even(default, rate, 0);
        if (stretches is [var only] && (only.FirstIndex == 0 || rate.IsWholeMilliseconds))
            return TimeAxis.Even(new SampleTime(only.OriginMilliseconds + rate.MillisecondsAt(only.FirstIndex)), rate, only.Count);

        var builder = new TimeAxis.Builder(mayShareMilliseconds: !rate.IsOnePerMillisecondAtMost);
        foreach (var stretch in stretches)
        {
            for (int i = 0; i < stretch.Count; i++) builder.Add(stretch.OriginMilliseconds + rate.MillisecondsAt(stretch.FirstIndex + i));
        }

        return builder.Build(rate.Period);
    }
}
