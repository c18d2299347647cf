namespace Stillwatch.Formats.Wfdb.Samples;

/// <summary>Decodes packed samples: as many as fit <paramref name="samples"/>, which <paramref name="bytes"/> holds.</summary>
/// <param name="bytes">From the beginning of a group of samples on.</param>
/// <param name="samples">Filled wholly, with the codes as stored, the invalid one among them.</param>
internal delegate void SampleDecoder(ReadOnlySpan<byte> bytes, Span<int> samples);

/// <summary>How samples are stored: one row of the table of facts in signal(5) of the WFDB Applications Guide.</summary>
/// <param name="Code">The format number of a signal line.</param>
/// <param name="Meaning">In a few words.</param>
/// <param name="Bits">Of a sample.</param>
/// <param name="GroupSamples">Samples that are packed together.</param>
/// <param name="SamplesInRest">How many samples the first bytes of a group hold whole; as many entries as a group has bytes.</param>
/// <param name="Invalid">
/// The code that means "no number": the lowest of the range. signal(5) does not state it; it is what the original library maps to its invalid
/// sample (from memory). Differences have none.
/// </param>
/// <param name="Decode">The decoder.</param>
internal sealed record SignalFormat(int Code, string Meaning, int Bits, int GroupSamples, int[] SamplesInRest, int? Invalid, SampleDecoder Decode)
{
    /// <summary>All formats that are read; 0 (no samples) and the compressed ones (508, 516, 524) are not.</summary>
    public static readonly IReadOnlyList<SignalFormat> All =
    [
        new(8, "8-bit first differences", 8, 1, [0], null, SampleDecoders.Differences8),
        new(16, "16-bit, low byte first", 16, 1, [0, 0], -32768, SampleDecoders.Little16),
        new(24, "24-bit, low byte first", 24, 1, [0, 0, 0], -(1 << 23), SampleDecoders.Little24),
        new(32, "32-bit, low byte first", 32, 1, [0, 0, 0, 0], int.MinValue, SampleDecoders.Little32),
        new(61, "16-bit, high byte first", 16, 1, [0, 0], -32768, SampleDecoders.Big16),
        new(80, "8-bit offset binary", 8, 1, [0], -128, SampleDecoders.Offset8),
        new(160, "16-bit offset binary", 16, 1, [0, 0], -32768, SampleDecoders.Offset16),
        new(212, "two 12-bit samples in 3 bytes", 12, 2, [0, 0, 1], -2048, SampleDecoders.Packed212),
        new(310, "three 10-bit samples in 4 bytes", 10, 3, [0, 0, 1, 1], -512, SampleDecoders.Packed310),
        new(311, "three 10-bit samples in 4 bytes, in a row", 10, 3, [0, 0, 1, 2], -512, SampleDecoders.Packed311),
    ];

    private static readonly Dictionary<int, SignalFormat> ByCode = All.ToDictionary(f => f.Code);

    public int GroupBytes => SamplesInRest.Length;

    /// <summary>Whether each byte is the step from the sample before it in the same signal.</summary>
    public bool IsDifferences => Invalid is null;

    /// <summary>Null where the format is not read.</summary>
    public static SignalFormat? Find(int code) => ByCode.GetValueOrDefault(code);

    /// <summary>Whole samples in so many bytes.</summary>
    public long SamplesIn(long bytes) => bytes / GroupBytes * GroupSamples + SamplesInRest[bytes % GroupBytes];

    /// <summary>Bytes that so many samples take at least.</summary>
    public long BytesOf(long samples)
    {
        long whole = samples / GroupSamples * GroupBytes;
        int rest = (int)(samples % GroupSamples);
        int part = Array.FindIndex(SamplesInRest, s => s >= rest); // 310 holds its second sample in the last byte of the group only
        return rest == 0 ? whole : whole + (part < 0 ? GroupBytes : part);
    }
}
