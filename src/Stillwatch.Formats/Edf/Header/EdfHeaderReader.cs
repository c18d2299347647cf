using Stillwatch.Signals;

namespace Stillwatch.Formats.Edf.Header;

/// <summary>Reads a header strictly by the specification; what it does not allow and still has one meaning is taken and listed.</summary>
internal static class EdfHeaderReader
{
    /// <summary>Largest magnitude of a physical end that is believed: beyond it, sums of decimals would not be exact.</summary>
    private const decimal LargestPhysical = 1_000_000_000_000m;

    private const long MostSamplesPerRecord = 99_999_999; // what eight digits can say

    /// <param name="stream">At its beginning; afterwards anywhere.</param>
    /// <param name="name">The file, for messages.</param>
    /// <param name="issues">Where oddities are listed.</param>
    /// <exception cref="UnreadableFileException">Not EDF or BDF, cut within the header, or without a number that the layout of the data hangs on.</exception>
    public static EdfHeader Read(Stream stream, string name, IssueLog issues)
    {
        byte[] head = new byte[EdfFields.FixedLength];
        int length = stream.ReadAtLeast(head, head.Length, throwOnEndOfStream: false);
        if (length < head.Length) throw Cut(name, length, "256 bytes at least");

        var fields = new HeaderFields(head, 0, issues);
        bool isBdf = EdfVersion.IsBdf(head);
        if (!isBdf && !EdfVersion.IsEdf(head))
        {
            throw new UnreadableFileException($"version {fields.Show(EdfFields.Version)}", "\"0\" (EDF), or byte 255 and \"BIOSEMI\" (BDF)", $"{name}, header, version",
                "the file is of another format, or its first bytes are damaged");
        }

        if (fields.Whole(EdfFields.SignalCount) is not { } signalCount || signalCount is < 0 or > 9999)
            throw Missing(name, fields.Show(EdfFields.SignalCount), "a whole number from 0 to 9999", EdfFields.SignalCount);
        long needed = EdfFields.FixedLength + EdfFields.PerSignal * signalCount;
        if (stream.Length < needed) throw Cut(name, stream.Length, $"{needed} bytes, for {signalCount} signals");

        byte[] whole = new byte[needed];
        head.CopyTo(whole, 0);
        stream.ReadExactly(whole, EdfFields.FixedLength, whole.Length - EdfFields.FixedLength);
        return Read(new HeaderFields(whole, (int)signalCount, issues), (int)signalCount, isBdf, name, issues);
    }

    private static EdfHeader Read(HeaderFields fields, int signalCount, bool isBdf, string name, IssueLog issues)
    {
        NoteIdentification(fields, issues);
        string reserved = fields.Text(EdfFields.Reserved);
        NoteReserved(reserved, isBdf, issues);

        long needed = EdfFields.FixedLength + EdfFields.PerSignal * signalCount;
        long? headerBytes = fields.Whole(EdfFields.HeaderBytes);
        if (headerBytes != needed)
        {
            issues.Doubt(EdfIssueCodes.HeaderSize, "", HeaderFields.Place(EdfFields.HeaderBytes), fields.Show(EdfFields.HeaderBytes), $"{needed}, for {signalCount} signals",
                $"the data begin behind the fields of the signals, at byte {needed}");
        }

        var signals = new List<EdfSignal>();
        for (int i = 0; i < signalCount; i++) signals.Add(Signal(fields, i, isBdf, name, issues));
        NoteLabels(signals, issues);
        if (signalCount == 0) issues.Failure(EdfIssueCodes.SignalNone, "", HeaderFields.Place(EdfFields.SignalCount), "0 signals", "at least one", "nothing is read");
        return new EdfHeader(isBdf, fields.Text(EdfFields.StartDate), fields.Text(EdfFields.StartTime), headerBytes, reserved,
            fields.Whole(EdfFields.RecordCount), fields.Number(EdfFields.RecordDuration), fields.Text(EdfFields.Recording), signals);
    }

    private static EdfSignal Signal(HeaderFields fields, int index, bool isBdf, string name, IssueLog issues)
    {
        string label = fields.Text(EdfFields.Label, index);
        if (label.Length == 0)
        {
            label = $"#{index + 1}";
            issues.Note(EdfIssueCodes.HeaderEmptyName, "", HeaderFields.Place(EdfFields.Label, index), "blank", "a label", $"named {label}, after its number");
        }

        if (fields.Whole(EdfFields.SamplesPerRecord, index) is not { } samples || samples is < 0 or > MostSamplesPerRecord)
            throw Missing(name, fields.Show(EdfFields.SamplesPerRecord, index), "a whole number from 0 on, of eight digits at most", EdfFields.SamplesPerRecord, index);

        bool isNotes = EdfVersion.MeansNotes(label);
        string wantedNotes = isBdf ? "BDF Annotations" : "EDF Annotations";
        if (isNotes && label != wantedNotes)
            issues.Note(EdfIssueCodes.NotesUnexpected, "label", HeaderFields.Place(EdfFields.Label, index), IssueLog.Show(label), $"\"{wantedNotes}\"", "read as the annotations");
        var signal = new EdfSignal(index, label, fields.Text(EdfFields.Transducer, index), fields.Text(EdfFields.Dimension, index), fields.Text(EdfFields.Prefiltering, index),
            fields.Whole(EdfFields.DigitalMinimum, index), fields.Whole(EdfFields.DigitalMaximum, index),
            fields.Number(EdfFields.PhysicalMinimum, index), fields.Number(EdfFields.PhysicalMaximum, index), samples, null, isNotes);
        if (isNotes) return signal;
        if (samples == 0)
        {
            issues.Note(EdfIssueCodes.SignalNoSamples, $"{index}", HeaderFields.Place(EdfFields.SamplesPerRecord, index), "0", "at least 1", $"{IssueLog.Show(label)} has no samples; it is not a channel");
            return signal;
        }

        return signal with { Calibration = Calibrate(signal, fields, isBdf, issues) };
    }

    private static Calibration? Calibrate(EdfSignal signal, HeaderFields fields, bool isBdf, IssueLog issues)
    {
        string ends = $"counts {fields.Show(EdfFields.DigitalMinimum, signal.Index)} to {fields.Show(EdfFields.DigitalMaximum, signal.Index)} for values "
            + $"{fields.Show(EdfFields.PhysicalMinimum, signal.Index)} to {fields.Show(EdfFields.PhysicalMaximum, signal.Index)}";
        bool isScale = signal is { DigitalMinimum: { } low, DigitalMaximum: { } high, PhysicalMinimum: { } bottom, PhysicalMaximum: { } top }
            && low != high && bottom != top && Math.Abs(bottom) <= LargestPhysical && Math.Abs(top) <= LargestPhysical;
        if (!isScale)
        {
            issues.Doubt(EdfIssueCodes.SignalNoScale, $"{signal.Index}", $"header, {signal.Place}", ends, "two different counts for two different values", "kept as counts, without a unit");
            return null;
        }

        var (least, greatest) = isBdf ? (-8_388_608L, 8_388_607L) : (-32_768L, 32_767L);
        if (signal.DigitalMinimum < least || signal.DigitalMinimum > greatest || signal.DigitalMaximum < least || signal.DigitalMaximum > greatest)
            issues.Doubt(EdfIssueCodes.SignalScale, $"{signal.Index} width", $"header, {signal.Place}", ends, $"counts from {least} to {greatest}", "the scale as it is stated");
        if (signal.DigitalMinimum > signal.DigitalMaximum)
            issues.Doubt(EdfIssueCodes.SignalScale, $"{signal.Index} order", $"header, {signal.Place}", ends, "the digital minimum below the maximum", "the scale as it is stated: each count with its own value");
        else if (signal.PhysicalMinimum > signal.PhysicalMaximum)
            issues.Note(EdfIssueCodes.SignalScale, $"{signal.Index} order", $"header, {signal.Place}", ends, "usually the lower value first", "the scale as it is stated; it stands for a negative gain");
        return Calibration.OfRange(signal.DigitalMinimum!.Value, signal.DigitalMaximum!.Value, signal.PhysicalMinimum!.Value, signal.PhysicalMaximum!.Value);
    }

    // What it says is nobody's business here; that it is there must be known before a file is handed on.
    private static void NoteIdentification(HeaderFields fields, IssueLog issues)
    {
        if (SaysSomething(fields.Text(EdfFields.Patient)))
        {
            issues.Note(EdfIssueCodes.HeaderIdentification, "patient", HeaderFields.Place(EdfFields.Patient), "text that may identify the patient", "blank or \"X X X X\" in a file without identity",
                "not kept and not shown; the file itself still holds it");
        }

        string recording = fields.Text(EdfFields.Recording);
        string[] words = recording.Split(' ', StringSplitOptions.RemoveEmptyEntries);
        string codes = words is ["Startdate", _, .. var more] ? string.Join(' ', more.Where(w => !EdfConventions.IsOwn(w))) : recording;
        if (SaysSomething(codes))
        {
            issues.Note(EdfIssueCodes.HeaderIdentification, "recording", HeaderFields.Place(EdfFields.Recording), "text that may identify the stay, the staff or the equipment", "blank or \"X\"",
                "not kept and not shown; the file itself still holds it");
        }
    }

    private static bool SaysSomething(string text) => text.AsSpan().IndexOfAnyExcept("X ") >= 0;

    private static void NoteReserved(string reserved, bool isBdf, IssueLog issues)
    {
        bool isKnown = isBdf
            ? reserved is "" or "24BIT" || reserved.StartsWith("BDF+C", StringComparison.Ordinal) || reserved.StartsWith("BDF+D", StringComparison.Ordinal)
            : reserved.Length == 0 || reserved.StartsWith("EDF+C", StringComparison.Ordinal) || reserved.StartsWith("EDF+D", StringComparison.Ordinal);
        if (isKnown) return;
        bool isPlus = reserved.StartsWith("EDF+", StringComparison.Ordinal) || reserved.StartsWith("BDF+", StringComparison.Ordinal);
        string assumed = (isBdf ? "24-bit samples, as the version says" : "16-bit samples, as the version says")
            + (isPlus ? reserved.Length > 4 && reserved[4] == 'D' ? "; discontinuous" : "; continuous" : "; continuous, without the rules of EDF+");
        issues.Doubt(EdfIssueCodes.HeaderReserved, "", HeaderFields.Place(EdfFields.Reserved), IssueLog.Show(reserved), isBdf ? "blank, \"24BIT\", \"BDF+C\" or \"BDF+D\"" : "blank, \"EDF+C\" or \"EDF+D\"", assumed);
    }

    private static void NoteLabels(List<EdfSignal> signals, IssueLog issues)
    {
        foreach (var alike in signals.Where(s => !s.IsNotes).GroupBy(s => s.Label).Where(g => g.Count() > 1))
        {
            issues.Note(EdfIssueCodes.HeaderDuplicate, alike.Key, $"header, signals {string.Join(", ", alike.Take(10).Select(s => s.Index + 1))}{(alike.Count() > 10 ? " …" : "")}",
                $"{alike.Count()} signals labelled {IssueLog.Show(alike.Key)}", "each label once", "each is its own channel; name one by its number, #n");
        }
    }

    private static UnreadableFileException Cut(string name, long found, string expected) =>
        new($"{found} bytes", $"a header of {expected}", $"{name}, header", "the file was cut while it was copied, or is of another format");

    private static UnreadableFileException Missing(string name, string found, string expected, EdfField field, int? signalIndex = null) =>
        new(found, expected, $"{name}, {HeaderFields.Place(field, signalIndex)}", "the header is damaged, and without this number the samples cannot be told apart");
}
