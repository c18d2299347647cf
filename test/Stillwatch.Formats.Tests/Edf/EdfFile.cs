using System.Globalization;
using System.Text;
using Stillwatch.Formats.Edf.Header;

namespace Stillwatch.Formats.Tests.Edf;

/// <summary>Builds EDF and BDF files byte by byte, with every field chosen by the test. By default a good file with one SpO2 signal.</summary>
internal sealed record EdfFile
{
    public bool IsBdf { get; init; }

    public string Patient { get; init; } = "X X X X";

    public string Recording { get; init; } = "Startdate 24-NOV-2026 X X X";

    public string StartDate { get; init; } = "24.11.26";

    public string StartTime { get; init; } = "22.00.00";

    public string Reserved { get; init; } = "";

    /// <summary>Null: as many as there are.</summary>
    public string? RecordCount { get; init; }

    public string RecordSeconds { get; init; } = "1";

    public int Records { get; init; } = 4;

    public IReadOnlyList<EdfTestSignal> Signals { get; init; } = [EdfTestSignal.SpO2];

    public int BytesPerSample => IsBdf ? 3 : 2;

    public int HeaderLength => 256 * (Signals.Count + 1);

    public int RecordLength => Signals.Sum(s => s.SamplesPerRecord) * BytesPerSample;

    /// <summary>The end of every header field and of every data record.</summary>
    public int[] Boundaries =>
    [
        .. EdfFields.Fixed.Select(f => f.Offset + f.Width),
        .. EdfFields.OfSignal.SelectMany(f => Enumerable.Range(0, Signals.Count).Select(s => EdfFields.PositionOf(f, Signals.Count, s) + f.Width)),
        .. Enumerable.Range(1, Records).Select(r => HeaderLength + r * RecordLength),
    ];

    public byte[] ToBytes()
    {
        var bytes = new List<byte>(HeaderLength + Records * RecordLength);
        if (IsBdf) bytes.AddRange([0xFF, .. "BIOSEMI"u8]);
        else Put("0", 8);
        Put(Patient, 80);
        Put(Recording, 80);
        Put(StartDate, 8);
        Put(StartTime, 8);
        Put($"{HeaderLength}", 8);
        Put(Reserved, 44);
        Put(RecordCount ?? $"{Records}", 8);
        Put(RecordSeconds, 8);
        Put($"{Signals.Count}", 4);
        foreach (var (text, width) in new (Func<EdfTestSignal, string>, int)[]
        {
            (s => s.Label, 16), (s => s.Transducer, 80), (s => s.Unit, 8), (s => s.PhysicalMinimum, 8), (s => s.PhysicalMaximum, 8),
            (s => s.DigitalMinimum ?? (IsBdf ? "-8388608" : "-32768"), 8), (s => s.DigitalMaximum ?? (IsBdf ? "8388607" : "32767"), 8), (s => s.Prefiltering, 80),
            (s => s.SamplesPerRecord.ToString(CultureInfo.InvariantCulture), 8), (_ => "", 32),
        })
        {
            foreach (var signal in Signals) Put(text(signal), width);
        }

        for (int r = 0; r < Records; r++)
        {
            foreach (var signal in Signals) PutSamples(signal, r);
        }

        return [.. bytes];

        void Put(string text, int width)
        {
            byte[] encoded = Encoding.UTF8.GetBytes(text);
            Assert.InRange(encoded.Length, 0, width);
            bytes.AddRange(encoded);
            bytes.AddRange(Enumerable.Repeat((byte)' ', width - encoded.Length));
        }

        void PutSamples(EdfTestSignal signal, int record)
        {
            if (signal.Tals is { } tals)
            {
                byte[] text = tals(record);
                Assert.InRange(text.Length, 0, signal.SamplesPerRecord * BytesPerSample);
                bytes.AddRange(text);
                bytes.AddRange(new byte[signal.SamplesPerRecord * BytesPerSample - text.Length]);
                return;
            }

            for (int i = 0; i < signal.SamplesPerRecord; i++)
            {
                int count = signal.Count!(record * signal.SamplesPerRecord + i);
                for (int b = 0; b < BytesPerSample; b++) bytes.Add(unchecked((byte)(count >> (8 * b))));
            }
        }
    }

    public ReadResult Read(ReadOptions? options = null) => ReadBytes(ToBytes(), options);

    public static ReadResult ReadBytes(byte[] bytes, ReadOptions? options = null) =>
        new Formats.Edf.EdfRecordingReader().Read(RecordingSource.Of("night.edf", bytes), options ?? new ReadOptions());

    /// <summary>The same bytes with one field replaced, blanks behind.</summary>
    public static byte[] Patch(byte[] bytes, EdfField field, string value, int? signalIndex = null)
    {
        byte[] patched = [.. bytes];
        int signalCount = int.Parse(Encoding.ASCII.GetString(bytes, 252, 4), CultureInfo.InvariantCulture);
        int at = signalIndex is { } index ? EdfFields.PositionOf(field, signalCount, index) : field.Offset;
        Encoding.Latin1.GetBytes(value.PadRight(field.Width)[..field.Width]).CopyTo(patched, at);
        return patched;
    }
}

/// <summary>A signal with counts, or with annotations.</summary>
internal sealed record EdfTestSignal(string Label, int SamplesPerRecord)
{
    public string Transducer { get; init; } = "";

    public string Unit { get; init; } = "";

    public string PhysicalMinimum { get; init; } = "-1";

    public string PhysicalMaximum { get; init; } = "1";

    public string? DigitalMinimum { get; init; }

    public string? DigitalMaximum { get; init; }

    public string Prefiltering { get; init; } = "";

    /// <summary>The count of a sample, by its number from the beginning of the file.</summary>
    public Func<int, int>? Count { get; init; }

    /// <summary>The bytes of the annotations of a data record.</summary>
    public Func<int, byte[]>? Tals { get; init; }

    /// <summary>Whole percents, one a record: 97 96 95 94 97 … with a scale of one count for 0.1 %.</summary>
    public static EdfTestSignal SpO2 { get; } = new("SpO2", 1) { Unit = "%", PhysicalMinimum = "0", PhysicalMaximum = "102.3", DigitalMinimum = "0", DigitalMaximum = "1023", Count = i => 10 * (97 - i % 4) };

    public static EdfTestSignal Pulse { get; } = new("Pulse", 2) { Unit = "bpm", PhysicalMinimum = "0", PhysicalMaximum = "300", DigitalMinimum = "0", DigitalMaximum = "300", Count = i => 60 + i % 30 };

    public static EdfTestSignal Pleth { get; } = new("Pleth", 25) { Count = i => (i * 1237 % 4001) - 2000 };

    /// <summary>A time-keeping list in each record, and texts after it: "+1.5|text" or "+1.5;2|text" in record r.</summary>
    public static EdfTestSignal Notes(int samplesPerRecord, Func<int, string> onset, Func<int, string[]>? lists = null, string label = "EDF Annotations") => new(label, samplesPerRecord)
    {
        Tals = r => Encoding.UTF8.GetBytes($"{onset(r)}\x14\x14\0" + string.Concat((lists?.Invoke(r) ?? []).Select(l => l.Replace(';', '\x15').Replace('|', '\x14') + "\x14\0"))),
    };
}
