using Stillwatch.Signals;

namespace Stillwatch.Formats.Edf.Writing;

/// <summary>Writes EDF+ (Kemp and Olivan, Clin Neurophysiol 2003;114:1755; edfplus.info/specs/edfplus): 16 bits a sample, notes as annotations.</summary>
/// <remarks>
/// No identity is ever written: the patient field is <c>X X X X</c>. What the format has no place for stands in its free fields, in words: see
/// <see cref="EdfConventions"/>. Memory: one data record, and a few bytes for each gap.
/// </remarks>
public sealed class EdfRecordingWriter : IRecordingWriter
{
    public string Format => "EDF+";

    public string Extension => ".edf";

    public IReadOnlyList<ReadIssue> Write(Recording recording, Stream to) => new EdfFileWriter(recording, SampleWidth.Edf).Write(to);
}

/// <summary>Writes BDF+: as <see cref="EdfRecordingWriter"/>, with 24 bits a sample. (BDF has no standard body; the layout is EDF's, common practice.)</summary>
public sealed class BdfRecordingWriter : IRecordingWriter
{
    public string Format => "BDF+";

    public string Extension => ".bdf";

    public IReadOnlyList<ReadIssue> Write(Recording recording, Stream to) => new EdfFileWriter(recording, SampleWidth.Bdf).Write(to);
}
