using CsCheck;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Formats.Tests.Writing;

/// <summary>Invented recordings of every shape that the core can hold: mixed rates, uneven and even times, gaps, rows without numbers, counts, odd labels.</summary>
internal static class AnyRecording
{
    private static readonly string[] Labels =
        ["SpO2", "SpO2 4", "Pulse, \"left\"", "Pleth", "", " ", "line\nbreak", "tab\tand\r\nreturn", "a,b;c|d", "Σ %·s ☃", "𝔖 beyond the plane", "<b>&amp;</b>", "\u202Eturned", "\u0001control", "NaN", "time", "{\"a\":1}", "=1+1", "SpO2 4"];

    private static readonly string[] Units = ["%", "/min", "", "mV", "1", "µV", "a.u."];

    private static readonly Gen<RecordingStart> Starts = Gen.OneOf(
        Gen.Const<RecordingStart>(new RecordingStart.Unknown()),
        Gen.Long[0, TimeSpan.TicksPerDay - 1].Select(t => (RecordingStart)new RecordingStart.TimeOfDay(new TimeOnly(t))),
        Gen.Long[0, 86_399].Select(s => (RecordingStart)new RecordingStart.TimeOfDay(new TimeOnly(s * TimeSpan.TicksPerSecond))),
        Gen.Long[0, DateTime.MaxValue.Ticks].Select(t => (RecordingStart)new RecordingStart.Local(new DateTime(t))),
        Gen.Long[0, 3_000_000_000].Select(s => (RecordingStart)new RecordingStart.Local(new DateTime(1950, 1, 1).AddSeconds(s))),
        Gen.Select(Gen.Long[0, 3_000_000_000_000], Gen.Int[-14 * 4, 14 * 4]).Select((ms, quarters) =>
            (RecordingStart)new RecordingStart.Zoned(new DateTimeOffset(new DateTime(1950, 1, 1).AddMilliseconds(ms), TimeSpan.FromMinutes(quarters * 15)))));

    private static readonly Gen<int> Micros = Gen.Frequency(
        (5, Gen.Int[2, 100].Select(v => v * 1_000_000)), (2, Gen.Int[20, 1000].Select(v => v * 100_000)), (1, Gen.Int[-2_147_483_647, 2_147_483_647]), (1, Gen.Const(0)), (2, Gen.Const(ValueColumn.Missing)));

    private static readonly Gen<int> Counts = Gen.Frequency(
        (5, Gen.Int[-2048, 2047]), (2, Gen.Int[-8_388_608, 8_388_607]), (1, Gen.Int[int.MinValue + 1, int.MaxValue]), (2, Gen.Const(CountColumn.Missing)));

    private static readonly Gen<Calibration> Calibrations = Gen.OneOf(
        Gen.Const(Calibration.Counts),
        Gen.Const(Calibration.OfRange(-32768, 32767, -200m, 200m)),
        Gen.Const(Calibration.OfRange(-8_388_608, 8_388_607, 1.5m, -1.5m)),
        Gen.Const(new Calibration(7, 1_000_000_000_000m, 0.0000001m, 3m)), // values in the unit do not lead back to the counts
        Gen.Select(Gen.Int[1, 5000], Gen.Int[-1000, 1000]).Select((gain, baseline) => Calibration.OfGain(gain / 10m, baseline)));

    private static readonly Gen<TimeAxis> EvenAxes =
        from first in Gen.OneOf(Gen.Const(0L), Gen.Long[-100_000, 5_000_000])
        from rate in Gen.OneOf(Gen.Const(SampleRate.Of(1, 1000)), Gen.Const(SampleRate.Of(125, 1000)), Gen.Const(SampleRate.Of(360, 1000)), Gen.Const(SampleRate.Of(5000, 1000)), Gen.Const(SampleRate.Of(1, 60_000)), Gen.Const(SampleRate.Of(3, 7)))
        from count in Gen.Int[0, 80]
        select TimeAxis.Even(new SampleTime(first), rate, count);

    private static readonly Gen<TimeAxis> BuiltAxes =
        from first in Gen.OneOf(Gen.Const(0L), Gen.Long[-100_000, 5_000_000])
        from steps in Gen.OneOf(Gen.Const(1000L), Gen.Long[1, 5_000], Gen.Long[1, 60_000_000]).Array[0, 60]
        from even in Gen.Bool
        from declared in Gen.Int[0, 3]
        select Built(first, steps, even, declared);

    private static readonly Gen<Annotation> Notes =
        from time in Gen.Long[-10_000, 100_000_000]
        from length in Gen.Frequency((2, Gen.Const(0L)), (1, Gen.Long[1, 600_000]))
        from text in OneOf(Labels)
        from origin in Gen.Enum<AnnotationOrigin>()
        select new Annotation(new SampleTime(time), new Duration(length), text, origin);

    private static readonly Gen<SourceAveraging> Averagings = Gen.OneOf(Gen.Const(SourceAveraging.Unknown), Gen.Long[0, 16_000].Select(ms => new SourceAveraging(new Duration(ms))));

    /// <summary>All of them.</summary>
    public static readonly Gen<Recording> All =
        from start in Starts
        from axes in Gen.OneOf(EvenAxes, BuiltAxes).Array[1, 3]
        from channels in Gen.Int[0, axes.Length - 1].SelectMany(a => ChannelOn(axes[a])).Array[0, 5]
        from averaging in Averagings
        from notes in Notes.Array[0, 6]
        select new Recording("night", start, channels, averaging, [.. notes.OrderBy(n => n.Time)]);

    /// <summary>Everything that must come back, as text.</summary>
    public static string Print(Recording recording) =>
        $"{recording.Start.GetType().Name} {Ticks(recording.Start)}\n{string.Join(' ', recording.Channels.Select(c => c.Times.IsPeriodDeclared))}\n{Contract.Printed.Whole(recording)}";

    private static long Ticks(RecordingStart start) => start switch
    {
        RecordingStart.TimeOfDay t => t.Time.Ticks,
        RecordingStart.Local l => l.DateTime.Ticks,
        RecordingStart.Zoned z => z.DateTime.Ticks,
        _ => 0,
    };

    private static TimeAxis Built(long first, long[] steps, bool even, int declared)
    {
        var builder = new TimeAxis.Builder();
        builder.Add(first);
        foreach (long step in steps) builder.Add(builder.LastMilliseconds + (even ? 1000 : step));
        return builder.Build(declared == 0 ? new Duration(1000) : null);
    }

    private static Gen<string> OneOf(string[] texts) => Gen.Int[0, texts.Length - 1].Select(i => texts[i]);

    private static Gen<Channel> ChannelOn(TimeAxis axis) =>
        from label in OneOf(Labels)
        from unit in OneOf(Units)
        from kind in Gen.Enum<ChannelKind>()
        from asCounts in Gen.Bool
        from values in Micros.Array[axis.Count]
        from counts in Counts.Array[axis.Count]
        from calibration in Calibrations
        select asCounts && kind.MayBeCounts() ? new Channel(label, kind, unit, axis, CountsOf(counts, calibration)) : new Channel(label, kind, unit, axis, ValuesOf(values));

    private static CountColumn CountsOf(int[] counts, Calibration calibration)
    {
        var column = new CountColumn.Builder();
        column.Add(counts);
        return column.Build(calibration);
    }

    private static ValueColumn ValuesOf(int[] micros)
    {
        var column = new ValueColumn.Builder();
        foreach (int micro in micros) column.Add(micro);
        return column.Build();
    }
}
