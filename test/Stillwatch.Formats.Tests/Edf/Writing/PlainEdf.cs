using System.Globalization;
using System.Text;

namespace Stillwatch.Formats.Tests.Edf.Writing;

/// <summary>A slow decoder of EDF+ and BDF+ for tests, from the specifications alone; it shares no code with the reader or the writer.</summary>
internal sealed class PlainEdf
{
    private readonly byte[] bytes;
    private readonly int sampleBytes;
    private int at;

    private PlainEdf(byte[] bytes)
    {
        this.bytes = bytes;
        sampleBytes = bytes[0] == 0xFF ? 3 : 2;
        Version = Latin(8);
        Patient = Latin(80);
        Recording = Latin(80);
        Date = Latin(8);
        Time = Latin(8);
        int headerBytes = Whole(8);
        Reserved = Latin(44);
        RecordCount = Whole(8);
        RecordSeconds = Number(8);
        int count = Whole(4);
        string[] Texts(int length) => [.. Enumerable.Range(0, count).Select(_ => Latin(length))];
        var (labels, transducers, units) = (Texts(16), Texts(80), Texts(8));
        var ends = Enumerable.Range(0, 4).Select(_ => Texts(8)).ToArray();
        Texts(80);
        var perRecord = Texts(8);
        Texts(32);
        Assert.Equal(headerBytes, at);
        for (int s = 0; s < count; s++)
        {
            var numbers = ends.Select(e => decimal.Parse(e[s], CultureInfo.InvariantCulture)).ToArray();
            Signals.Add(new PlainSignal(labels[s], transducers[s], units[s], numbers[0], numbers[1], (long)numbers[2], (long)numbers[3], int.Parse(perRecord[s], CultureInfo.InvariantCulture)));
        }

        for (int r = 0; r < RecordCount; r++) ReadRecord();
        Assert.Equal(bytes.Length, at);
    }

    public string Version { get; }

    public string Patient { get; }

    public string Recording { get; }

    public string Date { get; }

    public string Time { get; }

    public string Reserved { get; }

    public int RecordCount { get; }

    public decimal RecordSeconds { get; }

    public List<PlainSignal> Signals { get; } = [];

    /// <summary>Of the data records, after the start in the header.</summary>
    public List<decimal> Onsets { get; } = [];

    public List<(decimal Onset, decimal? Duration, string Text)> Notes { get; } = [];

    public static PlainEdf Read(byte[] bytes) => new(bytes);

    /// <summary>Time since the first data record and count of every place, codes and all.</summary>
    public IEnumerable<(long Milliseconds, int Count)> Places(int signal)
    {
        var s = Signals[signal];
        for (int i = 0; i < s.Counts.Count; i++)
        {
            // Exact: the place within the record times its length, half up.
            decimal milliseconds = (Onsets[i / s.PerRecord] - Onsets[0]) * 1000 + i % s.PerRecord * RecordSeconds * 1000 / s.PerRecord;
            yield return ((long)Math.Floor(milliseconds + 0.5m), s.Counts[i]);
        }
    }

    /// <summary>Rows as the transducer field says: times since the first data record, and values; null: no number.</summary>
    public IEnumerable<(long Milliseconds, decimal? Value)> Rows(int signal)
    {
        var s = Signals[signal];
        foreach (var (time, count) in Places(signal))
        {
            if (count == s.Code("no row")) continue;
            yield return (time, count == s.Code("no number") ? null : s.PhysicalMinimum + (count - s.DigitalMinimum) * (s.PhysicalMaximum - s.PhysicalMinimum) / (s.DigitalMaximum - s.DigitalMinimum));
        }
    }

    private void ReadRecord()
    {
        foreach (var signal in Signals)
        {
            int length = signal.PerRecord * sampleBytes;
            if (signal.IsAnnotations) ReadNotes(bytes[at..(at + length)]);
            else for (int i = at; i < at + length; i += sampleBytes) signal.Counts.Add(sampleBytes == 2 ? BitConverter.ToInt16(bytes, i) : bytes[i] + 256 * bytes[i + 1] + 65_536 * (bytes[i + 2] < 128 ? bytes[i + 2] : bytes[i + 2] - 256));
            at += length;
        }
    }

    private void ReadNotes(byte[] room)
    {
        bool isFirst = true;
        foreach (string list in Encoding.UTF8.GetString(room).Split('\0', StringSplitOptions.RemoveEmptyEntries))
        {
            string[] parts = list.Split('\x14');
            string[] times = parts[0].Split('\x15');
            Assert.Contains(times[0][0], "+-");
            Assert.Equal(3, parts.Length);
            decimal onset = decimal.Parse(times[0], CultureInfo.InvariantCulture);
            if (isFirst)
            {
                Assert.Equal("", parts[1]);
                Onsets.Add(onset);
            }
            else
            {
                Notes.Add((onset, times.Length > 1 ? decimal.Parse(times[1], CultureInfo.InvariantCulture) : null, parts[1]));
            }

            isFirst = false;
        }
    }

    private string Latin(int length)
    {
        string text = Encoding.Latin1.GetString(bytes, at, length);
        at += length;
        return text.TrimEnd();
    }

    private int Whole(int length) => int.Parse(Latin(length), CultureInfo.InvariantCulture);

    private decimal Number(int length) => decimal.Parse(Latin(length), CultureInfo.InvariantCulture);
}

internal sealed record PlainSignal(string Label, string Transducer, string Unit, decimal PhysicalMinimum, decimal PhysicalMaximum, long DigitalMinimum, long DigitalMaximum, int PerRecord)
{
    public List<int> Counts { get; } = [];

    public bool IsAnnotations => Label.EndsWith(" Annotations", StringComparison.Ordinal);

    /// <summary>The count that the transducer field gives this meaning; null where it gives none.</summary>
    public int? Code(string meaning)
    {
        foreach (string part in Transducer.Split("; "))
        {
            if (part.EndsWith(" = " + meaning, StringComparison.Ordinal)) return int.Parse(part[..part.IndexOf(' ', StringComparison.Ordinal)], CultureInfo.InvariantCulture);
        }

        return null;
    }
}
