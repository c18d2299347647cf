using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Formats.Wfdb.Header;

/// <summary>What a header file says. What is absent stays null here; defaults are applied, and listed, by those who use it.</summary>
/// <param name="FileName">The header file itself.</param>
/// <param name="RecordName">As the record line has it, without the number of segments.</param>
/// <param name="SegmentCount">Null: an ordinary record.</param>
/// <param name="SignalCount">As the record line states it.</param>
/// <param name="Frequency">Frames a second, as written; null where the line ends before it.</param>
/// <param name="FrameCount">Null where the number of samples per signal is zero, absent or unreadable: then the file's length tells.</param>
/// <param name="Start">The base time and date.</param>
/// <param name="Signals">The signal lines, of an ordinary record.</param>
/// <param name="Segments">The segment lines, of a multi-segment record.</param>
/// <param name="Comments">Wherever they stand, without their mark.</param>
internal sealed record WfdbHeader(
    string FileName, string RecordName, int? SegmentCount, int SignalCount, decimal? Frequency, long? FrameCount, RecordingStart Start,
    IReadOnlyList<SignalLine> Signals, IReadOnlyList<SegmentLine> Segments, IReadOnlyList<string> Comments)
{
    /// <summary>header(5): DEFREQ, where the record line gives none.</summary>
    public const decimal DefaultFrequency = 250m;

    /// <summary>Whether the signal lines are all there: where one is missing, its file's samples cannot be told apart.</summary>
    public bool HasAllSignals => Signals.Count == SignalCount;
}

/// <summary>A signal specification line (header(5)).</summary>
/// <param name="Index">0-based.</param>
/// <param name="FileName">The signal file; ~ for a signal without samples.</param>
/// <param name="Format">Storage format (signal(5)); null where it is unreadable.</param>
/// <param name="SamplesPerFrame">At least 1; null where the field is unreadable.</param>
/// <param name="SkewFrames">Frames of this signal that precede time zero; not negative.</param>
/// <param name="ByteOffset">Of sample 0 in the file.</param>
/// <param name="Gain">Counts per unit; null where absent or zero: uncalibrated.</param>
/// <param name="Baseline">The count at zero units, the ADC zero where it is not given.</param>
/// <param name="Unit">mV where it is not given.</param>
/// <param name="AdcZero">0 where it is not given.</param>
/// <param name="InitialValue">Sample 0; null where it is not given.</param>
/// <param name="Checksum">The 16-bit sum of all samples; null where it is not given.</param>
/// <param name="Label">The description; "signal 1" where there is none.</param>
internal sealed record SignalLine(
    int Index, string FileName, int? Format, int? SamplesPerFrame, long SkewFrames, long ByteOffset, decimal? Gain, long Baseline, string Unit,
    long AdcZero, long? InitialValue, long? Checksum, string Label)
{
    /// <summary>header(5): DEFGAIN, which may be assumed of an uncalibrated signal.</summary>
    public const decimal DefaultGain = 200m;

    /// <summary>The name of a signal or segment without a file.</summary>
    public const string Null = "~";

    public Calibration Calibration => Calibration.OfGain(Gain ?? DefaultGain, Baseline);

    public string Place => $"header, signal {Index + 1} {IssueLog.Show(Label)}";
}

/// <summary>A segment specification line: a record, or ~ for a gap, and its length in frames.</summary>
internal sealed record SegmentLine(int Index, string Name, long FrameCount)
{
    public bool IsGap => Name == SignalLine.Null;

    public string Place => $"segment {Index + 1} {IssueLog.Show(Name)}";
}
