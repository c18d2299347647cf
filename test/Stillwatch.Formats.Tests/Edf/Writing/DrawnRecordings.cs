using CsCheck;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Formats.Tests.Edf.Writing;

/// <summary>Recordings drawn by chance for the writer's property tests.</summary>
internal static class DrawnRecordings
{
    private static readonly Gen<RecordingStart> StartGen = Gen.OneOf(
        Gen.Const<RecordingStart>(new RecordingStart.Unknown()),
        Gen.Long[0, 863_999_999_999].Select(ticks => (RecordingStart)new RecordingStart.TimeOfDay(new TimeOnly(ticks))),
        Gen.Long[0, 4_000_000_000_000].Select(ms => (RecordingStart)new RecordingStart.Local(new DateTime(1970, 1, 1).AddMilliseconds(ms))),
        Gen.Select(Gen.Long[0, 4_000_000_000_000], Gen.Int[-14 * 4, 14 * 4]).Select((ms, quarters) =>
            (RecordingStart)new RecordingStart.Zoned(new DateTimeOffset(new DateTime(1970, 1, 1).AddMilliseconds(ms), TimeSpan.FromMinutes(quarters * 15)))));

    private static readonly Gen<TimeAxis> AxisGen = Gen.OneOf(
        from period in OneOf(1000L, 1000L, 500L, 250L, 8L, 40L, 2000L, 60_000L)
        from shift in OneOf(0, 0, 0, 1, 7)
        from count in Gen.Int[0, period > 1000 ? 12 : 300]
        select TimeAxis.Even(new SampleTime(shift * period), new Duration(period), count),
        from rate in OneOf(SampleRate.Of(128, 1000), SampleRate.Of(360, 1000), SampleRate.Of(30, 1000), SampleRate.Of(5, 3000), SampleRate.Of(2000, 1000))
        from count in Gen.Int[1, 900]
        select TimeAxis.Even(default, rate, count),
        from unit in OneOf(1000L, 500L, 100L)
        from steps in Gen.Frequency((8, Gen.Int[1, 2]), (1, Gen.Int[3, 5000])).Array[0, 200]
        from declared in Gen.Bool
        select Uneven(unit, steps, declared));

    private static readonly Gen<Func<int, int>> MicroGen = Gen.OneOf(
        Gen.Int[0, 1_000_000].Select(seed => (Func<int, int>)(row => (60 + Mix(seed, row) % 41) * 1_000_000)),
        Gen.Int[0, 1_000_000].Select(seed => (Func<int, int>)(row => (-500 + Mix(seed, row) % 2500) * 100_000)),
        Gen.Int[0, 1_000_000].Select(seed => (Func<int, int>)(row => 1_234_567 + Mix(seed, row) % 6000)),
        Gen.Int[0, 1_000_000].Select(seed => (Func<int, int>)(row => Mix(seed, row) - 1_000_000_000)),
        // As read from another converter: 0 to 100 over 16 bits.
        Gen.Int[0, 1_000_000].Select(seed => (Func<int, int>)(row => Calibration.OfRange(-32768, 32767, 0, 100).MicroOf(Mix(seed, row) % 65_536 - 32_768)!.Value)));

    private static readonly Gen<(Calibration Line, int Low, int High)> ConverterGen = OneOf(
        (Calibration.OfRange(-32768, 32767, -3276.8m, 3276.7m), -32768, 32767),
        (Calibration.OfRange(-2048, 2047, 5.5m, -5.5m), -2048, 2047),
        (Calibration.OfGain(200, 1024), 0, 2047),
        (Calibration.OfGain(204.8m, 0), -2048, 2047),
        (Calibration.OfGain(333.33m, 12), -500, 500),
        (Calibration.OfRange(-8388608, 8388607, -262144, 262143), -8_388_608, 8_388_607));

    private static readonly Gen<Channel> ChannelGen = Gen.OneOf(
        from axis in AxisGen
        from micro in MicroGen
        from gaps in Gen.Int[0, 3]
        from name in OneOf(("SpO2", ChannelKind.SpO2, "%"), ("PR", ChannelKind.PulseRate, "/min"), ("a label that is far too long µ", ChannelKind.Other, "µV"))
        where axis.Rate is not { IsOnePerMillisecondAtMost: false }
        select new Channel(name.Item1, name.Item2, name.Item3, axis, Column(axis.Count, row => gaps > 0 && Mix(gaps, row) % 10 < gaps ? ValueColumn.Missing : micro(row))),
        from axis in AxisGen
        from converter in ConverterGen
        from seed in Gen.Int[0, 1_000_000]
        from gaps in Gen.Int[0, 1]
        select new Channel("Pleth", ChannelKind.Pleth, "NU", axis, CountColumn.Of(converter.Line, Enumerable.Range(0, axis.Count)
            .Select(row => gaps > 0 && Mix(gaps, row) % 10 == 0 ? (int?)null : converter.Low + Mix(seed, row) % (converter.High - converter.Low + 1)))));

    private static readonly Gen<Annotation> NoteGen =
        from time in Gen.Long[-5_000, 400_000]
        from length in Gen.OneOf(Gen.Const(0L), Gen.Long[1, 90_000])
        from text in OneOf("artefact?", "", "[event] said the monitor", "SpO₂ < 90 %, été 🌙", "a\nb\tc", "[source] [mark] x")
        from origin in Gen.Enum<AnnotationOrigin>()
        select new Annotation(new SampleTime(time), new Duration(length), text, origin);

    /// <summary>Any start, up to three channels of any rate, gaps and scale, notes of every origin.</summary>
    public static readonly Gen<Recording> Any =
        from start in StartGen
        from channels in ChannelGen.List[0, 3]
        from notes in NoteGen.List[0, 12]
        select new Recording("test", start, channels, SourceAveraging.Unknown, [.. notes.OrderBy(n => n.Time)]);

    /// <summary>How many to draw: more in the long form of the check.</summary>
    public static long Draws(long often) => Environment.GetEnvironmentVariable("STILLWATCH_FULL") == "1" ? often * 80 : often;

    public static string Print(Recording recording) => $"{recording.Start}; " + string.Join("; ", recording.Channels.Select(c =>
        $"{c.Label} {c.Times.Count} rows P {c.Times.Period.Milliseconds} rate {c.Times.Rate} from {(c.Times.Count > 0 ? c.Times.First.Milliseconds : 0)}, {string.Join(" ", Enumerable.Range(0, Math.Min(5, c.Times.Count)).Select(i => Written.ValueAt(c, i)))}")) +
        $"; {recording.Annotations.Count} notes";

    private static Gen<T> OneOf<T>(params T[] all) => Gen.Int[0, all.Length - 1].Select(i => all[i]);

    private static TimeAxis Uneven(long unit, int[] steps, bool isDeclared)
    {
        var builder = new TimeAxis.Builder();
        long time = 0;
        builder.Add(time);
        foreach (int step in steps) builder.Add(time += step * unit);
        return builder.Build(isDeclared ? new Duration(unit) : null);
    }

    private static ValueColumn Column(int count, Func<int, int> micro)
    {
        var builder = new ValueColumn.Builder();
        for (int row = 0; row < count; row++) builder.Add(micro(row));
        return builder.Build();
    }

    // A number from 0 to two thousand million that looks drawn, from where it stands alone.
    private static int Mix(int seed, int row)
    {
        unchecked
        {
            uint x = (uint)(seed * 73_856_093) ^ (uint)(row * 19_349_663);
            x = (x ^ (x >> 15)) * 2_246_822_519;
            x = (x ^ (x >> 13)) * 3_266_489_917;
            return (int)((x ^ (x >> 16)) % 2_000_000_000);
        }
    }
}
