using Stillwatch.Signals;

namespace Stillwatch.Formats.Edf.Writing;

/// <summary>Writes one recording: plans first (grids, records, scales, notes), then streams record by record.</summary>
internal sealed class EdfFileWriter(Recording recording, SampleWidth width)
{
    private const int MostChannels = 9_998; // and the annotations make four digits
    private const long MostRecords = 99_999_999; // what eight digits can say

    private readonly IssueLog issues = new();
    private readonly IReadOnlyList<Channel> channels = recording.Channels;

    /// <exception cref="UnwritableRecordingException">The format cannot hold it.</exception>
    public IReadOnlyList<ReadIssue> Write(Stream to)
    {
        if (channels.Count > MostChannels)
            throw new UnwritableRecordingException($"{channels.Count} channels", $"at most {MostChannels}", recording.Name, "Parquet or JSON, or fewer channels");
        long origin = Origin();
        var grids = channels.Select(c => ChannelGrid.Of(c.Times, origin) ?? throw NoGrid(c, origin)).ToList();
        for (int c = 0; c < grids.Count; c++) RefuseTooFast(channels[c], grids[c]);
        var plan = RecordPlan.Of(channels, grids, width.Bytes);
        if (plan.Count > MostRecords)
            throw new UnwritableRecordingException($"{plan.Count} data records", $"at most {MostRecords}", recording.Name, "Parquet or JSON, or a part of the recording");
        NoteLostRates(grids);

        var start = StartFields.Of(recording, origin, issues);
        var texts = new NoteTexts(origin, start.SecondsAfter, issues);
        var notes = NotePlacing.Of(recording, plan, texts, origin);
        var counts = channels.Select((c, i) => CountsOf(c, hasPlacesWithoutRow: plan.Count * plan.PlacesOf[i] > c.Times.Count)).ToList();
        to.Write(HeaderWriter.BytesOf(width, start, plan, Describe(plan, grids, counts, notes)));
        WriteRecords(to, plan, grids, counts, notes, texts);
        ListRounding(counts);
        return issues.ToList();
    }

    // The time origin, so that it comes back as the file's beginning; rows before it would begin before the file.
    private long Origin()
    {
        long first = 0;
        foreach (var channel in channels)
        {
            if (channel.Times.Count > 0) first = Math.Min(first, channel.Times.First.Milliseconds);
        }

        if (first < 0)
        {
            issues.Note(WriteIssueCodes.Origin, "", "file", $"rows from {first / 1000m:0.###} s on, before the time origin", "the origin first",
                recording.Start.IsKnown ? "the file begins with the first row; its start is as much earlier" : "the file begins with the first row; all times are as much later");
        }

        return first;
    }

    private static UnwritableRecordingException NoGrid(Channel channel, long origin) =>
        RecordPlan.TooUneven(channel, $"{channel.Times.Rate} that begin {(channel.Times.First.Milliseconds - origin) / 1000m:0.###} s into the file, between its own steps");

    // A reader of ours would hold it as a waveform, and no rule would judge it any more.
    private static void RefuseTooFast(Channel channel, ChannelGrid grid)
    {
        if (channel.Kind.MayBeCounts() || grid.Rate.IsOnePerMillisecondAtMost) return;
        throw new UnwritableRecordingException($"{channel.Kind} on a grid of {grid.Rate}", "at most 1000 a second for values that rules judge", $"channel {IssueLog.Show(channel.Label)}",
            "separated text, Parquet or JSON, where every row has its own time");
    }

    private SignalCounts CountsOf(Channel channel, bool hasPlacesWithoutRow) => channel.Counts is { } waveform
        ? new CountScaling(waveform, width).Find(hasPlacesWithoutRow, $"channel {IssueLog.Show(channel.Label)}")
        : new DecimalScaling(channel.Values, channel.Kind, width).Find();

    private void NoteLostRates(List<ChannelGrid> grids)
    {
        for (int c = 0; c < grids.Count; c++)
        {
            if (grids[c].Stride <= 1 || channels[c].Times.Rate is not { IsWholeMilliseconds: false } rate) continue;
            issues.Note(WriteIssueCodes.Rate, channels[c].Label, $"channel {IssueLog.Show(channels[c].Label)}", $"{rate}, beginning between two of its own steps after the file's beginning", "a beginning on its own steps",
                $"{grids[c].Rate}, {grids[c].Stride} places a row; the times come back to the millisecond, the rate as a period");
        }
    }

    private List<HeaderSignal> Describe(RecordPlan plan, List<ChannelGrid> grids, List<SignalCounts> counts, NotePlacing notes)
    {
        var names = new SignalNames(width, issues);
        var signals = new List<HeaderSignal>();
        long bytes = 0;
        for (int c = 0; c < channels.Count; c++)
        {
            var (label, unit) = names.NamesOf(channels[c], c);
            var scale = counts[c].Scale;
            bool hasPlacesWithoutRow = plan.Count * plan.PlacesOf[c] > channels[c].Times.Count;
            signals.Add(new HeaderSignal(label, Transducer(channels[c], grids[c], counts[c], hasPlacesWithoutRow), unit,
                HeaderNumber.TextOf(scale.PhysicalMinimum)!, HeaderNumber.TextOf(scale.PhysicalMaximum)!, scale.DigitalMinimum, scale.DigitalMaximum, plan.PlacesOf[c]));
            bytes += (long)plan.PlacesOf[c] * width.Bytes;
        }

        int noteSamples = NoteSamples(notes);
        bytes += (long)noteSamples * width.Bytes;
        signals.Add(new HeaderSignal(width.AnnotationLabel, "", "", "-1", "1", width.Lowest, width.Highest, noteSamples));
        if (bytes > RecordPlan.RecommendedBytes)
        {
            issues.Note(WriteIssueCodes.RecordSize, "", "data records", $"{bytes} bytes, the least in which all rates give whole samples and every note has room", $"at most {RecordPlan.RecommendedBytes} bytes, as EDF recommends",
                "written so; most readers take them");
        }

        return signals;
    }

    private int NoteSamples(NotePlacing notes) => (notes.Bytes + width.Bytes - 1) / width.Bytes;

    private static string Transducer(Channel channel, ChannelGrid grid, SignalCounts counts, bool hasPlacesWithoutRow)
    {
        var parts = new List<string>();
        if (channel.Times.Period != grid.Rate.Period) parts.Add(EdfConventions.Period(channel.Times.Period));
        if (counts.HasRowsWithoutNumber) parts.Add(EdfConventions.NoNumber(counts.NoNumber));
        if (hasPlacesWithoutRow) parts.Add(EdfConventions.NoRow(counts.NoRow));
        return string.Join(StandIns.Separator, parts);
    }

    private void WriteRecords(Stream to, RecordPlan plan, List<ChannelGrid> grids, List<SignalCounts> counts, NotePlacing notes, NoteTexts texts)
    {
        var rows = channels.Select((c, i) => new SignalRows(c, grids[i], counts[i])).ToArray();
        var samples = new int[plan.PlacesOf.DefaultIfEmpty().Max()];
        int signalBytes = plan.PlacesOf.Sum() * width.Bytes;
        var record = new byte[signalBytes + NoteSamples(notes) * width.Bytes];
        long index = 0;
        int nextNote = 0;
        foreach (long number in plan.Numbers())
        {
            int at = 0;
            for (int c = 0; c < rows.Length; c++)
            {
                var places = samples.AsSpan(0, plan.PlacesOf[c]);
                rows[c].Fill(number * places.Length, places);
                Put(places, record.AsSpan(at));
                at += places.Length * width.Bytes;
            }

            var room = record.AsSpan(signalBytes);
            room.Clear();
            int length = texts.WriteTimeKeeping(number * plan.Milliseconds, room);
            notes.Write(index++, ref nextNote, room[length..]);
            to.Write(record);
        }
    }

    private void Put(ReadOnlySpan<int> samples, Span<byte> to)
    {
        if (width.Bytes == 2)
        {
            for (int i = 0; i < samples.Length; i++) System.Buffers.Binary.BinaryPrimitives.WriteInt16LittleEndian(to[(2 * i)..], (short)samples[i]);
            return;
        }

        for (int i = 0; i < samples.Length; i++)
        {
            int sample = samples[i];
            to[3 * i] = (byte)(sample & 0xFF);
            to[3 * i + 1] = (byte)(sample >> 8 & 0xFF);
            to[3 * i + 2] = (byte)(sample >> 16 & 0xFF);
        }
    }

    private void ListRounding(List<SignalCounts> counts)
    {
        for (int c = 0; c < counts.Count; c++)
        {
            if (!counts[c].IsRounded || counts[c].GreatestError == 0) continue;
            if (channels[c].Counts is null && (double)counts[c].GreatestError < 0.499e-6) continue; // decimals are held to the millionth: all come back
            string other = width == SampleWidth.Edf ? "; BDF+ (24 bits), Parquet or JSON may hold it exactly" : "; Parquet or JSON hold it exactly";
            issues.Doubt(WriteIssueCodes.Rounded, channels[c].Label, $"channel {IssueLog.Show(channels[c].Label)}", $"values that {width.Bytes * 8} bits and a scale of eight characters do not hold exactly",
                $"steps of {counts[c].Scale.Step:g3} {channels[c].Unit}".TrimEnd(), $"rounded; greatest error {counts[c].GreatestError:g3} {channels[c].Unit}".TrimEnd() + other);
        }
    }
}
