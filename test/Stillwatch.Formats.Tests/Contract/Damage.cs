using System.Text;

namespace Stillwatch.Formats.Tests.Contract;

/// <summary>Damages good files in the ways that crashes, transfers and editors damage them. The same seed gives the same damage.</summary>
internal static class Damage
{
    private static readonly byte[][] Oddities =
    [
        [0], [0xFF], [0xFF, 0xFE], [0x80], [0x14], [0x15], [0x14, 0x14, 0], "\n"u8.ToArray(), "\r\n"u8.ToArray(), " "u8.ToArray(), "-1"u8.ToArray(), "-1      "u8.ToArray(),
        "99999999"u8.ToArray(), "-9999999"u8.ToArray(), "1e9     "u8.ToArray(), "NaN"u8.ToArray(), "0       "u8.ToArray(), "/"u8.ToArray(), "../"u8.ToArray(), "x99999"u8.ToArray(),
        ":-5"u8.ToArray(), "+99999"u8.ToArray(), "(-1)"u8.ToArray(), "~ "u8.ToArray(), "#"u8.ToArray(), "\u2603"u8.ToArray(), "{"u8.ToArray(), "]"u8.ToArray(), "\""u8.ToArray(), ","u8.ToArray(), "null"u8.ToArray(),
    ];

    /// <param name="sample">What to damage; stays as it is.</param>
    /// <param name="random">Decides all.</param>
    public static ReaderSample Of(ReaderSample sample, Random random)
    {
        int changes = random.Next(1, 6);
        for (int i = 0; i < changes; i++)
        {
            string file = random.Next(3) > 0 ? sample.FileName : sample.Files.Keys.Order(StringComparer.Ordinal).ElementAt(random.Next(sample.Files.Count));
            var bytes = sample.Files[file].ToList();
            if (bytes.Count == 0) continue;
            // Most of a file is data, where damage is a value like any other: aim at the header half of the time.
            int header = sample.Boundaries.Where(b => b <= bytes.Count).DefaultIfEmpty(bytes.Count).Max();
            int at = random.Next(random.Next(2) == 0 ? Math.Max(1, Math.Min(header, bytes.Count)) : bytes.Count);
            Change(bytes, at, random);
            sample = sample.With(file, [.. bytes]);
        }

        return sample;
    }

    public static string Show(ReaderSample sample) => string.Join('\n', sample.Files.Select(f =>
        $"--- {f.Key} ({f.Value.Length} bytes)\n{string.Concat(Encoding.Latin1.GetString(f.Value.AsSpan(0, Math.Min(f.Value.Length, 2000))).Select(c => char.IsControl(c) && c != '\n' ? '·' : c))}"));

    private static void Change(List<byte> bytes, int at, Random random)
    {
        switch (random.Next(9))
        {
            case 0:
                bytes[at] ^= (byte)(1 << random.Next(8));
                break;
            case 1:
                bytes[at] = (byte)random.Next(256);
                break;
            case 2:
                bytes[at] = (byte)('0' + random.Next(10));
                break;
            case 3:
                bytes.RemoveRange(at, Math.Min(random.Next(1, 40), bytes.Count - at));
                break;
            case 4:
                bytes.RemoveRange(at, bytes.Count - at);
                break;
            case 5:
                bytes.InsertRange(at, Oddities[random.Next(Oddities.Length)]);
                break;
            case 6:
                Overwrite(bytes, at, Oddities[random.Next(Oddities.Length)]);
                break;
            case 7:
                bytes.InsertRange(at, bytes.GetRange(at, Math.Min(random.Next(1, 300), bytes.Count - at)));
                break;
            default:
                Overwrite(bytes, at, [.. bytes.GetRange(random.Next(bytes.Count), 1).SelectMany(b => Enumerable.Repeat(b, random.Next(1, 20)))]);
                break;
        }
    }

    private static void Overwrite(List<byte> bytes, int at, byte[] by)
    {
        for (int i = 0; i < by.Length && at + i < bytes.Count; i++) bytes[at + i] = by[i];
    }
}
