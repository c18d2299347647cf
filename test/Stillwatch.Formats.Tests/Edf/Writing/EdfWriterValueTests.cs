using Stillwatch.Formats.Edf.Writing;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Formats.Tests.Edf.Writing;

public class EdfWriterValueTests
{
    [Theory]
    // values, then the ends of the scale: of the unit, of the counts
    [InlineData("97 96 90", "0 100 0 100")]
    [InlineData("97.5 96 90", "0 100 0 200")]
    [InlineData("88 90 92", "0 100 0 100")]
    [InlineData("97.25", "0 100 0 400")]
    [InlineData("101 97", "0 101 0 101")]
    [InlineData("-5 97", "-5 100 -5 100")]
    [InlineData("0.000001 0.000003", "0 0.000003 0 3")]
    [InlineData("97.123456 97.123457", "97.12345 97.12346 -32766 -32756")]
    [InlineData("0.999999 1.999999 2.999999", "0.999999 2.999999 -32766 -32764")]
    public void Values_lie_on_counts_of_a_scale_that_eight_characters_state_exactly(string values, string ends)
    {
        var numbers = values.Split(' ').Select(v => (decimal?)decimal.Parse(v)).ToArray();
        var (file, issues) = Written.Edf(Written.Of(Written.SpO2(numbers)));
        var signal = file.Signals[0];
        Assert.Equal(ends, $"{signal.PhysicalMinimum} {signal.PhysicalMaximum} {signal.DigitalMinimum} {signal.DigitalMaximum}");
        Assert.Equal(numbers, file.Rows(0).Select(r => r.Value));
        Assert.Empty(issues);
    }

    [Fact]
    public void Values_read_from_a_converter_of_16_bits_go_back_to_the_same_counts_even_with_codes_among_them()
    {
        // The two lowest counts stand for numbers there: other counts, which no value takes, become the codes.
        var converter = Calibration.OfRange(-32768, 32767, 0, 100);
        int[] counts = [-32768, -32767, 30_000, 30_001, 32_767];
        var micro = new ValueColumn.Builder();
        foreach (int count in counts) micro.Add(converter.MicroOf(count)!.Value);
        micro.Add(ValueColumn.Missing);
        var channel = new Channel("SpO2", ChannelKind.SpO2, "%", TimeAxis.Even(default, new Duration(1000), 6), micro.Build());
        var (file, issues) = Written.Edf(Written.Of(channel));
        Assert.Equal([.. counts, -32766], file.Signals[0].Counts);
        Assert.Equal("-32766 = no number", file.Signals[0].Transducer);
        Assert.Empty(issues);
    }

    [Fact]
    public void Values_that_no_scale_of_16_bits_holds_are_rounded_and_the_greatest_error_is_listed_and_24_bits_may_hold_them()
    {
        var channel = Written.SpO2(97.123457m, 97.5m, 98.000001m);
        var (file, issues) = Written.Edf(Written.Of(channel));
        var issue = Assert.Single(issues);
        Assert.Equal((IssueSeverity.Doubt, WriteIssueCodes.Rounded), (issue.Severity, issue.Code));
        decimal greatest = file.Rows(0).Select((r, i) => Math.Abs(r.Value!.Value - Written.ValueAt(channel, i)!.Value)).Max();
        Assert.Contains($"greatest error {greatest:g3} %", issue.Assumed);
        Assert.Contains("BDF+", issue.Assumed);

        var (fine, none) = Written.Bdf(Written.Of(channel));
        Assert.Equal([97.123457m, 97.5m, 98.000001m], fine.Rows(0).Select(r => Math.Round(r.Value!.Value, 6)));
        Assert.Empty(none);
    }

    [Fact]
    public void A_channel_without_a_number_is_written_with_its_rows()
    {
        var (file, issues) = Written.Edf(Written.Of(Written.SpO2(new decimal?[2])));
        Assert.Equal([(0L, null), (1000L, null)], file.Rows(0));
        Assert.Empty(issues);
    }

    [Fact]
    public void A_waveform_keeps_its_counts_and_the_ends_of_its_scale()
    {
        var (file, issues) = Written.Edf(Written.Of(Written.Pleth(SampleRate.Of(4, 1000), Calibration.OfRange(-2048, 2047, 5.5m, -5.5m), -2048, 0, 17, 2047)));
        var signal = file.Signals[0];
        Assert.Equal((-2048L, 2047L, 5.5m, -5.5m), (signal.DigitalMinimum, signal.DigitalMaximum, signal.PhysicalMinimum, signal.PhysicalMaximum));
        Assert.Equal([-2048, 0, 17, 2047], signal.Counts);
        Assert.Empty(issues);
    }

    [Theory]
    // counts per unit and the count at zero, as WFDB states a scale
    [InlineData(200, 1024)]
    [InlineData(204.8, 0)]
    [InlineData(1000, -5)]
    [InlineData(0.5, 0)]
    [InlineData(333, 100)]
    public void A_scale_stated_in_another_way_keeps_its_counts_under_ends_on_the_same_line(double gain, int baseline)
    {
        var channel = Written.Pleth(SampleRate.Of(4, 1000), Calibration.OfGain((decimal)gain, baseline), -300, 0, 299, null);
        var (file, issues) = Written.Edf(Written.Of(channel));
        Assert.Equal([-300, 0, 299, -32768], file.Signals[0].Counts);
        Assert.All(file.Rows(0).Select((r, i) => (r.Value, Expected: Written.ValueAt(channel, i))), p => Assert.Equal((double?)p.Expected, (double?)p.Value));
        Assert.Empty(issues);
    }

    [Fact]
    public void A_scale_that_eight_characters_cannot_state_is_rounded_and_listed()
    {
        // Exact values lie 33 333 counts apart: no two of them within the 16 bits.
        var (_, issues) = Written.Edf(Written.Of(Written.Pleth(SampleRate.Of(4, 1000), Calibration.OfGain(333.33m, 20_000), 19_000, 20_000, 21_000)));
        Assert.Equal(WriteIssueCodes.Rounded, Assert.Single(issues).Code);
    }

    [Fact]
    public void Counts_of_24_bits_are_rounded_in_EDF_and_kept_in_BDF()
    {
        var channel = Written.Pleth(SampleRate.Of(4, 1000), Calibration.OfRange(-8_388_608, 8_388_607, -262_144, 262_143), -8_388_608, 3, 8_388_607, null);
        var (edf, rounded) = Written.Edf(Written.Of(channel));
        Assert.Equal(WriteIssueCodes.Rounded, Assert.Single(rounded).Code);
        Assert.InRange(edf.Rows(0).First().Value!.Value, -262_149m, -262_139m);

        var (bdf, kept) = Written.Bdf(Written.Of(channel));
        // The lowest count is a number here, so the first free one stands for none.
        Assert.Equal([-8_388_608, 3, 8_388_607, -8_388_607], bdf.Signals[0].Counts);
        Assert.Equal("-8388607 = no number", bdf.Signals[0].Transducer);
        Assert.Empty(kept);
    }

    [Fact]
    public void A_converter_that_uses_every_count_and_has_gaps_besides_is_rounded_and_listed()
    {
        var all = Enumerable.Range(-32_768, 65_536).Select(c => (int?)c).Append(null).ToArray();
        var (file, issues) = Written.Edf(Written.Of(Written.Pleth(SampleRate.Of(1000, 1000), Calibration.OfRange(-32768, 32767, -5, 5), all)));
        Assert.Equal(WriteIssueCodes.Rounded, Assert.Single(issues).Code);
        Assert.Null(file.Rows(0).Last().Value);
        Assert.Equal(65_537, file.Rows(0).Count());
    }

    [Fact]
    public void Rows_with_no_even_grid_are_refused_and_the_message_names_other_formats()
    {
        var e = Assert.Throws<UnwritableRecordingException>(() => Written.Edf(Written.Of(Written.SpO2(Written.Times(0, 1003, 1998, 3001), 97, 96, 95, 94))));
        Assert.Contains("JSON", e.WhatHelps);
        Assert.Contains("SpO2", e.Where);
    }

    [Fact]
    public void Channels_that_begin_between_each_others_steps_get_a_finer_grid_and_their_period_is_said()
    {
        var late = Written.SpO2(TimeAxis.Even(new SampleTime(250), new Duration(1000), 3), 97, 96, 95);
        var (file, issues) = Written.Edf(Written.Of(new Channel("PI", ChannelKind.PerfusionIndex, "%", TimeAxis.Even(default, new Duration(1000), 4), ValueColumn.Of([1, 2, 3, 4])), late));
        Assert.Equal([(250L, 97m), (1250L, 96m), (2250L, 95m)], file.Rows(1));
        Assert.Equal("period 1000 ms; -32767 = no row", file.Signals[1].Transducer);
        Assert.Empty(issues);
    }

    [Fact]
    public void A_file_is_written_forwards_only_and_not_closed()
    {
        using var forwards = new ForwardsOnly();
        new EdfRecordingWriter().Write(Written.Of(Written.SpO2(97, null, 95)), forwards);
        Assert.True(forwards.Length > 768);
        Assert.False(forwards.IsClosed);
    }

    private sealed class ForwardsOnly : MemoryStream
    {
        public bool IsClosed { get; private set; }

        public override bool CanSeek => false;

        public override bool CanRead => false;

        public override long Seek(long offset, SeekOrigin loc) => throw new NotSupportedException();

        protected override void Dispose(bool disposing)
        {
            IsClosed = true;
            base.Dispose(disposing);
        }
    }
}
