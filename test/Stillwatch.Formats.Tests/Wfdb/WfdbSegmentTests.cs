using System.Text;
using Stillwatch.Formats.Labels;
using Stillwatch.Formats.Wfdb;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Formats.Tests.Wfdb;

/// <summary>Multi-segment records (header(5)): one time line, gaps that stay gaps, and headers that ask for too much.</summary>
public class WfdbSegmentTests
{
    private const string Layout = "stay_layout 2 1 0\n~ 0 10/% 12 0 0 0 0 SpO2\n~ 0 100/mV 12 0 0 0 0 II\n";

    [Fact]
    public void Segments_lie_on_one_even_time_line_and_gaps_have_no_numbers()
    {
        var result = Stay("a 3; ~ 2; b 2").Read("stay.hea");
        var spo2 = result.Channel("SpO2");
        Assert.True(spo2.Times.IsEven);
        Assert.Equal([97, 96, 95, null, null, null, null], Values(spo2));
        Assert.Equal([1, 2, 3, null, null, 7, 8], Values(result.Channel("II")));
        Assert.DoesNotContain(result.Issues, i => i.Severity == IssueSeverity.Failure);
    }

    [Fact]
    public void A_long_gap_is_left_out_of_the_axis()
    {
        var result = Stay("a 3; ~ 1000000000; b 2").Read("stay.hea");
        var ii = result.Channel("II");
        Assert.Equal(5, ii.Times.Count);
        Assert.False(ii.Times.IsEven);
        Assert.Equal([0, 1000, 2000, 1_000_000_003_000, 1_000_000_004_000], Enumerable.Range(0, 5).Select(i => ii.Times.TimeAt(i).Milliseconds));
        Assert.Equal(new Duration(1000), ii.Times.Period);
        Assert.Equal([1, 2, 3, 7, 8], Values(ii));
        Assert.Equal(2, result.Issues.Count(i => i.Code == WfdbIssueCodes.SegmentGap));
    }

    [Fact]
    public void Beyond_a_century_nothing_is_read_and_that_is_said()
    {
        var result = Stay($"a 3; ~ {long.MaxValue}; b 2").Read("stay.hea");
        Assert.Equal([1, 2, 3], Values(result.Channel("II")));
        Assert.Contains(result.Issues, i => i.Severity == IssueSeverity.Failure && i.Code == WfdbIssueCodes.SegmentLength);
    }

    // segments | what is listed | a word
    [Theory]
    [InlineData("a 3; c 2; b 2", WfdbIssueCodes.SegmentMissing, "no file \"c.hea\"")]
    [InlineData("a 3; stay 2; b 2", WfdbIssueCodes.SegmentMissing, "the record itself")]
    [InlineData("a 3; ../b 2; b 2", WfdbIssueCodes.SegmentMissing, "folder")]
    [InlineData("a 3; more 2; b 2", WfdbIssueCodes.SegmentRefused, "a record of segments")]
    [InlineData("a 3; fast 2; b 2", WfdbIssueCodes.SegmentRefused, "2 samples a second")]
    [InlineData("a 3; bare 2; b 2", WfdbIssueCodes.SignalNoFile, "no file \"bare.dat\"")]
    [InlineData("a 3; broken 2; b 2", WfdbIssueCodes.SegmentMissing, "number of signals")]
    public void A_segment_that_cannot_be_read_stays_a_gap_and_the_rest_keeps_its_place(string segments, string code, string word)
    {
        var result = Stay(segments).Read("stay.hea");
        Assert.Equal([1, 2, 3, null, null, 7, 8], Values(result.Channel("II")));
        Assert.Contains(result.Issues, i => i.Severity == IssueSeverity.Failure && i.Code == code && i.Found.Contains(word, StringComparison.Ordinal));
    }

    [Fact]
    public void A_segment_whose_header_disagrees_about_its_length_is_listed()
    {
        var result = Stay("a 2; b 2").Read("stay.hea");
        Assert.Equal([1, 2, 7, 8], Values(result.Channel("II")));
        Assert.DoesNotContain(result.Issues, i => i.Code == WfdbIssueCodes.SignalChecksum); // it speaks of three samples
        Assert.Contains("3 samples", result.Issues.First(i => i.Code == WfdbIssueCodes.SegmentLength).Found, StringComparison.Ordinal);
    }

    [Fact]
    public void A_unit_is_never_converted_in_silence()
    {
        var made = Stay("a 3; b 2").With("b.hea", "b 1 1 2\nb.dat 16 100/uV 12 0 700 1500 0 II\n");
        var result = made.Read("stay.hea");
        Assert.Equal([1, 2, 3, null, null], Values(result.Channel("II")));
        Assert.Contains("in \"uV\"", result.Issue(WfdbIssueCodes.SegmentRefused).Found, StringComparison.Ordinal);
    }

    [Fact]
    public void An_uncalibrated_segment_of_a_calibrated_signal_is_a_gap()
    {
        var result = Stay("a 3; b 2").With("b.hea", "b 1 1 2\nb.dat 16 0/mV 12 0 700 1500 0 II\n").Read("stay.hea");
        Assert.Equal([1, 2, 3, null, null], Values(result.Channel("II")));
        Assert.Equal("no gain", result.Issue(WfdbIssueCodes.SegmentRefused).Found);
    }

    [Fact]
    public void A_gain_that_changes_is_brought_to_a_common_scale_exactly()
    {
        var made = Stay("a 3; b 2").With("b.hea", "b 1 1 2\nb.dat 16 70(10)/mV 12 0 700 1500 0 II\n");
        var ii = made.Read("stay.hea").Channel("II");
        Assert.Equal(new Calibration(0, 0, 1, 700), ii.Counts!.Calibration);
        Assert.Equal([700, 1400, 2100, 6900, 7900], Enumerable.Range(0, 5).Select(i => ii.Counts[i]));
    }

    [Fact]
    public void Where_no_common_scale_is_exact_values_are_rounded_once_and_that_is_said()
    {
        var made = Stay("a 3; b 2").With("b.hea", "b 1 1 2\nb.dat 16 99.99999999/mV 12 0 700 1500 0 II\n");
        var result = made.Read("stay.hea");
        Assert.Null(result.Channel("II").Counts);
        Assert.Equal([1, 2, 3, 7.000000m, 8.000000m], Values(result.Channel("II")).Select(v => (decimal)v!));
        Assert.Equal(IssueSeverity.Doubt, result.Issue(WfdbIssueCodes.SignalCalibrationChanges).Severity);
    }

    [Fact]
    public void Judged_values_take_each_segments_own_gain()
    {
        var made = Stay("a 3; b 2").With("b.hea", "b 1 1 2\nb.dat 16 8/% 12 0 700 1500 0 SpO2\n");
        Assert.Equal([97, 96, 95, 87.5, 100], Values(made.Read("stay.hea").Channel("SpO2")));
    }

    [Fact]
    public void Without_its_layout_the_signals_of_all_segments_are_taken_and_that_is_said()
    {
        var made = Stay("a 3; b 2");
        var result = made.With("stay.hea", "stay/3 2 1 5\ngone 0\na 3\nb 2\n").Read("stay.hea");
        Assert.Equal([1, 2, 3, 7, 8], Values(result.Channel("II")));
        Assert.Contains(result.Issues, i => i.Severity == IssueSeverity.Doubt && i.Code == WfdbIssueCodes.SegmentMissing);
    }

    [Fact]
    public void A_segment_may_appear_more_than_once_and_eight_times_at_most()
    {
        var result = Stay(string.Join("; ", Enumerable.Repeat("b 2", 10))).Read("stay.hea");
        Assert.Equal(16, Values(result.Channel("II")).Count(v => v is not null));
        Assert.Equal(2, result.Issue(WfdbIssueCodes.SegmentRefused).Count);
    }

    [Fact]
    public void A_hundred_thousand_segments_take_memory_for_what_is_there_alone()
    {
        var header = new StringBuilder("stay/100001 2 1 200000\nstay_layout 0\n");
        for (int i = 0; i < 100_000; i++) header.Append(i % 2 == 0 ? "a 3\n" : $"gone{i} 1\n");
        var made = Stay("a 3").With("stay.hea", header.ToString());
        long before = GC.GetAllocatedBytesForCurrentThread();
        var result = made.Read("stay.hea");
        Assert.InRange(GC.GetAllocatedBytesForCurrentThread() - before, 0, 150_000_000);
        Assert.Equal(24, Values(result.Channel("II")).Count(v => v is not null));
        Assert.InRange(result.Issues.Count, 1, 600);
        Assert.Equal(50_000, result.Issues.Where(i => i.Code == WfdbIssueCodes.SegmentMissing).Sum(i => i.Count));
    }

    [Theory]
    [InlineData("stay/3 2 1 5\nstay_layout 0\na 3\n", WfdbIssueCodes.HeaderLinesMissing)]
    [InlineData("stay/2 2 1 9\nstay_layout 0\na 3\n", WfdbIssueCodes.SegmentLength)]
    [InlineData("stay/2 3 1 3\nstay_layout 0\na 3\n", WfdbIssueCodes.HeaderField)]
    public void Counts_that_disagree_are_listed(string header, string code)
    {
        var result = Stay("a 3").With("stay.hea", header).Read("stay.hea");
        Assert.Contains(result.Issues, i => i.Code == code && i.Severity != IssueSeverity.Note);
        Assert.Equal([1, 2, 3], Values(result.Channel("II")));
    }

    [Fact]
    public void A_segment_of_no_known_length_is_refused_since_nothing_after_it_has_a_time() =>
        Assert.Throws<UnreadableFileException>(() => Stay("a 3").With("stay.hea", "stay/2 2 1 5\na x\nb 2\n").Read("stay.hea"));

    [Fact]
    public void A_fast_waveform_with_a_gap_longer_than_itself_keeps_its_first_stretch_and_says_so()
    {
        var made = new MadeRecord().With("f.hea", "f/3 1 2000 100004\nf1 2\n~ 100000\nf2 2\n")
            .With("f1.hea", "f1 1 2000 2\nf1.dat 16 1/NU 12 0 1 3 0 s\n").With("f1.dat", 16, 1, 2)
            .With("f2.hea", "f2 1 2000 2\nf2.dat 16 1/NU 12 0 3 7 0 s\n").With("f2.dat", 16, 3, 4);
        var result = made.Read("f.hea");
        Assert.Equal([1, 2], Values(result.Channel("s")));
        Assert.Contains(result.Issues, i => i.Severity == IssueSeverity.Failure && i.Code == WfdbIssueCodes.SegmentGap);
    }

    // a: SpO2 97 96 95 and II 1 2 3 · b: II 7 8 · others for what can go wrong
    private static MadeRecord Stay(string segments)
    {
        var lines = segments.Split("; ");
        decimal frames = lines.Sum(l => decimal.Parse(l.Split(' ')[1]));
        return new MadeRecord()
            .With("stay.hea", $"stay/{lines.Length + 1} 2 1 {frames}\nstay_layout 0\n{string.Join('\n', lines)}\n")
            .With("stay_layout.hea", Layout)
            .With("a.hea", "a 2 1 3\na.dat 16 10/% 12 0 970 2880 0 SpO2\na.dat 16 100/mV 12 0 100 600 0 II\n").With("a.dat", 16, 970, 100, 960, 200, 950, 300)
            .With("b.hea", "b 1 1 2\nb.dat 16 100/mV 12 0 700 1500 0 II\n").With("b.dat", 16, 700, 800)
            .With("more.hea", "more/1 1 1 2\nb 2\n")
            .With("fast.hea", "fast 1 2 2\nb.dat 16 100/mV 12 0 700 1500 0 II\n")
            .With("bare.hea", "bare 1 1 2\nbare.dat 16 100/mV 12 0 700 1500 0 II\n")
            .With("broken.hea", "broken x 1 2\n");
    }

    private static List<double?> Values(Channel channel) => [.. Enumerable.Range(0, channel.Times.Count).Select(i => OpenWfdb.ValueAt(channel, i))];
}
