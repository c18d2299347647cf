using CsCheck;
using Stillwatch.Signals;
using Stillwatch.Storage.Recordings;
using Stillwatch.Time;

namespace Stillwatch.Storage.Tests.Inputs;

/// <summary>Recordings of every shape that the core can hold: exact rates, uneven times, gaps, counts, missing values, all kinds of start.</summary>
internal static class DrawnRecordings
{
    private static Gen<T> OneOf<T>(params T[] values) => Gen.Int[0, values.Length - 1].Select(i => values[i]);

    private static readonly Gen<int> Rows = OneOf(0, 1, 2, 3, 63, 64, 65, 500, 8191, 8192, 8193, 20_000);

    private static readonly Gen<string> Text = Gen.Frequency(
        (6, Gen.String[Gen.Char.AlphaNumeric, 0, 12]),
        (1, Gen.String[0, 8]), // any code unit: zeros and halves of pairs among them
        (1, OneOf("", @"a\b", "zero\0inside", "half \ud83d", "whole \ud83d\ude00", "quote ' and ; --", "Ätherisch")));

    private static readonly Gen<long> First = Gen.Frequency((3, Gen.Const(0L)), (1, Gen.Long[-100_000_000, 100_000_000]));

    public static readonly Gen<TimeAxis> Axis = Rows.SelectMany(rows => Gen.OneOf(
        Gen.Select(First, Gen.Int[1, 5000], (first, period) => TimeAxis.Even(new SampleTime(first), new Duration(period), rows)),
        Gen.Select(First, Gen.Long[1, 2000], Gen.Long[1, 2000], (first, samples, milliseconds) => TimeAxis.Even(new SampleTime(first), SampleRate.Of(samples, milliseconds), rows)),
        Gen.Select(First, Gen.Int[1, 3000], Gen.Bool, (first, step, declared) => Built(first, Enumerable.Repeat((long)step, rows), false, declared ? new Duration(step) : null)),
        Gen.Select(First, Gen.Int[0, int.MaxValue], Gen.Int[1, 4], Gen.Int[0, 2], (first, seed, kind, period) => Built(first, Steps(rows, seed, kind), kind == 4, period == 0 ? null : new Duration(period * 700)))));

    public static readonly Gen<Channel> Channel = Gen.Select(Axis, Text, Text, Gen.Int[0, int.MaxValue], Gen.Int[0, 8], (axis, label, unit, seed, kind) => Of(axis, label, unit, seed, kind));

    private static readonly Gen<RecordingStart> Start = Gen.OneOf<RecordingStart>(
        Gen.Const<RecordingStart>(new RecordingStart.Unknown()),
        Gen.Long[0, TimeSpan.TicksPerDay - 1].Select(t => (RecordingStart)new RecordingStart.TimeOfDay(new TimeOnly(t))),
        Gen.DateTime.Select(t => (RecordingStart)new RecordingStart.Local(DateTime.SpecifyKind(t, DateTimeKind.Unspecified))),
        Gen.Select(Gen.DateTime[new DateTime(1900, 1, 1), new DateTime(2100, 1, 1)], Gen.Int[-56, 56], (t, quarters) => (RecordingStart)new RecordingStart.Zoned(new DateTimeOffset(DateTime.SpecifyKind(t, DateTimeKind.Unspecified), TimeSpan.FromMinutes(15 * quarters)))));

    private static readonly Gen<Annotation> Note = Gen.Select(Gen.Long[-1_000_000, 1_000_000_000_000], Gen.Long[0, 100_000], Text, Gen.Enum<AnnotationOrigin>(), (time, length, text, origin) => new Annotation(new SampleTime(time), new Duration(length), text, origin));

    private static readonly Gen<SourceAveraging> Averaging = Gen.OneOf(Gen.Const(SourceAveraging.Unknown), Gen.Long[0, 30_000].Select(ms => new SourceAveraging(new Duration(ms))));

    /// <summary>Some channels share the axis of the one before.</summary>
    public static readonly Gen<Recording> Recording = Gen.Select(
        Text, Start, Channel.List[0, 4], Gen.Bool, Averaging, Gen.OneOf(Note.List[0, 5], Note.List[1020, 1030]),
        (name, start, channels, share, averaging, notes) => new Recording(
            name, start, share && channels.Count > 0 ? [.. channels, Of(channels[0].Times, "beside", "%", 7, 0)] : channels, averaging, [.. notes.OrderBy(n => n.Time)]));

    public static NewRecording ToStore(Recording recording, int number) => new()
    {
        Id = RecordingId.OfIdentity($"drawn {number}"),
        Recording = recording,
        Files = [new SourceFile("drawn", new string('c', 64), 1)],
        Format = "drawn",
        Issues = [],
    };

    private static TimeAxis Built(long first, IEnumerable<long> steps, bool mayShare, Duration? declared)
    {
        var builder = new TimeAxis.Builder(mayShare);
        long time = first;
        foreach (long step in steps)
        {
            builder.Add(time);
            time += step;
        }

        return builder.Build(declared);
    }

    // 1: jitter; 2: gaps; 3: anything, up to years apart; 4: several in a millisecond.
    private static IEnumerable<long> Steps(int rows, int seed, int kind)
    {
        var random = new Random(seed);
        return Enumerable.Range(0, rows).Select(i => kind switch
        {
            1 => random.NextInt64(950, 1050),
            2 => i % 700 == 699 ? random.NextInt64(1, 100_000_000) : 1000,
            3 => random.Next(20) == 0 ? random.NextInt64(1, 1_000_000_000_000) : random.NextInt64(1, 60_000),
            _ => random.NextInt64(0, 3),
        });
    }

    private static Channel Of(TimeAxis axis, string label, string unit, int seed, int kind)
    {
        var random = new Random(seed);
        int level = 0;
        int Walk(int step, int scale) => (level = Math.Clamp(level + random.Next(-step, step + 1), -20_000, 20_000)) * scale;
        // 0–4: decimals of several fineness; 5–8: counts.
        var drawn = Enumerable.Range(0, axis.Count).Select(i => random.Next(50) == 0 || i / 300 % 9 == 4 ? (int?)null : kind switch
        {
            0 => (97 - random.Next(15)) * 1_000_000,
            1 => Walk(3, 10_000),
            2 => Walk(5, 1),
            3 => random.Next(int.MinValue + 1, int.MaxValue),
            4 => random.Next(2) == 0 ? int.MaxValue : int.MinValue + 1,
            5 => Walk(90, 1),
            6 => random.Next(-8_388_608, 8_388_608),
            7 => random.Next(2) == 0 ? short.MinValue : short.MaxValue,
            _ => random.Next(int.MinValue + 1, int.MaxValue),
        });
        if (kind >= 5)
        {
            var calibration = new Calibration(random.Next(-100, 100), random.Next(-100, 100) / 10m, random.Next(2) == 0 ? -0.3m : 1.25m, 1 + random.Next(400) / 3m);
            return new Channel(label, kind == 5 ? ChannelKind.Pleth : ChannelKind.RedLight, unit, axis, CountColumn.Of(calibration, drawn));
        }

        var values = new ValueColumn.Builder();
        foreach (int? value in drawn) values.Add(value ?? ValueColumn.Missing);
        return new Channel(label, kind == 0 ? ChannelKind.SpO2 : ChannelKind.Other, unit, axis, values.Build());
    }
}
