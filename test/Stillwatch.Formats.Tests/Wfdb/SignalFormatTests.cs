using CsCheck;
using Stillwatch.Formats.Wfdb;
using Stillwatch.Formats.Wfdb.Samples;
using Stillwatch.Signals;

namespace Stillwatch.Formats.Tests.Wfdb;

/// <summary>The storage formats of signal(5): packed here, unpacked by the reader, and unpacked bit by bit by the twin.</summary>
public class SignalFormatTests
{
    // bits | lowest, which means no number
    public static TheoryData<int> Codes => [.. SignalFormat.All.Select(f => f.Code)];

    [Fact]
    public void The_worked_example_of_format_212_gives_1000_and_minus_1()
    {
        // facts of the format: bytes E8 F3 FF
        int[] samples = new int[2];
        SignalFormat.Find(212)!.Decode([0xE8, 0xF3, 0xFF], samples);
        Assert.Equal([1000, -1], samples);
    }

    [Theory]
    [MemberData(nameof(Codes))]
    public void What_was_packed_is_unpacked_whatever_the_number_of_samples(int code)
    {
        var format = SignalFormat.Find(code)!;
        Sample(format).Array[0, 100].Sample(samples =>
        {
            byte[] bytes = MadeRecord.Pack(code, samples);
            int[] decoded = new int[samples.Length];
            format.Decode(bytes, decoded);
            Assert.Equal(samples, decoded);
            Assert.Equal(bytes.Length, format.BytesOf(samples.Length));
            Assert.InRange(format.SamplesIn(bytes.Length), samples.Length, samples.Length + format.GroupSamples - 1);
        });
    }

    [Theory]
    [MemberData(nameof(Codes))]
    public void Any_bytes_are_unpacked_as_the_twin_does_bit_by_bit(int code)
    {
        var format = SignalFormat.Find(code)!;
        Gen.Byte.Array[0, 200].Sample(bytes =>
        {
            int[] decoded = new int[format.SamplesIn(bytes.Length)];
            format.Decode(bytes, decoded);
            Assert.Equal(decoded.Select(d => (long?)d), Enumerable.Range(0, decoded.Length).Select(i => SlowTwin.Code(code, bytes, 0, i)));
            Assert.Null(SlowTwin.Code(code, bytes, 0, decoded.Length));
        });
    }

    [Theory]
    [MemberData(nameof(Codes))]
    public void Signals_that_share_a_file_are_dealt_out_as_the_twin_does_at_any_frame_offset_and_length(int code)
    {
        var format = SignalFormat.Find(code)!;
        var gen = Gen.Select(Gen.Int[1, 5].Array[1, 5], Gen.Int[1, 60], Gen.Int[0, 9], Gen.Int[0, 3].Array[5], Sample(format).Array[2000]);
        gen.Sample((perFrame, frames, offset, skews, pool) =>
        {
            int[] samples = [.. pool.Take(frames * perFrame.Sum())];
            byte[] bytes = [.. Enumerable.Repeat((byte)7, offset), .. MadeRecord.Pack(code, samples)];
            string lines = string.Concat(perFrame.Select((n, i) => $"a.dat {code}x{n}:{skews[i]}+{offset} 100(3)/NU 12 0 5 0 0 s{i}\n"));
            var made = new MadeRecord().With("a.hea", $"a {perFrame.Length} 10 {frames}\n{lines}").With("a.dat", bytes);
            var result = made.Read("a.hea");
            var header = new Formats.Wfdb.Header.HeaderParser("a.hea", new IssueLog()).Parse(Formats.Wfdb.Header.HeaderLines.Split($"a {perFrame.Length} 10 {frames}\n{lines}"));
            for (int s = 0; s < perFrame.Length; s++)
            {
                var counts = result.Channel($"s{s}").Counts!;
                var found = Enumerable.Range(0, counts.Count).Select(i => counts[i] == CountColumn.Missing ? null : (long?)counts[i]);
                Assert.Equal(SlowTwin.Counts(header, header.Signals[s], bytes, frames), found);
                Assert.Equal(Time.SampleRate.Of(10 * perFrame[s], 1000), result.Channel($"s{s}").Times.Rate);
            }
        }, iter: 30);
    }

    [Theory]
    [InlineData(16)]
    [InlineData(212)]
    [InlineData(311)]
    public void A_file_of_many_blocks_is_read_without_a_seam(int code)
    {
        var format = SignalFormat.Find(code)!;
        var random = new Random(20261125);
        int lowest = format.Invalid!.Value + 1;
        const int frames = 70_001;
        int[] samples = [.. Enumerable.Range(0, frames * 3).Select(_ => random.Next(lowest, -lowest))];
        var made = new MadeRecord().With("a.hea", $"a 2 100 {frames}\na.dat {code}x2 100 12 0 {samples[0]} {MadeRecord.Sum(samples.Where((_, i) => i % 3 < 2))} 0 two\na.dat {code} 100 12 0 {samples[2]} {MadeRecord.Sum(samples.Where((_, i) => i % 3 == 2))} 0 one\n").With("a.dat", code, samples);
        var result = made.Read("a.hea");
        Assert.DoesNotContain(result.Issues, i => i.Code is WfdbIssueCodes.SignalChecksum or WfdbIssueCodes.SignalInitialValue or WfdbIssueCodes.FileShort or WfdbIssueCodes.FileLong);
        var (two, one) = (result.Channel("two").Counts!, result.Channel("one").Counts!);
        Assert.Equal(2 * frames, two.Count);
        for (int f = 0; f < frames; f++)
        {
            Assert.Equal(samples[3 * f], two[2 * f]);
            Assert.Equal(samples[3 * f + 1], two[2 * f + 1]);
            Assert.Equal(samples[3 * f + 2], one[f]);
        }
    }

    [Theory]
    [InlineData(16, 2)]
    [InlineData(16, 5)]
    [InlineData(212, 2)]
    [InlineData(212, 3)]
    [InlineData(80, 2)]
    public void Signals_that_take_turns_over_many_blocks_are_kept_apart(int code, int signals)
    {
        var random = new Random(20261125);
        const int frames = 33_333;
        int most = -SignalFormat.Find(code)!.Invalid!.Value;
        int[] samples = [.. Enumerable.Range(0, frames * signals).Select(_ => random.Next(1 - most, most))];
        string lines = string.Concat(Enumerable.Range(0, signals).Select(s => $"a.dat {code} 1/NU 12 0 {samples[s]} {MadeRecord.Sum(samples.Where((_, i) => i % signals == s))} 0 s{s}\n"));
        var result = new MadeRecord().With("a.hea", $"a {signals} 100 {frames}\n{lines}").With("a.dat", code, samples).Read("a.hea");
        Assert.DoesNotContain(result.Issues, i => i.Code is WfdbIssueCodes.SignalChecksum or WfdbIssueCodes.SignalInitialValue or WfdbIssueCodes.FileShort or WfdbIssueCodes.FileLong);
        for (int s = 0; s < signals; s++)
        {
            var counts = result.Channel($"s{s}").Counts!;
            Assert.Equal(frames, counts.Count);
            for (int f = 0; f < frames; f++) Assert.Equal(samples[f * signals + s], counts[f]);
        }
    }

    [Theory]
    [InlineData(16, -32768)]
    [InlineData(24, -8388608)]
    [InlineData(32, int.MinValue)]
    [InlineData(61, -32768)]
    [InlineData(80, -128)]
    [InlineData(160, -32768)]
    [InlineData(212, -2048)]
    [InlineData(310, -512)]
    [InlineData(311, -512)]
    public void The_invalid_code_is_no_number_and_the_code_above_it_is_one(int code, int invalid)
    {
        foreach (int sum in new[] { unchecked((short)(invalid + invalid + 1 + 5)), unchecked((short)(-32768 + invalid + 1 + 5)) })
        {
            // Both ways of adding up an invalid sample are met: its own code, and the original library's.
            var result = new MadeRecord().With("a.hea", $"a 1 10 3\na.dat {code} 1/NU 12 0 {invalid} {sum} 0 s\n").With("a.dat", code, invalid, invalid + 1, 5).Read("a.hea");
            var counts = result.Channel("s").Counts!;
            Assert.Equal([CountColumn.Missing, invalid + 1, 5], [counts[0], counts[1], counts[2]]);
            Assert.DoesNotContain(result.Issues, i => i.Code is WfdbIssueCodes.SignalChecksum or WfdbIssueCodes.SignalInitialValue);
        }
    }

    [Fact]
    public void First_differences_start_at_the_initial_value_and_have_no_invalid_code()
    {
        var result = new MadeRecord().With("a.hea", "a 1 10 4\na.dat 8 1/NU 12 0 1000 0 0 s\n").With("a.dat", 8, 0, -128, 127, 1).Read("a.hea");
        var counts = result.Channel("s").Counts!;
        Assert.Equal([1000, 872, 999, 1000], Enumerable.Range(0, 4).Select(i => counts[i]));
        Assert.Contains(result.Issues, i => i.Code == WfdbIssueCodes.SignalChecksum && i.Found.Contains("3871", StringComparison.Ordinal));
    }

    [Fact]
    public void Differences_that_lead_beyond_32_bits_are_no_numbers_and_listed()
    {
        var result = new MadeRecord().With("a.hea", $"a 1 10 3\na.dat 8 1/NU 12 0 {int.MaxValue} 0 0 s\n").With("a.dat", 8, 0, 1, -1).Read("a.hea");
        var counts = result.Channel("s").Counts!;
        Assert.Equal([int.MaxValue, CountColumn.Missing, int.MaxValue], Enumerable.Range(0, 3).Select(i => counts[i]));
        Assert.Equal(1, result.Issue(WfdbIssueCodes.SignalRange).Count);
    }

    [Theory]
    [MemberData(nameof(Codes))]
    public void A_signal_file_cut_off_at_any_byte_keeps_its_whole_frames_and_says_what_is_missing(int code)
    {
        int[] samples = [.. Enumerable.Range(1, 21)];
        byte[] whole = MadeRecord.Pack(code, samples);
        for (int length = 0; length < whole.Length; length++)
        {
            var result = new MadeRecord().With("a.hea", $"a 2 10 7\na.dat {code}x2 1/NU 12 0 0 0 0 two\na.dat {code} 1/NU 12 0 0 0 0 one\n").With("a.dat", whole[..length]).Read("a.hea");
            int there = Enumerable.Range(0, 21).TakeWhile(i => SlowTwin.Code(code, whole[..length], 0, i) is not null).Count();
            Assert.Equal(there / 3, result.Recording?.Channels.Single(c => c.Label == "one").Times.Count ?? 0);
            Assert.Equal(IssueSeverity.Doubt, result.Issue(WfdbIssueCodes.FileShort).Severity);
            Assert.Equal(there < 3, result.Recording is null);
        }
    }

    private static Gen<int> Sample(SignalFormat format)
    {
        long lowest = -(1L << (format.Bits - 1));
        return Gen.Long[lowest, -lowest - 1].Select(l => (int)l);
    }
}
