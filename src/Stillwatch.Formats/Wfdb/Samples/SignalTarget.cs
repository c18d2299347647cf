using System.Numerics;
using Stillwatch.Formats.Digital;
using Stillwatch.Formats.Wfdb.Header;
using Stillwatch.Signals;

namespace Stillwatch.Formats.Wfdb.Samples;

/// <summary>
/// Takes one signal's codes in the order of the file: follows differences, marks the invalid code, applies the skew, hands the counts on,
/// and compares sum and first sample with the header at the end.
/// </summary>
/// <remarks>
/// Skew (header(5)): so many samples of the signal precede time zero; they belong to the checksum and are not returned. As in the original
/// library it is counted in frames: with skew k, the signal's first sample is that of frame k, and its last k frames have no number.
/// </remarks>
/// <param name="signal">Its line.</param>
/// <param name="file">Its file.</param>
/// <param name="sink">Where the counts go.</param>
/// <param name="scale">What turns counts into those of a common calibration.</param>
/// <param name="issues">Where disagreements are listed.</param>
internal sealed class SignalTarget(SignalLine signal, SignalFile file, SampleSink sink, CountScale scale, IssueLog issues)
{
    private readonly int skewSamples = (int)(Math.Min(signal.SkewFrames, file.FrameCount) * signal.SamplesPerFrame!.Value);
    private int toSkip = (int)(Math.Min(signal.SkewFrames, file.FrameCount) * signal.SamplesPerFrame!.Value);
    private long running = signal.InitialValue ?? signal.AdcZero;
    private long taken;
    private int first;
    private int sum; // modulo 2^32, of which the checksum is the low half
    private int invalidCount;

    /// <summary>Samples handed on, those without a number for the skew among them once finished.</summary>
    public long Taken => taken;

    /// <param name="codes">As decoded; overwritten.</param>
    public void Take(Span<int> codes)
    {
        if (file.Format.IsDifferences) Follow(codes);
        if (taken == 0 && codes.Length > 0) first = codes[0];
        taken += codes.Length;
        SumAndMark(codes, file.Format.Invalid ?? CountColumn.Missing);
        int skipped = Math.Min(toSkip, codes.Length);
        toSkip -= skipped;
        codes = codes[skipped..];
        scale.Apply(codes);
        sink.Add(codes);
    }

    /// <summary>After the last sample.</summary>
    public void Finish()
    {
        if (skewSamples > 0)
        {
            sink.AddMissing(skewSamples - toSkip);
            issues.Note(WfdbIssueCodes.SignalSkew, signal.Label, signal.Place, $"skew of {signal.SkewFrames} frames", "samples that begin at time zero", $"moved {signal.SkewFrames} frames earlier, as header(5) says; {skewSamples} samples at the end have no number");
        }

        if (!file.Format.IsDifferences && signal.InitialValue is { } initial && taken > 0 && initial != first && !(first == file.Format.Invalid && initial == InvalidOfLibrary))
            issues.Doubt(WfdbIssueCodes.SignalInitialValue, $"{file.Name} {signal.Index}", $"{file.Name}, {signal.Place}", $"{first} as first sample", $"{initial}, as the header says", "the samples as they are in the file");
        if (file.IsComplete && signal.Checksum is { } checksum && !IsSum(checksum))
            issues.Doubt(WfdbIssueCodes.SignalChecksum, $"{file.Name} {signal.Index}", $"{file.Name}, {signal.Place}", $"samples that add up to {unchecked((short)sum)}", $"{checksum}, as the header says (16 bits)", "the samples as they are in the file; it may be damaged, or another's");
    }

    // The original library adds this where a sample is invalid, whatever the format's own code (from memory); other writers add the code.
    private const int InvalidOfLibrary = -32768;

    private bool IsSum(long checksum)
    {
        unchecked
        {
            int asLibrary = file.Format.Invalid is { } code ? sum + invalidCount * (InvalidOfLibrary - code) : sum;
            return (short)checksum == (short)sum || (short)checksum == (short)asLibrary;
        }
    }

    // signal(5), format 8: the value of a sample is the initial value and all steps up to it.
    private void Follow(Span<int> steps)
    {
        for (int i = 0; i < steps.Length; i++)
        {
            running += steps[i];
            bool fits = running is > int.MinValue and <= int.MaxValue;
            steps[i] = fits ? (int)running : CountColumn.Missing;
            if (!fits) issues.Doubt(WfdbIssueCodes.SignalRange, $"{file.Name} {signal.Index}", $"{file.Name}, {signal.Place}", "steps that lead beyond 32 bits", "counts of at most 32 bits", "no number");
        }
    }

    private void SumAndMark(Span<int> codes, int invalid)
    {
        unchecked
        {
            int i = 0, total = 0, marked = 0;
            if (Vector.IsHardwareAccelerated && codes.Length >= Vector<int>.Count)
            {
                Vector<int> sums = default, marks = default, missing = new(CountColumn.Missing), wanted = new(invalid);
                for (; i + Vector<int>.Count <= codes.Length; i += Vector<int>.Count)
                {
                    var block = new Vector<int>(codes[i..]);
                    var isInvalid = Vector.Equals(block, wanted);
                    sums += block;
                    marks -= isInvalid; // true is -1
                    Vector.ConditionalSelect(isInvalid, missing, block).CopyTo(codes[i..]);
                }

                total = Vector.Sum(sums);
                marked = Vector.Sum(marks);
            }

            for (; i < codes.Length; i++)
            {
                total += codes[i];
                if (codes[i] != invalid) continue;
                codes[i] = CountColumn.Missing;
                marked++;
            }

            sum += total;
            invalidCount += marked;
        }
    }
}

/// <summary>Counts of one calibration in those of another, where both differ by a whole factor: (count − origin) · factor.</summary>
internal readonly record struct CountScale(long Origin, long Factor)
{
    public static readonly CountScale None = new(0, 1);

    public void Apply(Span<int> counts)
    {
        if (this == None) return;
        for (int i = 0; i < counts.Length; i++)
        {
            if (counts[i] != CountColumn.Missing) counts[i] = (int)((counts[i] - Origin) * Factor);
        }
    }
}
