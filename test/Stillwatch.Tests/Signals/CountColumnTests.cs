using CsCheck;
using Stillwatch.Signals;
using Stillwatch.Tests.Alarms;
using Stillwatch.Time;

namespace Stillwatch.Tests.Signals;

/// <summary>Waveforms as counts with their calibration.</summary>
public sealed class CountColumnTests
{
    private static readonly Gen<int> AnyCount = Gen.OneOf(
        Gen.Int, Gen.Int[short.MinValue - 2, short.MaxValue + 2], Gen.OneOf(CountColumn.Missing, int.MinValue + 1, int.MaxValue, short.MinValue));

    [Fact]
    public void A_column_gives_back_the_counts_that_went_in_however_they_were_cut() =>
        Gen.Select(AnyCount.Array[0, 20_000], Gen.Int[1, 9000]).Sample((counts, piece) =>
        {
            var builder = new CountColumn.Builder();
            for (int at = 0; at < counts.Length; at += piece) builder.Add(counts.AsSpan(at, Math.Min(piece, counts.Length - at)));
            var column = builder.Build(Calibration.Counts);
            Assert.Equal(counts, ByChunk(column));
            Assert.Equal(counts, Enumerable.Range(0, column.Count).Select(i => column[i]));
        }, iter: Sampling.Cases(50));

    [Fact]
    public void Sixteen_bits_take_two_bytes_and_the_lowest_of_them_is_a_count_like_any_other()
    {
        var column = CountColumn.Of(Calibration.Counts, [-32768, -32767, 32767, null]);
        Assert.Equal([-32768, -32767, 32767, CountColumn.Missing], ByChunk(column));
    }

    /// <summary>The worked value of the EDF scale: SpO2 0–100 over −32768…32767 at count 0 is 50.000763 (own computation from the published formula).</summary>
    [Fact]
    public void A_scale_between_two_ends_is_that_of_the_EDF_specification()
    {
        var calibration = Calibration.OfRange(-32768, 32767, 0, 100);
        Assert.Equal(50.000763, calibration.ValueOf(0), 6);
        Assert.Equal(50_000_763, calibration.MicroOf(0));
        Assert.Equal(0, calibration.MicroOf(-32768));
        Assert.Equal(100_000_000, calibration.MicroOf(32767));
    }

    [Fact]
    public void A_gain_and_a_baseline_are_those_of_the_WFDB_header()
    {
        var calibration = Calibration.OfGain(20, -1600);
        Assert.Equal(67.9, calibration.ValueOf(-242), 12);
        Assert.Equal(67_900_000, calibration.MicroOf(-242));
    }

    [Theory]
    [InlineData(0, 100, 100, 0)] // values upside down
    [InlineData(100, 0, 0, 100)] // counts upside down
    public void An_upside_down_scale_is_kept_as_stated(long digitalMinimum, long digitalMaximum, int physicalMinimum, int physicalMaximum)
    {
        var calibration = Calibration.OfRange(digitalMinimum, digitalMaximum, physicalMinimum, physicalMaximum);
        Assert.Equal(75, calibration.ValueOf(25));
        Assert.Equal(physicalMinimum, calibration.ValueOf(digitalMinimum));
        Assert.True(calibration.Denominator > 0);
    }

    [Fact]
    public void A_scale_without_length_is_refused()
    {
        Assert.Throws<ArgumentException>(() => Calibration.OfRange(5, 5, 0, 100));
        Assert.Throws<ArgumentException>(() => Calibration.OfRange(0, 5, 1, 1));
        Assert.Throws<ArgumentOutOfRangeException>(() => Calibration.OfGain(0, 0));
    }

    [Fact]
    public void Values_beyond_what_decimals_hold_are_none() => Assert.Null(Calibration.OfGain(1, 0).MicroOf(2148));

    [Fact]
    public void Values_are_those_of_the_counts_and_a_missing_one_is_no_number()
    {
        var column = CountColumn.Of(Calibration.OfGain(2, 10), [10, 11, null, 70_000]);
        var values = new double[TimeAxis.ChunkLength];
        Assert.Equal(4, column.CopyValues(0, values));
        Assert.Equal([0, 0.5, double.NaN, 34_995], values[..4]);
    }

    [Fact]
    public void What_the_rules_judge_is_never_held_as_counts()
    {
        var counts = CountColumn.Of(Calibration.Counts, [97]);
        var times = TimeAxis.Even(default, new Duration(1000), 1);
        Assert.Throws<ArgumentException>(() => new Channel("SpO2", ChannelKind.SpO2, "%", times, counts));
        var pleth = new Channel("Pleth", ChannelKind.Pleth, "", times, counts);
        Assert.Throws<InvalidOperationException>(() => pleth.Values);
        var values = new double[TimeAxis.ChunkLength];
        Assert.Equal(1, pleth.CopyValues(0, values));
        Assert.Equal(97, values[0]);
    }

    private static List<int> ByChunk(CountColumn column)
    {
        var buffer = new int[TimeAxis.ChunkLength];
        var found = new List<int>();
        for (int c = 0; c < column.ChunkCount; c++) found.AddRange(buffer.AsSpan(0, column.CopyChunk(c, buffer)));
        return found;
    }
}
