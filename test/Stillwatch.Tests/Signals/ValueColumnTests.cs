using CsCheck;
using Stillwatch.Signals;
using Stillwatch.Tests.Alarms;
using Stillwatch.Time;

namespace Stillwatch.Tests.Signals;

public sealed class ValueColumnTests
{
    private static readonly Gen<int> AnyMicro = Gen.OneOf(
        Gen.Int, Gen.Int[-400, 400].Select(v => v * 1_000_000), Gen.Int[-40_000, 40_000].Select(v => v * 10_000), Gen.OneOf(ValueColumn.Missing, int.MaxValue, int.MinValue + 1, 0));

    [Fact]
    public void A_column_gives_back_exactly_what_went_in() =>
        AnyMicro.Array[0, 300].Sample(values =>
        {
            var column = Build(values);
            Assert.Equal(values, Enumerable.Range(0, column.Count).Select(i => column[i]));
        }, iter: Sampling.Cases(500));

    [Fact]
    public void Chunks_say_the_same_as_rows()
    {
        // The first chunk fits hundredths, the second does not.
        var values = Enumerable.Range(0, TimeAxis.ChunkLength + 100).Select(i => i < TimeAxis.ChunkLength ? i % 100 * 1_000_000 : i).ToArray();
        var column = Build(values);
        Assert.False(column.HundredthsOf(0).IsEmpty);
        Assert.True(column.HundredthsOf(1).IsEmpty);
        var buffer = new int[TimeAxis.ChunkLength];
        var found = new List<int>();
        for (int chunk = 0; chunk < column.ChunkCount; chunk++) found.AddRange(buffer[..column.CopyChunk(chunk, buffer)]);
        Assert.Equal(values, found);
    }

    [Fact]
    public void A_channel_has_a_value_for_every_row_or_is_refused()
    {
        var times = TimeAxis.Even(default, new Duration(1000), 3);
        var error = Assert.Throws<ArgumentException>(() => new Channel("SpO2", ChannelKind.SpO2, "%", times, ValueColumn.Of([96, 95])));
        Assert.Contains("found 2 values, expected one for each of 3 times", error.Message);
    }

    private static ValueColumn Build(IEnumerable<int> values)
    {
        var builder = new ValueColumn.Builder();
        foreach (int value in values) builder.Add(value);
        return builder.Build();
    }
}
