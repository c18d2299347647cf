using System.Text;
using System.Text.RegularExpressions;
using Stillwatch.Formats.Edf;
using Stillwatch.Formats.Edf.Header;
using Stillwatch.Formats.Labels;
using Stillwatch.Formats.Tests.Csv;
using Stillwatch.Signals;

namespace Stillwatch.Formats.Tests.Edf;

/// <summary>A second, plain decoder of the data: byte by byte, record by record, nothing clever. The header's numbers are taken from the first reading.</summary>
internal sealed partial class EdfTwin
{
    private readonly byte[] bytes;
    private readonly EdfHeader header;

    public EdfTwin(byte[] bytes)
    {
        this.bytes = bytes;
        header = EdfHeaderReader.Read(new MemoryStream(bytes), "twin", new IssueLog());
        foreach (var signal in header.Signals) RecordLength += (int)Math.Min(int.MaxValue, signal.SamplesPerRecord * header.BytesPerSample);
    }

    public long RecordLength { get; }

    public EdfHeader Header => header;

    /// <summary>The whole records, and a part of one unless the header's count says that it is none.</summary>
    public int Records
    {
        get
        {
            if (RecordLength == 0) return 0;
            long there = bytes.Length - header.DataStart, whole = there / RecordLength;
            return (int)(there % RecordLength > 0 && header.RecordCount != whole ? whole + 1 : whole);
        }
    }

    /// <summary>The counts of a signal in a record, as far as they are in the file.</summary>
    public List<int> Counts(EdfSignal signal, int record)
    {
        var counts = new List<int>();
        long at = header.DataStart + record * RecordLength + header.Signals.Take(signal.Index).Sum(s => s.SamplesPerRecord * header.BytesPerSample);
        for (long i = 0; i < signal.SamplesPerRecord && at + header.BytesPerSample <= bytes.Length; i++, at += header.BytesPerSample)
        {
            int count = 0;
            for (int b = 0; b < header.BytesPerSample; b++) count += bytes[at + b] << (8 * b);
            int half = 1 << (8 * header.BytesPerSample - 1);
            counts.Add(count >= half ? count - 2 * half : count);
        }

        return counts;
    }

    /// <summary>The onset of a record in milliseconds by its first annotation, null without.</summary>
    public decimal? Onset(int record)
    {
        var notes = header.Signals.FirstOrDefault(s => s.IsNotes && s.SamplesPerRecord > 0);
        if (notes is null) return null;
        long at = header.DataStart + record * RecordLength + header.Signals.Take(notes.Index).Sum(s => s.SamplesPerRecord * header.BytesPerSample);
        int length = (int)Math.Min(notes.SamplesPerRecord * header.BytesPerSample, bytes.Length - at);
        if (length <= 0) return null;
        string text = Encoding.Latin1.GetString(bytes, (int)at, length);
        bool isWhole = length == notes.SamplesPerRecord * header.BytesPerSample || text.Contains('\0', StringComparison.Ordinal);
        var first = Keeping().Match(text);
        return isWhole && first.Success && decimal.TryParse(first.Groups[1].Value, out decimal seconds) && Math.Abs(seconds) <= 4_000_000_000m ? seconds * 1000m : null;
    }

    /// <summary>Every row of every channel is in the bytes, at its time; what is not a row is listed.</summary>
    public void Account(ReadResult result)
    {
        AccountForNumbers(result);
        if (result.Recording is not { } recording)
        {
            Assert.Contains(result.Issues, i => i.Severity == IssueSeverity.Failure);
            return;
        }

        foreach (var signal in header.Signals.Where(s => !s.IsNotes && s.SamplesPerRecord > 0))
        {
            var channels = recording.Channels.Where(c => c.Label == signal.Label).ToList();
            if (channels.Count == 0) Assert.Contains(result.Issues, i => i.Severity == IssueSeverity.Failure);
            if (channels.Count == 1 && header.Signals.Count(s => s.Label == signal.Label) == 1) Account(signal, channels[0], result);
        }

        AccountForNotes(recording, result);
    }

    // A number that is spelled otherwise than the specification has it is listed with its field, or refuses the signal's scale.
    private void AccountForNumbers(ReadResult result)
    {
        EdfField[] ends = [EdfFields.PhysicalMinimum, EdfFields.PhysicalMaximum, EdfFields.DigitalMinimum, EdfFields.DigitalMaximum];
        foreach (var field in new[] { EdfFields.HeaderBytes, EdfFields.RecordCount, EdfFields.RecordDuration, EdfFields.SignalCount }) Check(field, null);
        foreach (var signal in header.Signals)
        {
            foreach (var field in ends.Append(EdfFields.SamplesPerRecord)) Check(field, signal);
        }

        void Check(EdfField field, EdfSignal? signal)
        {
            int at = signal is null ? field.Offset : EdfFields.PositionOf(field, header.Signals.Count, signal.Index);
            if (PlainNumber().IsMatch(Encoding.Latin1.GetString(bytes, at, field.Width))) return;
            bool mayStay = signal is not null && (signal.IsNotes || signal.SamplesPerRecord == 0) && ends.Contains(field);
            bool durationIsIdle = field == EdfFields.RecordDuration && !header.Signals.Any(s => !s.IsNotes && s.SamplesPerRecord > 0);
            bool countIsIdle = field == EdfFields.RecordCount && RecordLength == 0;
            if (mayStay || durationIsIdle || countIsIdle) return;
            Assert.Contains(result.Issues, i => i.Place.EndsWith(field.Name, StringComparison.Ordinal) || (ends.Contains(field) && i.Code == EdfIssueCodes.SignalNoScale));
        }
    }

    // Each text of each list that has a readable onset is a note; the other lists are counted.
    private void AccountForNotes(Recording recording, ReadResult result)
    {
        int notes = 0, malformed = 0;
        foreach (var signal in header.Signals.Where(s => s.IsNotes && s.SamplesPerRecord > 0))
        {
            for (int r = 0; r < Records; r++)
            {
                long at = header.DataStart + r * RecordLength + header.Signals.Take(signal.Index).Sum(s => s.SamplesPerRecord * header.BytesPerSample);
                long wanted = signal.SamplesPerRecord * header.BytesPerSample, length = Math.Clamp(bytes.Length - at, 0, wanted);
                if (length == 0) continue;
                string[] lists = Encoding.Latin1.GetString(bytes, (int)at, (int)length).Split('\0');
                if (length < wanted && lists[^1].Length > 0)
                {
                    malformed++;
                    lists[^1] = "";
                }

                foreach (string list in lists.Where(l => l.Length > 0))
                {
                    var parts = List().Match(list);
                    if (parts.Success && parts.Groups[1].Length < 64 && decimal.TryParse(parts.Groups[1].Value, out decimal onset) && Math.Abs(onset) <= 4_000_000_000m) notes += parts.Groups[2].Value.Split('\x14').Count(t => t.Length > 0);
                    else malformed++;
                }
            }
        }

        Assert.Equal(notes, recording.Annotations.Count);
        Assert.InRange(malformed, 0, result.Count(EdfIssueCodes.NotesMalformed));
    }

    // A discontinuous file's time line begins with the first record that is used; which one that is shows in the rows.
    private void Account(EdfSignal signal, Channel channel, ReadResult result)
    {
        IEnumerable<decimal> origins = header.IsDiscontinuous ? Enumerable.Range(0, Records).Select(Onset).OfType<decimal>().Distinct() : [0m];
        var differences = origins.Select(origin => Differences(signal, channel, result, origin)).TakeWhile((d, i) => i < 200).ToList();
        if (differences.Count == 0) Assert.Equal(0, channel.Times.Count);
        else if (!differences.Contains("")) Assert.Fail($"{channel.Label}: {differences[0]}");
    }

    private string Differences(EdfSignal signal, Channel channel, ReadResult result, decimal origin)
    {
        var standIns = StandIns.Of(signal.Transducer);
        bool isScaled = result.Count(ChannelIssueCodes.ValueScaled) > 0;
        decimal step = header.RecordSeconds!.Value * 1000m / signal.SamplesPerRecord;
        int row = 0, leftOut = 0;
        for (int r = 0; r < Records; r++)
        {
            decimal? begins = header.IsDiscontinuous ? Onset(r) - origin : r * header.RecordSeconds.Value * 1000m;
            var counts = Counts(signal, r);
            int first = counts.FindIndex(c => c != standIns.NoRow);
            bool isUsed = begins is { } at && (!header.IsDiscontinuous || first < 0 || (row < channel.Times.Count && Math.Abs(channel.Times.TimeAt(row).Milliseconds - at - first * step) <= 2));
            if (!isUsed)
            {
                leftOut++;
                continue;
            }

            for (int i = 0; i < counts.Count; i++)
            {
                if (counts[i] == standIns.NoRow) continue;
                if (row >= channel.Times.Count) return $"data record {r + 1}, sample {i + 1} is not in the {channel.Times.Count} rows";
                if (Math.Abs(channel.Times.TimeAt(row).Milliseconds - begins!.Value - i * step) > 2) return $"row {row} is at {channel.Times.TimeAt(row)}, expected at {begins + i * step} ms";
                int? count = counts[i] == standIns.NoNumber ? null : counts[i];
                if (!isScaled && !IsValue(signal, channel, row, count)) return $"row {row} does not hold {count} of data record {r + 1}";
                row++;
            }
        }

        if (row != channel.Times.Count) return $"{channel.Times.Count} rows, expected {row}";
        long listed = result.Count(EdfIssueCodes.RecordNoTime) + result.Count(EdfIssueCodes.RecordOrder);
        return leftOut <= listed ? "" : $"{leftOut} records are not used, but only {listed} are listed";
    }

    private static bool IsValue(EdfSignal signal, Channel channel, int row, int? count)
    {
        if (channel.Counts is { } held) return held[row] == (count ?? CountColumn.Missing);
        if (count is not { } c) return channel.Values[row] == ValueColumn.Missing;
        decimal value = signal.PhysicalMinimum!.Value + (c - signal.DigitalMinimum!.Value) * (signal.PhysicalMaximum!.Value - signal.PhysicalMinimum.Value) / (signal.DigitalMaximum!.Value - signal.DigitalMinimum.Value);
        decimal micro = Math.Round(value * 1_000_000m, MidpointRounding.AwayFromZero);

        // The division may end in another last digit of 28, which moves a value that lies just between two millionths.
        return Math.Abs(micro) > int.MaxValue ? channel.Values[row] == ValueColumn.Missing : Math.Abs(channel.Values[row] - micro) <= 1;
    }

    [GeneratedRegex(@"\A([+-]?(?:\d+\.?\d*|\.\d+))(?:\x15[^\x14\x15\0]*)?\x14\x14", RegexOptions.Singleline)]
    private static partial Regex Keeping();

    [GeneratedRegex(@"\A([+-]?(?:\d+\.?\d*|\.\d+))(?:\x15[^\x14]*)?\x14(.*)\z", RegexOptions.Singleline)]
    private static partial Regex List();

    [GeneratedRegex(@"\A *[+-]?(\d+\.?\d*|\.\d+) *\z", RegexOptions.ECMAScript)]
    private static partial Regex PlainNumber();
}
