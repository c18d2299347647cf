using System.Buffers.Binary;
using System.Text;
using Stillwatch.Formats.Wfdb;

namespace Stillwatch.Formats.Tests.Wfdb;

/// <summary>WFDB records made in a test: files by name. Samples are packed here after signal(5), by the plainest arithmetic.</summary>
internal sealed class MadeRecord
{
    private readonly Dictionary<string, byte[]> files = [];

    public IReadOnlyDictionary<string, byte[]> Files => files;

    public MadeRecord With(string name, byte[] bytes)
    {
        files[name] = bytes;
        return this;
    }

    public MadeRecord With(string name, string text) => With(name, Encoding.UTF8.GetBytes(text));

    /// <summary>A signal file in one of the formats.</summary>
    public MadeRecord With(string name, int format, params int[] samples) => With(name, Pack(format, samples));

    public ReadResult Read(string header, ReadOptions? options = null) => new WfdbRecordingReader().Read(new RecordingSource(header, new RecordingFolder(files)), options ?? new ReadOptions());

    /// <summary>One signal of ten samples in format 16, with a header of the reader's choice; the line feed at its end is added.</summary>
    public static ReadResult Ten(string header, ReadOptions? options = null) => new MadeRecord()
        .With("night.hea", header.Replace("; ", "\n", StringComparison.Ordinal) + "\n")
        .With("night.dat", 16, 970, 960, 950, 940, 930, 920, 910, 900, 890, 880)
        .Read("night.hea", options);

    /// <param name="format">Of signal(5).</param>
    /// <param name="samples">In the order of the file; steps for format 8.</param>
    public static byte[] Pack(int format, params int[] samples)
    {
        var bytes = new List<byte>();
        switch (format)
        {
            case 8:
                bytes.AddRange(samples.Select(s => unchecked((byte)s)));
                break;
            case 80:
                bytes.AddRange(samples.Select(s => (byte)(s + 128)));
                break;
            case 16:
                foreach (int s in samples) bytes.AddRange([Byte(s, 0), Byte(s, 8)]);
                break;
            case 61:
                foreach (int s in samples) bytes.AddRange([Byte(s, 8), Byte(s, 0)]);
                break;
            case 160:
                foreach (int s in samples) bytes.AddRange([Byte(s + 32768, 0), Byte(s + 32768, 8)]);
                break;
            case 24:
                foreach (int s in samples) bytes.AddRange([Byte(s, 0), Byte(s, 8), Byte(s, 16)]);
                break;
            case 32:
                foreach (int s in samples) bytes.AddRange([Byte(s, 0), Byte(s, 8), Byte(s, 16), Byte(s, 24)]);
                break;
            case 212:
                for (int i = 0; i < samples.Length; i += 2)
                {
                    int first = samples[i] & 0xFFF, second = i + 1 < samples.Length ? samples[i + 1] & 0xFFF : 0;
                    bytes.AddRange([Byte(first, 0), (byte)(first >> 8 | second >> 8 << 4)]);
                    if (i + 1 < samples.Length) bytes.Add(Byte(second, 0));
                }

                break;
            case 310:
                for (int i = 0; i < samples.Length; i += 3)
                {
                    int first = At(samples, i), second = At(samples, i + 1), third = At(samples, i + 2);
                    int low = first << 1 | (third & 0x1F) << 11, high = second << 1 | third >> 5 << 11;
                    bytes.AddRange(i + 1 < samples.Length ? [Byte(low, 0), Byte(low, 8), Byte(high, 0), Byte(high, 8)] : [Byte(low, 0), Byte(low, 8)]);
                }

                break;
            case 311:
                for (int i = 0; i < samples.Length; i += 3)
                {
                    int word = At(samples, i) | At(samples, i + 1) << 10 | At(samples, i + 2) << 20;
                    int left = Math.Min(3, samples.Length - i);
                    for (int b = 0; b <= left; b++) bytes.Add(Byte(word, 8 * b));
                }

                break;
            default:
                throw new ArgumentOutOfRangeException(nameof(format));
        }

        return [.. bytes];
    }

    /// <summary>An annotation file in MIT format (annot(5)); the end mark is added.</summary>
    public static byte[] Annotations(params (int Step, int Code, string? Text)[] items)
    {
        var bytes = new List<byte>();
        foreach (var (step, code, text) in items)
        {
            if (step is > 1023 or < 0)
            {
                bytes.AddRange(Word(59 << 10));
                bytes.AddRange([.. Word(step >> 16 & 0xFFFF), .. Word(step & 0xFFFF)]);
            }

            bytes.AddRange(Word(code << 10 | (step is > 1023 or < 0 ? 0 : step)));
            if (text is null) continue;
            byte[] own = Encoding.UTF8.GetBytes(text);
            bytes.AddRange([.. Word(63 << 10 | own.Length), .. own]);
            if (own.Length % 2 == 1) bytes.Add(0);
        }

        return [.. bytes, 0, 0];
    }

    public static byte[] Word(int value)
    {
        byte[] bytes = new byte[2];
        BinaryPrimitives.WriteUInt16LittleEndian(bytes, (ushort)value);
        return bytes;
    }

    /// <summary>The 16-bit sum of a header line.</summary>
    public static int Sum(IEnumerable<int> samples) => unchecked((short)samples.Sum(s => (long)s));

    private static byte Byte(int value, int shift) => unchecked((byte)(value >> shift));

    private static int At(int[] samples, int index) => index < samples.Length ? samples[index] & 0x3FF : 0;
}
