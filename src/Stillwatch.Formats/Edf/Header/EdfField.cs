namespace Stillwatch.Formats.Edf.Header;

/// <summary>A field of the header: its name in the specification, where it begins and how many characters it has.</summary>
/// <param name="Name">As the specification calls it.</param>
/// <param name="Offset">Of the fixed part: the byte. Of a signal: the characters of all fields before it, per signal.</param>
/// <param name="Width">In bytes, one character each.</param>
internal readonly record struct EdfField(string Name, int Offset, int Width);

/// <summary>
/// The header as a table of facts. Kemp et al., "A simple format for exchange of digitized polygraphic recordings" (EDF, 1992), and the
/// specification at edfplus.info/specs; BDF has the same fields.
/// </summary>
internal static class EdfFields
{
    public const int FixedLength = 256;
    public const int PerSignal = 256;

    public static readonly EdfField Version = new("version", 0, 8);
    public static readonly EdfField Patient = new("local patient identification", 8, 80);
    public static readonly EdfField Recording = new("local recording identification", 88, 80);
    public static readonly EdfField StartDate = new("startdate", 168, 8);
    public static readonly EdfField StartTime = new("starttime", 176, 8);
    public static readonly EdfField HeaderBytes = new("number of bytes in header", 184, 8);
    public static readonly EdfField Reserved = new("reserved", 192, 44);
    public static readonly EdfField RecordCount = new("number of data records", 236, 8);
    public static readonly EdfField RecordDuration = new("duration of a data record", 244, 8);
    public static readonly EdfField SignalCount = new("number of signals", 252, 4);

    public static readonly EdfField Label = new("label", 0, 16);
    public static readonly EdfField Transducer = new("transducer type", 16, 80);
    public static readonly EdfField Dimension = new("physical dimension", 96, 8);
    public static readonly EdfField PhysicalMinimum = new("physical minimum", 104, 8);
    public static readonly EdfField PhysicalMaximum = new("physical maximum", 112, 8);
    public static readonly EdfField DigitalMinimum = new("digital minimum", 120, 8);
    public static readonly EdfField DigitalMaximum = new("digital maximum", 128, 8);
    public static readonly EdfField Prefiltering = new("prefiltering", 136, 80);
    public static readonly EdfField SamplesPerRecord = new("number of samples in each data record", 216, 8);
    public static readonly EdfField SignalReserved = new("reserved", 224, 32);

    public static readonly IReadOnlyList<EdfField> Fixed = [Version, Patient, Recording, StartDate, StartTime, HeaderBytes, Reserved, RecordCount, RecordDuration, SignalCount];

    public static readonly IReadOnlyList<EdfField> OfSignal =
        [Label, Transducer, Dimension, PhysicalMinimum, PhysicalMaximum, DigitalMinimum, DigitalMaximum, Prefiltering, SamplesPerRecord, SignalReserved];

    /// <summary>All signals' labels stand together, then all their transducers, and so on.</summary>
    /// <param name="field">One of <see cref="OfSignal"/>.</param>
    /// <param name="signalCount">Signals in the file.</param>
    /// <param name="signalIndex">0-based.</param>
    public static int PositionOf(EdfField field, int signalCount, int signalIndex) => FixedLength + field.Offset * signalCount + field.Width * signalIndex;
}
