using Stillwatch.Formats.Labels;
using Stillwatch.Formats.Tests.Contract;
using Stillwatch.Formats.Wfdb;
using Stillwatch.Formats.Wfdb.Header;
using Stillwatch.Signals;

namespace Stillwatch.Formats.Tests.Wfdb;

/// <summary>WFDB sits the test of all readers: every number is in the bytes where the twin finds it, and every number that the twin finds is held, or something is said.</summary>
public class WfdbContractTests : ReaderContract
{
    private static readonly int[] Spo2 = [970, 960, -32768, 940, 930, 0, 910, 900, 890, 880, 870, 860];
    private static readonly int[] Pulse = [800, 810, 820, 830, -32768, 850, 860, 870, 880, 890, 900, 910];
    private static readonly int[] Wave = [.. Enumerable.Range(0, 48).Select(i => i * 37 % 400 - 200)];

    protected override IRecordingReader Reader => new WfdbRecordingReader();

    protected override IReadOnlyList<ReaderSample> Samples { get; } = [Numerics(), Waves(), Packed(), Differences(), Segments(), FixedSegments()];

    // A header that ends with a whole signal line may have lost no more than comments.
    protected override bool ShowsTruncationAt(ReaderSample sample, int length) =>
        length < sample.Boundaries[^1] || sample.Bytes[length - 1] != (byte)'\n';

    protected override void Account(ReaderSample damaged, ReadResult result)
    {
        bool said = result.Issues.Any(i => i.Severity != IssueSeverity.Note && i.Code != ChannelIssueCodes.ChannelNoSpO2);
        if (result.Recording is null)
        {
            Assert.True(said, "nothing was read, and nothing said");
            return;
        }

        var header = Parse(damaged, damaged.FileName)!;
        var ambiguous = new HashSet<string>();
        var expected = Expected(damaged, header, ambiguous);
        Assert.All(result.Recording.Channels, channel =>
        {
            if (ambiguous.Contains(channel.Label) || channel.Times.Rate is { IsOnePerMillisecondAtMost: false }) return; // several samples in one millisecond
            var counts = expected.GetValueOrDefault(channel.Label) ?? [];
            int numbers = 0;
            for (int row = 0; row < channel.Times.Count; row++)
            {
                if (OpenWfdb.ValueAt(channel, row) is not { } value) continue;
                numbers++;
                long time = channel.Times.TimeAt(row).Milliseconds;
                Assert.True(counts.TryGetValue(time, out double wanted), $"{channel.Label} at {time} ms: found {value}, and no sample in the files");
                // Fractions of 1 are listed and shown as percent.
                bool isScaled = channel.Kind is ChannelKind.SpO2 or ChannelKind.InhaledOxygen && result.Issues.Any(i => i.Code == ChannelIssueCodes.ValueScaled);
                Assert.Equal(isScaled ? wanted * 100 : wanted, value, isScaled ? 5.1e-5 : 5.1e-7 + Math.Abs(wanted) * 1e-12);
            }

            Assert.True(numbers == counts.Count || said, $"{channel.Label}: {counts.Count} numbers in the files, {numbers} held, and nothing said");
        });
        var missing = expected.Where(e => e.Value.Count > 0 && !result.Recording.Channels.Any(c => c.Label == e.Key));
        Assert.True(said || !missing.Any(), "a signal was not read, and nothing said");
    }

    // By label: the value of each time. Labels that occur twice are left out.
    private static Dictionary<string, SortedDictionary<long, double>> Expected(ReaderSample sample, WfdbHeader header, HashSet<string> ambiguous)
    {
        var found = new Dictionary<string, SortedDictionary<long, double>>();
        if (header.SegmentCount is null) Add(sample, header, 0, header.FrameCount, header, found);
        Doubled(header, ambiguous);
        long start = 0;
        foreach (var segment in header.Segments)
        {
            if (Parse(sample, segment.Name + ".hea") is { } each) Doubled(each, ambiguous);
            if (!segment.IsGap && segment.FrameCount > 0 && Parse(sample, segment.Name + ".hea") is { SegmentCount: null } own) Add(sample, own, start, segment.FrameCount, header, found);
            start += Math.Min(segment.FrameCount, 1_000_000_000_000);
        }

        return found;
    }

    private static void Doubled(WfdbHeader header, HashSet<string> ambiguous) =>
        ambiguous.UnionWith(header.Signals.GroupBy(s => s.Label).Where(g => g.Count() > 1).Select(g => g.Key));

    private static void Add(ReaderSample sample, WfdbHeader own, long startFrame, long? frames, WfdbHeader record, Dictionary<string, SortedDictionary<long, double>> found)
    {
        foreach (var signal in own.Signals)
        {
            if (own.Signals.Count(s => s.Label == signal.Label) > 1 || !sample.Files.TryGetValue(signal.FileName, out byte[]? bytes)) continue;
            var values = found.TryGetValue(signal.Label, out var known) ? known : found[signal.Label] = [];
            var counts = SlowTwin.Counts(own, signal, bytes, frames);
            var rate = SamplingFrequency.Of(record.Frequency ?? 250, Math.Max(startFrame, counts.Count)).Rate;
            for (int i = 0; i < counts.Count; i++)
            {
                if (counts[i] is not { } count) continue;
                var index = (Int128)startFrame * (signal.SamplesPerFrame ?? 1) + i;
                var scaled = rate.Samples * (signal.SamplesPerFrame ?? 1);
                values[(long)((2 * index * rate.Milliseconds + scaled) / (2 * (Int128)scaled))] = (double)((count - signal.Baseline) / (signal.Gain ?? 200m));
            }
        }
    }

    private static WfdbHeader? Parse(ReaderSample sample, string name)
    {
        if (!sample.Files.TryGetValue(name, out byte[]? bytes)) return null;
        try
        {
            return new HeaderParser(name, new IssueLog()).Parse(HeaderLines.Split(HeaderLines.Decode(bytes)));
        }
        catch (UnreadableFileException)
        {
            return null;
        }
    }

    private static ReaderSample Numerics()
    {
        int[] samples = [.. Spo2.Zip(Pulse).SelectMany(p => new[] { p.First, p.Second })];
        return Sample("numerics at one a minute", "night", new MadeRecord()
            .With("night.hea", $"night 2 0.0166666666667/125 12 1:56:25.894 09/10/2020\nnight.dat 16 10/% 16 0 970 {MadeRecord.Sum(Spo2)} 0 SpO2\nnight.dat 16 10/bpm 16 0 800 {MadeRecord.Sum(Pulse)} 0 PULSE\n# invented\n")
            .With("night.dat", 16, samples)
            .With("night.atr", MadeRecord.Annotations((2, 28, "(N"), (3, 1, null), (5000, 22, "alarm"))));
    }

    private static ReaderSample Waves() => Sample("several samples in a frame, a skew, a preamble and two files", "wave", new MadeRecord()
        .With("wave.hea", $"wave 3 60 12 22:00\nwave.d1 212x4+3 2000(5)/mV 12 0 {Wave[0]} {MadeRecord.Sum(Wave)} 0 II\nwave.d2 24:2 1.052e+04/NU 24 0 {Spo2[0]} {MadeRecord.Sum(Spo2)} 0 PLETH\nwave.d2 24 10/% 24 0 {Pulse[0]} {MadeRecord.Sum(Pulse)} 0 SpO2\n")
        .With("wave.d1", [1, 2, 3, .. MadeRecord.Pack(212, Wave)])
        .With("wave.d2", 24, [.. Spo2.Zip(Pulse).SelectMany(p => new[] { p.First, p.Second })]));

    private static ReaderSample Packed() => Sample("ten bits and offset binary", "packed", new MadeRecord()
        .With("packed.hea", $"packed 4 0.5 16\npacked.a 310 10/mV 10 0 {Wave[0]} {MadeRecord.Sum(Wave.Where((_, i) => i % 3 == 0))} 0 a\npacked.a 310 10/mV 10 0 {Wave[1]} {MadeRecord.Sum(Wave.Where((_, i) => i % 3 == 1))} 0 b\npacked.a 310 10/mV 10 0 {Wave[2]} {MadeRecord.Sum(Wave.Where((_, i) => i % 3 == 2))} 0 c\npacked.b 80 1/% 8 0 97 {16 * 97} 0 SpO2\n")
        .With("packed.a", 310, Wave)
        .With("packed.b", 80, [.. Enumerable.Repeat(97, 16)]));

    private static ReaderSample Differences() => Sample("differences, high byte first, 32 bits, and a length that the header does not know", "steps", new MadeRecord()
        .With("steps.hea", "steps 4 1\nsteps.a 8 10/% 12 0 900 0 0 SpO2\nsteps.b 61 10/bpm 16 0 800 0 0 PULSE\nsteps.c 32 1000/mV 32 0 970 0 0 c\nsteps.d 160 100/mV 16 0 970 0 0 d\n")
        .With("steps.a", 8, 0, 10, 10, -5, 3, 0, 1, -1, 2, -2, 0, 0)
        .With("steps.b", 61, Pulse).With("steps.c", 32, Spo2).With("steps.d", 160, Spo2));

    private static ReaderSample Segments() => Sample("segments in a variable layout with a gap", "stay", new MadeRecord()
        .With("stay.hea", "stay/5 3 1 46 8:26:04 26/10/2020\nstay_layout 0\nstay_1 12\n~ 10\nstay_2 12\nstay_3 12\n")
        .With("stay_layout.hea", "stay_layout 3 1 0\n~ 0 83/mV 12 0 0 0 0 II\n~ 0 10/% 12 0 0 0 0 SpO2\n~ 0 10/bpm 12 0 0 0 0 PULSE\n")
        .With("stay_1.hea", $"stay_1 2 1 12\nstay_1.dat 16 83/mV 12 0 970 {MadeRecord.Sum(Spo2)} 0 II\nstay_1.dat 16 10/% 12 0 800 {MadeRecord.Sum(Pulse)} 0 SpO2\n")
        .With("stay_1.dat", 16, [.. Spo2.Zip(Pulse).SelectMany(p => new[] { p.First, p.Second })])
        .With("stay_2.hea", $"stay_2 2 1 12\nstay_2.dat 16 29(3)/mV 12 0 800 {MadeRecord.Sum(Pulse)} 0 II\nstay_2.dat 16 10/bpm 12 0 970 {MadeRecord.Sum(Spo2)} 0 PULSE\n")
        .With("stay_2.dat", 16, [.. Pulse.Zip(Spo2).SelectMany(p => new[] { p.First, p.Second })])
        .With("stay_3.hea", $"stay_3 1 1 12\nstay_3.dat 16 5/% 12 0 970 {MadeRecord.Sum(Spo2)} 0 SpO2\n")
        .With("stay_3.dat", 16, Spo2));

    private static ReaderSample FixedSegments() => Sample("segments in a fixed layout", "both", new MadeRecord()
        .With("both.hea", "both/2 1 4 24\nboth1 12\nboth2 12\n")
        .With("both1.hea", $"both1 1 4 12\nboth1.dat 16 10/% 12 0 970 {MadeRecord.Sum(Spo2)} 0 SpO2\n").With("both1.dat", 16, Spo2)
        .With("both2.hea", $"both2 1 4 12\nboth2.dat 212 10/% 12 0 800 {MadeRecord.Sum(Pulse[..4].Concat(Pulse[5..]).Append(800))} 0 SpO2\n").With("both2.dat", 212, [.. Pulse[..4], .. Pulse[5..], 800]));

    // Boundaries: each field and each line of the header.
    private static ReaderSample Sample(string name, string record, MadeRecord made)
    {
        byte[] header = made.Files[record + ".hea"];
        int end = Array.IndexOf(header, (byte)'#') is var comment && comment < 0 ? header.Length : comment;
        int[] boundaries = [.. Enumerable.Range(1, end - 1).Where(i => header[i] is (byte)' ' or (byte)'\n' || header[i - 1] is (byte)' ' or (byte)'\n'), end];
        return new ReaderSample(name, record + ".hea", made.Files, boundaries);
    }
}
