using CsCheck;
using Stillwatch.Formats.Edf;
using Stillwatch.Formats.Edf.Records;
using Stillwatch.Formats.Tests.Contract;
using Stillwatch.Formats.Tests.Csv;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Formats.Tests.Edf;

/// <summary>From bytes to samples: every count at its place, at any mix of rates, and no byte read that nobody asked for.</summary>
public class EdfSampleTests
{
    [Fact]
    public void Samples_are_widened_as_by_hand_whatever_their_number()
    {
        Gen.Select(Gen.Byte.Array[0, 400], Gen.Int[2, 3]).Sample((bytes, each) =>
        {
            var whole = bytes.AsSpan(0, bytes.Length / each * each);
            int[] found = new int[whole.Length / each];
            Widening.Widen(whole, each, found);
            for (int i = 0; i < found.Length; i++)
            {
                int upper = unchecked((sbyte)whole[each * i + each - 1]);
                int expected = each == 2 ? upper * 256 + whole[2 * i] : upper * 65_536 + whole[3 * i + 1] * 256 + whole[3 * i];
                Assert.Equal(expected, found[i]);
            }

            Assert.Equal((found.DefaultIfEmpty(int.MaxValue).Min(), found.DefaultIfEmpty(int.MinValue).Max()), Widening.Ends(found));
        });
    }

    [Theory]
    [InlineData(2, new byte[] { 0x00, 0x80, 0xFF, 0xFF, 0x00, 0x00, 0xFF, 0x7F }, new[] { -32768, -1, 0, 32767 })]
    [InlineData(3, new byte[] { 0x00, 0x00, 0x80, 0xFF, 0xFF, 0xFF, 0x00, 0x00, 0x00, 0xFF, 0xFF, 0x7F }, new[] { -8_388_608, -1, 0, 8_388_607 })]
    public void The_ends_of_two_s_complement_little_endian(int bytesPerSample, byte[] bytes, int[] expected)
    {
        int[] found = new int[4];
        Widening.Widen(bytes, bytesPerSample, found);
        Assert.Equal(expected, found);
    }

    // Of any file: the counts that were written come back, at the rate of their signal, for a truncated file as far as they go.
    [Fact]
    public void Any_mix_of_signals_comes_back_count_by_count()
    {
        var signals = Gen.Int[1, 9000].Select(Gen.Int[1, 40], (large, small) => large % 7 == 0 ? large : small).Array[1, 6];
        Gen.Select(signals, Gen.Bool, Gen.Int[1, 5], Gen.Int[0, 4].Select(i => new[] { "1", "0.5", "0.125", "30", "0.3333" }[i]), Gen.Int[0, 60]).Sample((sizes, isBdf, records, seconds, cut) =>
        {
            int limit = isBdf ? 8_388_607 : 32_767;
            var file = new EdfFile
            {
                IsBdf = isBdf,
                Records = records,
                RecordSeconds = seconds,
                Signals = [.. sizes.Select((n, s) => new EdfTestSignal($"signal {s}", n) { Count = i => (int)((i * 7919L + s * 104_729L) % (2L * limit)) - limit })],
            };
            byte[] bytes = file.ToBytes();
            int length = Math.Max(file.HeaderLength, bytes.Length - cut);
            var result = EdfFile.ReadBytes(bytes[..length]);
            Assert.Equal(cut > 0, result.Issues.Any(i => i.Severity == IssueSeverity.Doubt && i.Code is EdfIssueCodes.RecordCut or EdfIssueCodes.RecordCount));
            if (result.Recording is not { } recording)
            {
                Assert.InRange(length - file.HeaderLength, 0, file.RecordLength);
                return;
            }

            for (int s = 0; s < sizes.Length; s++)
            {
                var channel = recording.Channels[s];
                Assert.Equal(SampleRate.Of(sizes[s], decimal.Parse(seconds)), channel.Times.Rate);
                int expected = Enumerable.Range(0, records).Sum(r => WholeSamples(file, s, r, length));
                Assert.Equal(expected, channel.Times.Count);
                for (int i = 0; i < expected; i++) Assert.Equal(file.Signals[s].Count!(i), channel.Counts![i]);
            }
        }, iter: Environment.GetEnvironmentVariable("STILLWATCH_FULL") == "1" ? 2000 : 60);
    }

    [Theory]
    [InlineData(40_000, 0.02)] // one signal of twenty large ones: only its pieces
    [InlineData(4, 1.0)] // small records: one long read, each byte once
    public void Bytes_of_signals_that_are_not_wanted_are_passed_over(int samplesPerRecord, double mostRead)
    {
        var others = Enumerable.Range(0, 19).Select(s => new EdfTestSignal($"EEG {s}", samplesPerRecord) { Count = i => i % 100 });
        var file = new EdfFile { Records = 40, Signals = [.. others, EdfTestSignal.SpO2] };
        byte[] bytes = file.ToBytes();
        var folder = new CountingFolder(bytes);
        var result = new EdfRecordingReader().Read(new RecordingSource("night.edf", folder), new ReadOptions { Wanted = new HashSet<ChannelKind> { ChannelKind.SpO2 } });
        Assert.Equal(40, Assert.Single(result.Recording!.Channels).Times.Count);
        Assert.InRange(folder.BytesRead, file.HeaderLength, file.HeaderLength + (long)(mostRead * bytes.Length));
    }

    [Fact]
    public void Memory_grows_with_the_one_wanted_channel_alone()
    {
        byte[] Bytes(int others) => new EdfFile
        {
            Records = 30,
            Signals = [.. Enumerable.Range(0, others).Select(s => new EdfTestSignal($"EEG {s}", 2000) { Count = i => i % 100 }), EdfTestSignal.SpO2],
        }.ToBytes();
        long few = Allocated(Bytes(1)), many = Allocated(Bytes(40));
        Assert.InRange(many - few, long.MinValue, 400_000); // the header's fields and a read-ahead buffer; the samples passed over are 4.7 MB

        static long Allocated(byte[] bytes)
        {
            long before = GC.GetAllocatedBytesForCurrentThread();
            Assert.Single(EdfFile.ReadBytes(bytes, new ReadOptions { Wanted = new HashSet<ChannelKind> { ChannelKind.SpO2 } }).Recording!.Channels);
            return GC.GetAllocatedBytesForCurrentThread() - before;
        }
    }

    [Fact]
    public void A_file_that_becomes_shorter_while_it_is_read_is_refused()
    {
        var error = Assert.Throws<UnreadableFileException>(() => new EdfRecordingReader().Read(new RecordingSource("night.edf", new ShrinkingFolder(new EdfFile { Records = 50 }.ToBytes())), new ReadOptions()));
        Assert.Contains("changed while it was read", error.LikelyCause, StringComparison.Ordinal);
    }

    [Fact]
    public void A_signal_without_a_scale_is_never_judged()
    {
        byte[] bytes = EdfFile.Patch(new EdfFile().ToBytes(), Formats.Edf.Header.EdfFields.PhysicalMaximum, "0", 0);
        var channel = Assert.Single(EdfFile.ReadBytes(bytes).Recording!.Channels);
        Assert.Equal((ChannelKind.Other, "", 970, Calibration.Counts), (channel.Kind, channel.Unit, channel.Counts![0], channel.Counts.Calibration));
        Assert.Empty(EdfFile.ReadBytes(bytes, new ReadOptions { Wanted = new HashSet<ChannelKind> { ChannelKind.SpO2 } }).Recording!.Channels);
        Assert.Throws<UnreadableFileException>(() => EdfFile.ReadBytes(bytes, new ReadOptions { Channel = "SpO2" }));
    }

    [Fact]
    public void A_signal_is_named_by_the_number_that_it_has_in_the_file_annotations_counted()
    {
        var file = new EdfFile { Reserved = "EDF+C", Signals = [EdfTestSignal.Notes(10, r => $"+{r}"), EdfTestSignal.SpO2, EdfTestSignal.SpO2 with { Count = i => 900 + i }] };
        Assert.Equal("97 96 95 94", file.Read(new ReadOptions { Channel = "#2" }).Recording!.Values(ChannelKind.SpO2));
        Assert.Equal("90 90.1 90.2 90.3", file.Read(new ReadOptions { Channel = "#3" }).Recording!.Values(ChannelKind.SpO2));
        Assert.Equal("90 90.1 90.2 90.3", file.Read(new ReadOptions { Channel = "#-1" }).Recording!.Values(ChannelKind.SpO2));
        Assert.Throws<UnreadableFileException>(() => file.Read(new ReadOptions { Channel = "#1" }));
        Assert.Contains("#2, #3", Assert.Throws<UnreadableFileException>(() => file.Read(new ReadOptions { Channel = "SpO2" })).LikelyCause, StringComparison.Ordinal);
    }

    // 0 to 100 % over all 65 536 counts: count 0 is 50.000763 % (facts sheet, computed).
    [Fact]
    public void A_scale_that_is_no_finite_decimal_is_rounded_once()
    {
        var file = new EdfFile { Signals = [EdfTestSignal.SpO2 with { PhysicalMinimum = "0", PhysicalMaximum = "100", DigitalMinimum = "-32768", DigitalMaximum = "32767", Count = i => i == 1 ? 0 : 32_767 - i }] };
        Assert.Equal("100 50.000763 99.996948 99.995422", file.Read().Recording!.Values(ChannelKind.SpO2));
    }

    private static int WholeSamples(EdfFile file, int signal, int record, int length)
    {
        int start = file.HeaderLength + record * file.RecordLength + file.Signals.Take(signal).Sum(s => s.SamplesPerRecord) * file.BytesPerSample;
        return Math.Clamp((length - start) / file.BytesPerSample, 0, file.Signals[signal].SamplesPerRecord);
    }

    private sealed class CountingFolder(byte[] bytes) : IRecordingFolder
    {
        public long BytesRead { get; private set; }

        public Stream? TryOpen(string name) => new Counting(bytes, this);

        public IReadOnlyList<string> NamesBeginning(string start) => [];

        private sealed class Counting(byte[] bytes, CountingFolder folder) : MemoryStream(bytes, writable: false)
        {
            // A reading into a span arrives here as well.
            public override int Read(byte[] buffer, int offset, int count)
            {
                int length = base.Read(buffer, offset, count);
                folder.BytesRead += length;
                return length;
            }
        }
    }

    private sealed class ShrinkingFolder(byte[] bytes) : IRecordingFolder
    {
        public Stream? TryOpen(string name) => new Shrinking(bytes);

        public IReadOnlyList<string> NamesBeginning(string start) => [];

        // Gives the header, and then half of what it promised.
        private sealed class Shrinking(byte[] bytes) : MemoryStream(bytes, writable: false)
        {
            public override int Read(byte[] buffer, int offset, int count) => base.Read(buffer, offset, (int)Math.Clamp(512 + 50 - Position, 0, count));
        }
    }
}
