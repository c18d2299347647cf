using CsCheck;
using Stillwatch.Formats.Csv;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Formats.Tests.Csv;

public class CsvPropertyTests
{
    private static readonly (string Label, ChannelKind Kind, string Unit)[] Columns =
    [
        ("SpO2 4", ChannelKind.SpO2, "%"),
        ("Pulse, \"left\"", ChannelKind.PulseRate, "/min"),
        ("PI", ChannelKind.PerfusionIndex, "%"),
        ("SQI", ChannelKind.SignalQuality, ""),
        ("valid", ChannelKind.SourceValid, "1"),
        ("FiO2 (%)", ChannelKind.InhaledOxygen, "%"),
        ("HR", ChannelKind.HeartRate, "/min"),
        ("Pleth", ChannelKind.Pleth, ""),
    ];

    private static readonly Gen<RecordingStart> StartGen = Gen.OneOf(
        Gen.Const<RecordingStart>(new RecordingStart.Unknown()),
        Gen.Long[0, 86_399_999].Select(ms => (RecordingStart)new RecordingStart.TimeOfDay(new TimeOnly(ms * TimeSpan.TicksPerMillisecond))),
        Gen.Long[0, 3_000_000_000_000].Select(ms => (RecordingStart)new RecordingStart.Local(new DateTime(1950, 1, 1).AddMilliseconds(ms))),
        Gen.Select(Gen.Long[0, 3_000_000_000_000], Gen.Int[-14 * 4, 14 * 4]).Select((ms, quarters) =>
            (RecordingStart)new RecordingStart.Zoned(new DateTimeOffset(new DateTime(1950, 1, 1).AddMilliseconds(ms), TimeSpan.FromMinutes(quarters * 15)))));

    private static readonly Gen<int> MicroGen = Gen.Frequency(
        (5, Gen.Int[2, 100].Select(v => v * 1_000_000)),
        (2, Gen.Int[20, 1000].Select(v => v * 100_000)),
        (1, Gen.Int[-2_147_483_647, 2_147_483_647]),
        (1, Gen.Const(0)),
        (2, Gen.Const(ValueColumn.Missing)));

    private static readonly Gen<Recording> RecordingGen =
        from start in StartGen
        from steps in Gen.OneOf(Gen.Const(1000L), Gen.Long[1, 5_000], Gen.Long[1, 40_000_000]).Array[0, 60]
        from columns in Gen.Int[1, 255]
        from values in MicroGen.Array[Columns.Length * (steps.Length + 1)]
        select Make(start, steps, columns, values);

    [Fact]
    public void What_is_written_is_read_back_the_same()
    {
        RecordingGen.Sample(recording =>
        {
            using var writer = new StringWriter();
            CsvWriter.Write(recording, writer);
            var result = Table.Read(writer.ToString());
            return Print(result.Recording!) == Print(recording) && !result.Issues.Any(i => i.Severity == IssueSeverity.Failure || CsvIssueCodes.MeansLineNotUsed(i.Code));
        }, iter: 1_500, print: r => Print(r));
    }

    [Fact]
    public void However_the_stream_hands_out_its_bytes_the_result_is_the_same()
    {
        Gen.Select(Gen.Int[0, 1_000_000], Gen.Int[1, 5_000], Gen.Bool).Sample((seed, piece, isLong) =>
        {
            var random = new Random(seed);
            byte[] bytes = CsvMutations.Mutate(random);
            // Long enough to leave the part that is looked at first.
            if (isLong && seed % 10 == 0) bytes = [.. bytes, .. Enumerable.Repeat("2026-03-01T22:00:00,97,☃\n"u8.ToArray(), 12_000).SelectMany(b => b)];
            using var pieces = new InPieces(bytes, random, piece);
            return Outcome(() => CsvReader.Read(pieces, "test.csv")) == Outcome(() => Table.Read(bytes));
        }, iter: 600);
    }

    private static string Outcome(Func<ReadResult> read)
    {
        try
        {
            return read().Print();
        }
        catch (UnreadableFileException e)
        {
            return e.Message;
        }
    }

    private static string Print(Recording recording) => new ReadResult(recording, []).Print();

    private static Recording Make(RecordingStart start, long[] steps, int columns, int[] values)
    {
        var times = new TimeAxis.Builder();
        long time = 0;
        times.Add(0);
        foreach (long step in steps) times.Add(time += step);
        var axis = times.Build();
        var channels = new List<Channel>();
        for (int c = 0; c < Columns.Length; c++)
        {
            if ((columns >> c & 1) == 0) continue;
            var column = new ValueColumn.Builder();
            for (int i = 0; i < axis.Count; i++) column.Add(values[c * axis.Count + i]);
            // A column of nothing but fractions would be taken for one; that is another test.
            var built = column.Build();
            bool fractions = Enumerable.Range(0, built.Count).All(i => built[i] == ValueColumn.Missing || built[i] is >= 0 and <= 1_000_000);
            if (fractions && Columns[c].Kind is ChannelKind.SpO2 or ChannelKind.InhaledOxygen) continue;
            channels.Add(new Channel(Columns[c].Label, Columns[c].Kind, Columns[c].Unit, axis, built));
        }

        if (channels.Count == 0)
            channels.Add(new Channel("HR", ChannelKind.HeartRate, "/min", axis, ValueColumn.Of(Enumerable.Repeat<decimal?>(70, axis.Count))));
        return new Recording("test.csv", start, channels, SourceAveraging.Unknown, []);
    }

    private sealed class InPieces(byte[] bytes, Random random, int most) : MemoryStream(bytes)
    {
        public override int Read(byte[] buffer, int offset, int count) => base.Read(buffer, offset, Math.Min(count, random.Next(1, most + 1)));
    }
}
