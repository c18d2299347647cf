using System.Buffers.Binary;

namespace Stillwatch.Alarms.Sound;

/// <summary>A score as sound: 16 bits, one channel, in the RIFF/WAVE form. The same score gives the same bytes on one machine.</summary>
public static class ScoreWave
{
    public const int SamplesPerSecond = 22_050; // the highest harmonic lies at 2.6 kHz
    private const int HeaderBytes = 44;
    private const double Loudness = 0.35;

    public static byte[] Of(NightScore score)
    {
        var samples = Samples(score);
        var bytes = new byte[HeaderBytes + 2 * samples.Length];
        Header(bytes, samples.Length);
        for (int i = 0; i < samples.Length; i++)
        {
            // Many signals at once may be louder than a sample holds: the sum is bent, not cut.
            double bent = samples[i] / (1 + Math.Abs(samples[i]));
            BinaryPrimitives.WriteInt16LittleEndian(bytes.AsSpan(HeaderBytes + 2 * i), (short)Math.Round(bent * short.MaxValue));
        }

        return bytes;
    }

    private static double[] Samples(NightScore score)
    {
        var samples = new double[checked((int)(score.Length.Milliseconds * SamplesPerSecond / 1000))];
        var pulses = BurstPatterns.All.ToDictionary(p => p.Priority, PulseOf);
        foreach (var burst in score.Bursts)
        {
            var pattern = BurstPatterns.Of(burst.Priority)!;
            double[] pulse = pulses[burst.Priority];
            foreach (var one in pattern.Pulses)
            {
                long at = (burst.Start.Milliseconds * NightScore.BurstsFaster + one.Start.Milliseconds) * SamplesPerSecond / (1000 * NightScore.BurstsFaster);
                for (int i = 0; i < pulse.Length && at + i < samples.Length; i++) samples[at + i] += pulse[i];
            }
        }

        return samples;
    }

    private static double[] PulseOf(BurstPattern pattern)
    {
        int count = (int)(pattern.Pulses[0].Length.Milliseconds * SamplesPerSecond / (1000 * NightScore.BurstsFaster));
        double rise = count * pattern.RiseShare;
        var pulse = new double[count];
        for (int i = 0; i < count; i++)
        {
            double phase = 2 * Math.PI * pattern.FundamentalHertz * i / SamplesPerSecond;
            double sum = Math.Sin(phase);
            for (int h = 0; h < pattern.HarmonicDecibels.Count; h++) sum += Math.Pow(10, pattern.HarmonicDecibels[h] / 20) * Math.Sin((h + 2) * phase);
            pulse[i] = Loudness * sum * Math.Min(1, Math.Min((i + 1) / rise, (count - i) / rise));
        }

        return pulse;
    }

    private static void Header(Span<byte> bytes, int samples)
    {
        "RIFF"u8.CopyTo(bytes);
        BinaryPrimitives.WriteInt32LittleEndian(bytes[4..], 36 + 2 * samples);
        "WAVEfmt "u8.CopyTo(bytes[8..]);
        BinaryPrimitives.WriteInt32LittleEndian(bytes[16..], 16);
        BinaryPrimitives.WriteInt16LittleEndian(bytes[20..], 1); // whole numbers, not pressed
        BinaryPrimitives.WriteInt16LittleEndian(bytes[22..], 1); // channels
        BinaryPrimitives.WriteInt32LittleEndian(bytes[24..], SamplesPerSecond);
        BinaryPrimitives.WriteInt32LittleEndian(bytes[28..], 2 * SamplesPerSecond);
        BinaryPrimitives.WriteInt16LittleEndian(bytes[32..], 2);
        BinaryPrimitives.WriteInt16LittleEndian(bytes[34..], 16);
        "data"u8.CopyTo(bytes[36..]);
        BinaryPrimitives.WriteInt32LittleEndian(bytes[40..], 2 * samples);
    }
}
