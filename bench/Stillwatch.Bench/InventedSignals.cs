using System.Buffers.Binary;
using System.Globalization;
using System.Text;

namespace Stillwatch.Bench;

/// <summary>Large invented files in open formats, written the plainest way: the benches must not time our own writers.</summary>
internal static class InventedSignals
{
    private const ulong Seed = 20261125;

    /// <summary>EDF: 20 signals of 250 samples a second, 16 bits, records of 1 s; the eleventh is the pleth.</summary>
    public static void Edf(string file, int seconds) => Records(file, seconds, signals: 20, rate: 250, bytesEach: 2, "0       ", "");

    /// <summary>BDF: 8 signals of 500 samples a second, 24 bits, records of 1 s.</summary>
    public static void Bdf(string file, int seconds) => Records(file, seconds, signals: 8, rate: 500, bytesEach: 3, "\u00FFBIOSEMI", "24BIT");

    /// <summary>WFDB format 212: two signals of 250 samples a second in one file, and its header. Returns the header's path.</summary>
    public static string Wfdb212(string folder, int seconds)
    {
        const int rate = 250;
        long frames = (long)seconds * rate;
        var block = new byte[3 * rate];
        ulong state = Seed;
        int sumFirst = 0, sumSecond = 0;
        using (var stream = new FileStream(Path.Combine(folder, "night.dat"), FileMode.Create, FileAccess.Write, FileShare.None, 1 << 20))
        {
            for (int s = 0; s < seconds; s++)
            {
                for (int i = 0; i < rate; i++)
                {
                    int first = Next(ref state, 12), second = Next(ref state, 12);
                    sumFirst = unchecked((short)(sumFirst + first));
                    sumSecond = unchecked((short)(sumSecond + second));
                    block[3 * i] = (byte)(first & 0xFF);
                    block[3 * i + 1] = (byte)(((first >> 8) & 0x0F) | ((second >> 4) & 0xF0));
                    block[3 * i + 2] = (byte)(second & 0xFF);
                }

                stream.Write(block);
            }
        }

        string header = Path.Combine(folder, "night.hea");
        File.WriteAllText(header, string.Create(CultureInfo.InvariantCulture, $"night 2 {rate} {frames}\nnight.dat 212 200 12 0 0 {sumFirst} 0 PLETH\nnight.dat 212 200 12 0 0 {sumSecond} 0 Resp\n"));
        return header;
    }

    private static void Records(string file, int records, int signals, int rate, int bytesEach, string version, string reserved)
    {
        int limit = bytesEach == 2 ? short.MaxValue : (1 << 23) - 1;
        var header = new StringBuilder();
        string Fixed(string text, int width) => text.PadRight(width)[..width];
        header.Append(version).Append(Fixed("X X X X", 80)).Append(Fixed("Startdate 01-JAN-2026 X X X", 80)).Append("01.01.2622.00.00")
            .Append(Fixed((256 * (signals + 1)).ToString(CultureInfo.InvariantCulture), 8)).Append(Fixed(reserved, 44))
            .Append(Fixed(records.ToString(CultureInfo.InvariantCulture), 8)).Append(Fixed("1", 8)).Append(Fixed(signals.ToString(CultureInfo.InvariantCulture), 4));
        void Each(int width, Func<int, string> text)
        {
            for (int s = 0; s < signals; s++) header.Append(Fixed(text(s), width));
        }

        Each(16, s => s == signals / 2 ? "Pleth" : $"Signal {s + 1}");
        Each(80, _ => "");
        Each(8, _ => "mV");
        Each(8, _ => "-10");
        Each(8, _ => "10");
        Each(8, _ => (-limit - 1).ToString(CultureInfo.InvariantCulture));
        Each(8, _ => limit.ToString(CultureInfo.InvariantCulture));
        Each(80, _ => "");
        Each(8, _ => rate.ToString(CultureInfo.InvariantCulture));
        Each(32, _ => "");

        using var stream = new FileStream(file, FileMode.Create, FileAccess.Write, FileShare.None, 1 << 20);
        stream.Write(Encoding.Latin1.GetBytes(header.ToString()));
        var record = new byte[signals * rate * bytesEach];
        ulong state = Seed;
        Span<byte> four = stackalloc byte[4];
        for (int r = 0; r < records; r++)
        {
            for (int i = 0; i < signals * rate; i++)
            {
                BinaryPrimitives.WriteInt32LittleEndian(four, Next(ref state, 8 * bytesEach));
                four[..bytesEach].CopyTo(record.AsSpan(i * bytesEach));
            }

            stream.Write(record);
        }
    }

    // A signed number of so many bits.
    private static int Next(ref ulong state, int bits)
    {
        state ^= state << 13;
        state ^= state >> 7;
        state ^= state << 17;
        return unchecked((int)((long)state >> (64 - bits))); // the sign bit comes along
    }
}
