using Stillwatch.Signals;

namespace Stillwatch.Formats.Edf.Header;

/// <summary>What a header says, field by field; numbers that could not be read are null and are listed.</summary>
/// <param name="IsBdf">24-bit samples ("BIOSEMI" after a byte 255), not 16-bit ones.</param>
/// <param name="StartDate">As it stands.</param>
/// <param name="StartTime">As it stands.</param>
/// <param name="HeaderBytes">As the header counts itself.</param>
/// <param name="Reserved">As it stands.</param>
/// <param name="RecordCount">As stated; −1: unknown.</param>
/// <param name="RecordSeconds">As stated.</param>
/// <param name="RecordingId">The local recording identification, read for its start date alone.</param>
/// <param name="Signals">In file order, annotation signals among them.</param>
internal sealed record EdfHeader(
    bool IsBdf, string StartDate, string StartTime, long? HeaderBytes, string Reserved, long? RecordCount, decimal? RecordSeconds, string RecordingId, IReadOnlyList<EdfSignal> Signals)
{
    /// <summary>What an EDF+ file says of the recording after its start date, word by word; empty without a start date.</summary>
    public IReadOnlyList<string> Subfields => IsPlus && RecordingId.Split(' ', StringSplitOptions.RemoveEmptyEntries) is ["Startdate", _, .. var more] ? more : [];

    public int BytesPerSample => IsBdf ? 3 : 2;

    /// <summary>Where the data begin: the signals say, whatever the header's own count.</summary>
    public int DataStart => EdfFields.FixedLength + EdfFields.PerSignal * Signals.Count;

    public bool IsPlus => Reserved.StartsWith("EDF+", StringComparison.Ordinal) || Reserved.StartsWith("BDF+", StringComparison.Ordinal);

    public bool IsDiscontinuous => Reserved.StartsWith("EDF+D", StringComparison.Ordinal) || Reserved.StartsWith("BDF+D", StringComparison.Ordinal);

    public long RecordBytes => Signals.Sum(s => s.SamplesPerRecord) * BytesPerSample;

    public IEnumerable<EdfSignal> NoteSignals => Signals.Where(s => s.IsNotes);

    /// <summary>"EDF", "BDF", "EDF+C" …</summary>
    public string Format => (IsBdf ? "BDF" : "EDF") + (IsPlus ? IsDiscontinuous ? "+D" : "+C" : "");
}

/// <summary>A signal as the header describes it.</summary>
/// <param name="Index">0-based, in the file.</param>
/// <param name="Label">Without the blanks around it; "#3" where it is blank.</param>
/// <param name="Transducer">Without the blanks around it.</param>
/// <param name="Unit">The physical dimension.</param>
/// <param name="Prefiltering">Without the blanks around it.</param>
/// <param name="DigitalMinimum">Null: not a number, which is listed; as for the other ends.</param>
/// <param name="DigitalMaximum">In counts.</param>
/// <param name="PhysicalMinimum">In the unit.</param>
/// <param name="PhysicalMaximum">In the unit.</param>
/// <param name="SamplesPerRecord">0 or more.</param>
/// <param name="Calibration">Null where the ends do not make a scale, which is listed.</param>
/// <param name="IsNotes">It holds annotations, not samples.</param>
internal sealed record EdfSignal(
    int Index, string Label, string Transducer, string Unit, string Prefiltering, long? DigitalMinimum, long? DigitalMaximum, decimal? PhysicalMinimum, decimal? PhysicalMaximum,
    long SamplesPerRecord, Calibration? Calibration, bool IsNotes)
{
    public string Place => $"signal {Index + 1} {IssueLog.Show(Label)}";
}
