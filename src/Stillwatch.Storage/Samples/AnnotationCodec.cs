using System.Runtime.InteropServices;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Storage.Samples;

/// <summary>Annotations as bytes; texts are kept code unit by code unit, so that they come back as they were whatever a file held.</summary>
internal static class AnnotationCodec
{
    /// <summary>Where a chunk ends: after so many annotations, or with the one that reaches so many bytes.</summary>
    public const int MostAnnotations = 1024, EnoughBytes = 1 << 20;

    public static void Write(Annotation annotation, List<byte> to)
    {
        Span<byte> number = stackalloc byte[VarInts.MostBytes];
        to.AddRange(number[..VarInts.WriteSigned(number, annotation.Time.Milliseconds)]);
        to.AddRange(number[..VarInts.WriteSigned(number, annotation.Length.Milliseconds)]);
        to.AddRange(number[..VarInts.Write(number, (ulong)annotation.Origin)]);
        to.AddRange(number[..VarInts.Write(number, (ulong)annotation.Text.Length)]);
        to.AddRange(MemoryMarshal.AsBytes(annotation.Text.AsSpan()));
    }

    /// <exception cref="InvalidDataException">The bytes do not hold that many annotations.</exception>
    public static IEnumerable<Annotation> Read(byte[] content, int count)
    {
        if (count is < 0 or > MostAnnotations) throw new InvalidDataException($"the chunk says that it holds {count} annotations");
        int at = 0;
        for (int i = 0; i < count; i++)
        {
            long time = VarInts.ReadSigned(content, ref at), length = VarInts.ReadSigned(content, ref at);
            var origin = (AnnotationOrigin)VarInts.ReadCount(content, ref at);
            if (!Enum.IsDefined(origin)) throw new InvalidDataException($"an annotation has the origin {(int)origin}, which is none");
            int units = VarInts.ReadCount(content, ref at);
            if (units > (content.Length - at) / sizeof(char)) throw new InvalidDataException("an annotation ends within its text");
            string text = new(MemoryMarshal.Cast<byte, char>(content.AsSpan(at, units * sizeof(char))));
            at += text.Length * sizeof(char);
            yield return new Annotation(new SampleTime(time), new Duration(length), text, origin);
        }

        if (at != content.Length) throw new InvalidDataException("the chunk holds more annotations than it says");
    }
}
