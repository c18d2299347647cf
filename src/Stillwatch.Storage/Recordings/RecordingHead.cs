using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using Stillwatch.Signals;
using Stillwatch.Storage.Samples;
using Stillwatch.Storage.Sql;
using Stillwatch.Time;

namespace Stillwatch.Storage.Recordings;

/// <summary>All rows of a recording but its samples, attachments and annotations.</summary>
internal sealed record RecordingHead(RecordingRow Recording, IReadOnlyList<FileRow> Files, IReadOnlyList<IssueRow> Issues, IReadOnlyList<AxisRow> Axes, IReadOnlyList<ChannelRow> Channels)
{
    /// <summary>The head of a recording that is to be stored.</summary>
    /// <param name="stored">What is to be stored.</param>
    /// <param name="axes">Its time axes, each once.</param>
    /// <param name="axisOf">The place among them of a channel's axis.</param>
    /// <param name="at">When.</param>
    /// <param name="actor">Who imports.</param>
    public static RecordingHead Of(NewRecording stored, IReadOnlyList<TimeAxis> axes, Func<Channel, int> axisOf, DateTimeOffset at, Actor actor)
    {
        string id = stored.Id.Text;
        var recording = stored.Recording;
        var (kind, text) = StoredStart.Of(recording.Start);
        var said = DescriptionColumns.Of(stored.Description, recording.Name);
        var row = new RecordingRow
        {
            Id = id,
            Name = StoredText.Of(recording.Name),
            StartKind = kind,
            StartText = text,
            SourceAveragingMilliseconds = recording.SourceAveraging.Window?.Milliseconds,
            Format = StoredText.Of(stored.Format),
            ExportOf = StoredText.OfOptional(stored.ExportOf),
            IsInvented = stored.IsInvented,
            AnnotationCount = recording.Annotations.Count,
            ImportedAt = StoredTime.Of(at),
            ImportedBy = StoredText.Of(actor.ToString() ?? ""),
            Patient = said.Patient,
            Category = said.Category,
            Unit = said.Unit,
            Oxygen = said.Oxygen,
            SourceAveragingSeconds = said.SourceAveragingSeconds,
            TargetLow = said.TargetLow,
            TargetHigh = said.TargetHigh,
            SettingsInForceJson = said.SettingsInForceJson,
            Note = said.Note,
            SearchText = said.SearchText,
        };
        var head = new RecordingHead(
            row,
            [.. stored.Files.Select((f, i) => new FileRow { Recording = id, Number = i, Name = StoredText.Of(f.Name), Sha256 = StoredText.Of(f.Sha256), ByteCount = f.Bytes })],
            [.. stored.Issues.Select((issue, i) => Row(id, i, issue))],
            [.. axes.Select((axis, i) => Row(id, i, axis))],
            [.. recording.Channels.Select((channel, i) => Row(id, i, axisOf(channel), channel))]);
        row.Digest = head.DigestOfFacts();
        return head;
    }

    /// <summary>SHA-256 over what was read from the file, as it stands in the tables; what people say of it is left out, for that changes.</summary>
    public byte[] DigestOfFacts()
    {
        var text = new StringBuilder();
        Add(text, Recording.Id, Recording.Name, Recording.StartKind, Recording.StartText, Recording.SourceAveragingMilliseconds, Recording.Format, Recording.ExportOf, Recording.IsInvented, Recording.AnnotationCount);
        foreach (var f in Files) Add(text, f.Number, f.Name, f.Sha256, f.ByteCount);
        foreach (var i in Issues) Add(text, i.Number, i.Severity, i.Code, i.Place, i.Found, i.Expected, i.Assumed, i.AlikeCount);
        foreach (var a in Axes) Add(text, a.Number, a.RowCount, a.FirstMilliseconds, a.LastMilliseconds, a.PeriodMilliseconds, a.IsPeriodDeclared, a.RateSamples, a.RateMilliseconds);
        foreach (var c in Channels)
            Add(text, c.Number, c.Axis, c.Label, c.Kind, c.Unit, c.Holds, c.CalibrationOrigin, c.CalibrationOffset, c.CalibrationNumerator, c.CalibrationDenominator, c.EntryMilliseconds, c.Levels);
        return SHA256.HashData(Encoding.UTF8.GetBytes(text.ToString()));
    }

    public StoredRecording ToStored() => new()
    {
        Id = RecordingId.TryParse(Recording.Id, out var id) ? id : throw new FormatException($"Found the recording \"{Recording.Id}\", expected 32 hexadecimal digits."),
        Name = StoredText.Back(Recording.Name),
        Start = StoredStart.Back(Recording.StartKind, Recording.StartText),
        SourceAveraging = Averaging,
        Channels = [.. Channels.Select(Stored)],
        Files = [.. Files.Select(f => new SourceFile(StoredText.Back(f.Name), StoredText.Back(f.Sha256), f.ByteCount))],
        Format = StoredText.Back(Recording.Format),
        Issues = [.. Issues.Select(i => new ReadIssue(
            Enum.Parse<IssueSeverity>(i.Severity), StoredText.Back(i.Code), StoredText.Back(i.Place), StoredText.Back(i.Found), StoredText.Back(i.Expected), StoredText.Back(i.Assumed), i.AlikeCount))],
        Description = DescriptionColumns.Back(Recording),
        ExportOf = StoredText.BackOptional(Recording.ExportOf),
        IsInvented = Recording.IsInvented,
        ImportedAt = StoredTime.Back(Recording.ImportedAt),
        ImportedBy = new Actor(StoredText.Back(Recording.ImportedBy)),
    };

    public SourceAveraging Averaging => Recording.SourceAveragingMilliseconds is { } milliseconds ? new SourceAveraging(new Duration(milliseconds)) : SourceAveraging.Unknown;

    public AxisRow AxisOf(ChannelRow channel) => Axes.Single(a => a.Number == channel.Axis);

    public static Calibration CalibrationOf(ChannelRow channel) => new(
        channel.CalibrationOrigin ?? 0, Number(channel.CalibrationOffset), Number(channel.CalibrationNumerator), Number(channel.CalibrationDenominator));

    private StoredChannel Stored(ChannelRow channel)
    {
        var axis = AxisOf(channel);
        var (start, period) = (new SampleTime(axis.FirstMilliseconds), new Duration(axis.PeriodMilliseconds));
        var end = axis.RowCount == 0 ? default : new SampleTime(axis.LastMilliseconds) + period;
        return new StoredChannel(channel.Number, StoredText.Back(channel.Label), Enum.Parse<ChannelKind>(channel.Kind), StoredText.Back(channel.Unit), axis.RowCount, start, end, period);
    }

    private static IssueRow Row(string id, int number, ReadIssue issue) => new()
    {
        Recording = id,
        Number = number,
        Severity = issue.Severity.ToString(),
        Code = StoredText.Of(issue.Code),
        Place = StoredText.Of(issue.Place),
        Found = StoredText.Of(issue.Found),
        Expected = StoredText.Of(issue.Expected),
        Assumed = StoredText.Of(issue.Assumed),
        AlikeCount = issue.Count,
    };

    private static AxisRow Row(string id, int number, TimeAxis axis) => new()
    {
        Recording = id,
        Number = number,
        RowCount = axis.Count,
        FirstMilliseconds = axis.Count > 0 ? axis.First.Milliseconds : 0,
        LastMilliseconds = axis.Count > 0 ? axis.Last.Milliseconds : 0,
        PeriodMilliseconds = axis.Period.Milliseconds,
        IsPeriodDeclared = axis.IsPeriodDeclared,
        RateSamples = axis.Rate?.Samples,
        RateMilliseconds = axis.Rate?.Milliseconds,
    };

    private static ChannelRow Row(string id, int number, int axis, Channel channel)
    {
        var calibration = channel.Counts?.Calibration;
        var shape = PyramidShape.Of(channel.Times);
        return new ChannelRow
        {
            Recording = id,
            Number = number,
            Axis = axis,
            Label = StoredText.Of(channel.Label),
            Kind = channel.Kind.ToString(),
            Unit = StoredText.Of(channel.Unit),
            Holds = calibration is null ? ChannelRow.Decimals : ChannelRow.Counts,
            CalibrationOrigin = calibration?.Origin,
            CalibrationOffset = calibration?.Offset.ToString(CultureInfo.InvariantCulture),
            CalibrationNumerator = calibration?.Numerator.ToString(CultureInfo.InvariantCulture),
            CalibrationDenominator = calibration?.Denominator.ToString(CultureInfo.InvariantCulture),
            EntryMilliseconds = shape.EntryMilliseconds,
            Levels = shape.Levels,
        };
    }

    private static decimal Number(string? text) => decimal.Parse(text ?? "", NumberStyles.Number, CultureInfo.InvariantCulture);

    // Each part with its length in front, so that no two heads read alike.
    private static void Add(StringBuilder text, params object?[] parts)
    {
        foreach (object? part in parts)
        {
            string word = part is null ? "" : Convert.ToString(part, CultureInfo.InvariantCulture)!;
            text.Append(part is null ? "-" : word.Length.ToString(CultureInfo.InvariantCulture)).Append(':').Append(word).Append('\n');
        }
    }
}
