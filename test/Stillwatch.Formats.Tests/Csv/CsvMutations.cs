using System.Text;

namespace Stillwatch.Formats.Tests.Csv;

/// <summary>Damages good files in the ways that crashes, editors and exports damage them. The same seed gives the same damage.</summary>
internal static class CsvMutations
{
    private static readonly string[] Oddities =
    [
        "99999999999999999999999999", "1e400", "-1e-400", "NaN", "---", "AS AO", "\"", "\"\"", ",", ";", "\t", "|", "\r", "\n", "\r\n", "%",
        "2026-13-45T99:99:99", "23:59:59", "00:00:00", "9999-12-31T23:59:59.9999", "#-1", "\u2603", "\U0001F600", "\uFEFF", "TRUE", "1.234,5",
    ];

    public static readonly IReadOnlyList<byte[]> Seeds =
    [
        Rows("time,SpO2,Pulse\n", i => $"2026-03-01T22:{i / 60:00}:{i % 60:00},{97 - i % 4},{70 + i % 5}\n"),
        Rows("\uFEFFTime;SpO2 1;SpO2 2;FiO2\r\n", i => $" 23:59:{i:00};0;{97 - i % 3},5;0,21\r\n"),
        Rows("Export of bed 7\n\ntime_s\tSpO2 (%)\tPI\tvalid\n\ts\t%\n", i => $"{i}.5\t{(i % 7 == 0 ? "" : "96")}\t1.{i}\ttrue\n"),
        Rows(",SpO2 1,SpO2 2,ECG,FiO2,,\n", i => $" 13:11:{i:00},97,96,, AS AO,16,20.9\n", "Collection Halted,,,,,,\n"),
        Rows("\"Date\",\"Time\",\"SpO2\",\"note\"\n", i => $"\"31/01/2026\",\"10:{i / 60:00}:{i % 60:00} PM\",\"97\",\"a, b\"\n"),
        Rows("epoch;HR;SpO2\n", i => $"{1772402400 + (i * 37 % 20)};{60 + i};{95 + i % 4}\n"),
        Rows("", i => $"2026-03-01 22:00:{i:00}Z|97|70\n"),
        Encoding.Unicode.GetPreamble().Concat(Encoding.Unicode.GetBytes("time_s,SpO2\n0,97\n1,96\n2,95\n3,x\n")).ToArray(),
    ];

    public static byte[] Mutate(Random random) => Mutate(random, Seeds);

    /// <summary>The same damage to other files.</summary>
    public static byte[] Mutate(Random random, IReadOnlyList<byte[]> seeds)
    {
        var bytes = seeds[random.Next(seeds.Count)].ToList();
        int changes = random.Next(1, 6);
        for (int i = 0; i < changes && bytes.Count > 0; i++) Change(bytes, random);
        return [.. bytes];
    }

    private static void Change(List<byte> bytes, Random random)
    {
        int at = random.Next(bytes.Count);
        switch (random.Next(12))
        {
            case 0:
                bytes[at] ^= (byte)(1 << random.Next(8));
                break;
            case 1:
                bytes[at] = (byte)random.Next(256);
                break;
            case 2:
                bytes.RemoveRange(at, Math.Min(random.Next(1, 40), bytes.Count - at));
                break;
            case 3:
                bytes.RemoveRange(at, bytes.Count - at);
                break;
            case 4:
                bytes.InsertRange(at, Encoding.UTF8.GetBytes(Oddities[random.Next(Oddities.Length)]));
                break;
            case 5:
                bytes.InsertRange(at, LineAt(bytes, random.Next(bytes.Count)));
                break;
            case 6:
                var line = LineAt(bytes, at);
                for (int copies = random.Next(1, 30); copies > 0; copies--) bytes.InsertRange(bytes.Count, line);
                break;
            case 7:
                Replace(bytes, Pick(random), Pick(random));
                break;
            case 8:
                ReplaceOne(bytes, at, Pick(random));
                break;
            case 9:
                if (random.Next(8) == 0) bytes.Insert(at, 0);
                break;
            case 10:
                bytes.InsertRange(at, Enumerable.Repeat((byte)('0' + random.Next(10)), random.Next(1, 300)));
                break;
            default:
                bytes.InsertRange(at, Enumerable.Repeat(Pick(random), random.Next(1, 50)));
                break;
        }
    }

    private static byte Pick(Random random) => (byte)",;\t|.:\"\n\r -0"[random.Next(12)];

    private static void Replace(List<byte> bytes, byte from, byte to)
    {
        for (int i = 0; i < bytes.Count; i++)
        {
            if (bytes[i] == from) bytes[i] = to;
        }
    }

    // The next separator from here on.
    private static void ReplaceOne(List<byte> bytes, int at, byte to)
    {
        int found = bytes.FindIndex(at, b => b is (byte)',' or (byte)';' or (byte)'\t' or (byte)'|' or (byte)'\n');
        if (found >= 0) bytes[found] = to;
    }

    private static List<byte> LineAt(List<byte> bytes, int at)
    {
        int start = at == 0 ? 0 : bytes.LastIndexOf((byte)'\n', at - 1) + 1;
        int end = bytes.IndexOf((byte)'\n', at);
        return bytes.GetRange(start, (end < 0 ? bytes.Count : end + 1) - start);
    }

    private static byte[] Rows(string header, Func<int, string> row, string last = "") =>
        Encoding.UTF8.GetBytes(header + string.Concat(Enumerable.Range(0, 40).Select(row)) + last);
}
