using System.Globalization;
using System.Text;

namespace Stillwatch.Formats.Edf.Writing;

/// <summary>A signal as the header describes it.</summary>
internal sealed record HeaderSignal(string Label, string Transducer, string Unit, string PhysicalMinimum, string PhysicalMaximum, int DigitalMinimum, int DigitalMaximum, int SamplesInRecord);

/// <summary>The header: ASCII fields of fixed widths, the signals' field by field (EDF specification, Kemp et al. 1992; EDF+ 2003).</summary>
internal sealed class HeaderWriter
{
    private readonly List<byte> bytes = [];

    public static byte[] BytesOf(SampleWidth width, StartFields start, RecordPlan plan, IReadOnlyList<HeaderSignal> signals)
    {
        var header = new HeaderWriter();
        if (width == SampleWidth.Bdf) header.bytes.Add(0xFF);
        header.Field(width == SampleWidth.Bdf ? "BIOSEMI" : "0", width == SampleWidth.Bdf ? 7 : 8);
        header.Field("X X X X", 80);
        header.Field(start.RecordingField, 80);
        header.Field(start.Date, 8);
        header.Field(start.Time, 8);
        header.Field(Number(256 * (signals.Count + 1)), 8);
        header.Field($"{width.Name}+{(plan.IsContinuous ? 'C' : 'D')}", 44);
        header.Field(plan.Count.ToString(CultureInfo.InvariantCulture), 8);
        header.Field(HeaderNumber.TextOf(plan.Milliseconds / 1000m)!, 8);
        header.Field(Number(signals.Count), 4);
        foreach (var signal in signals) header.Field(signal.Label, 16);
        foreach (var signal in signals) header.Field(signal.Transducer, 80);
        foreach (var signal in signals) header.Field(signal.Unit, 8);
        foreach (var signal in signals) header.Field(signal.PhysicalMinimum, 8);
        foreach (var signal in signals) header.Field(signal.PhysicalMaximum, 8);
        foreach (var signal in signals) header.Field(Number(signal.DigitalMinimum), 8);
        foreach (var signal in signals) header.Field(Number(signal.DigitalMaximum), 8);
        foreach (var _ in signals) header.Field("", 80);
        foreach (var signal in signals) header.Field(Number(signal.SamplesInRecord), 8);
        foreach (var _ in signals) header.Field("", 32);
        return [.. header.bytes];
    }

    private static string Number(int number) => number.ToString(CultureInfo.InvariantCulture);

    private void Field(string text, int length)
    {
        if (text.Length > length) throw new InvalidOperationException($"Found a header field of {text.Length} characters, expected at most {length}: \"{text}\".");
        bytes.AddRange(Encoding.ASCII.GetBytes(text.PadRight(length)));
    }
}
