using System.Globalization;
using System.Text.Json;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Formats.Json;

/// <summary>Reads the fields that <see cref="RecordingHeaderWriter"/> wrote, in any order, each strictly.</summary>
internal sealed class RecordingHeaderReader(JsonPull json)
{
    private readonly List<ChannelHeader> channels = [];
    private List<Annotation>? annotations;
    private RecordingStart? start;
    private SourceAveraging? averaging;
    private bool hasChannels;

    /// <summary>Called with the name of a field of a channel that is none of the header's: its times or values. The kind is null where it was not told before.</summary>
    public Func<string, ChannelKind?, bool> MoreOfChannel { get; init; } = (_, _) => false;

    /// <summary>Called when a channel is read whole.</summary>
    public Action<ChannelHeader> ChannelDone { get; init; } = _ => { };

    /// <summary>Reads a field of the recording; false where it is none of the header's.</summary>
    public bool Field(string name)
    {
        switch (name)
        {
            case "start":
                start = ReadStart();
                return true;
            case "sourceAveragingMilliseconds":
                averaging = json.Token == JsonTokenType.Null ? SourceAveraging.Unknown : new SourceAveraging(new Duration(json.Whole(name, 0, RecordingFields.MostMilliseconds)));
                return true;
            case "channels":
                hasChannels = true;
                json.List("channels", () => channels.Add(ReadChannel()));
                return true;
            case "annotations":
                annotations = [];
                json.List("annotations", () => annotations.Add(ReadAnnotation()));
                return true;
            default:
                return false;
        }
    }

    /// <exception cref="UnreadableFileException">A field is missing.</exception>
    public RecordingHeader Build()
    {
        if (start is null) throw Missing("start");
        if (averaging is null) throw Missing("sourceAveragingMilliseconds");
        if (!hasChannels) throw Missing("channels");
        return new RecordingHeader(start, averaging, channels, annotations ?? throw Missing("annotations"));
    }

    private UnreadableFileException Missing(string field) => json.Wrong($"no field \"{field}\"", $"\"{field}\"", "the file was cut off, or changed by hand");

    private RecordingStart ReadStart()
    {
        string? kind = null, time = null;
        json.Object("start", field =>
        {
            if (field == "kind") kind = json.String(field);
            else if (field == "time") time = json.String(field);
            else return false;
            return true;
        });
        var culture = CultureInfo.InvariantCulture;
        switch (kind)
        {
            case "unknown" when time is null:
                return new RecordingStart.Unknown();
            case "timeOfDay" when TimeOnly.TryParseExact(time, RecordingFields.TimeForm, culture, DateTimeStyles.None, out var ofDay):
                return new RecordingStart.TimeOfDay(ofDay);
            case "local" when DateTime.TryParseExact(time, RecordingFields.DateTimeForm, culture, DateTimeStyles.None, out var local):
                return new RecordingStart.Local(local);
            case "zoned" when DateTimeOffset.TryParseExact(time, RecordingFields.DateTimeForm + "zzz", culture, DateTimeStyles.None, out var zoned):
                return new RecordingStart.Zoned(zoned);
            default:
                throw json.Wrong($"a start of kind {IssueLog.Show(kind ?? "")} at {IssueLog.Show(time ?? "")}", "unknown; timeOfDay, local or zoned with its ISO 8601 time", "the file was changed by hand");
        }
    }

    private ChannelHeader ReadChannel()
    {
        string? label = null, unit = null;
        ChannelKind? kind = null;
        Calibration? calibration = null;
        AxisHeader? axis = null;
        json.Object("a channel", field =>
        {
            switch (field)
            {
                case "label":
                    label = json.String(field);
                    return true;
                case "unit":
                    unit = json.String(field);
                    return true;
                case "kind":
                    kind = RecordingFields.Kinds.TryGetValue(json.String(field), out var known)
                        ? known
                        : throw json.Wrong(IssueLog.Show(json.Text), "one of " + string.Join(", ", RecordingFields.Kinds.Keys), "another version wrote the file");
                    return true;
                case "calibration":
                    calibration = ReadCalibration();
                    return true;
                case "axis":
                    axis = ReadAxis();
                    return true;
                default:
                    return MoreOfChannel(field, kind);
            }
        });
        var channel = new ChannelHeader(label ?? throw Missing("label"), kind ?? throw Missing("kind"), unit ?? throw Missing("unit"), calibration, axis ?? throw Missing("axis"));
        if (channel.Calibration is not null && !channel.Kind.MayBeCounts())
            throw json.Wrong($"counts for {RecordingFields.Name(channel.Kind)}", "values in the unit", "the file was changed by hand");
        ChannelDone(channel);
        return channel;
    }

    private Calibration ReadCalibration()
    {
        long? origin = null;
        decimal? offset = null, numerator = null, denominator = null;
        json.Object("calibration", field =>
        {
            if (field == "origin") origin = json.Whole(field, long.MinValue, long.MaxValue);
            else if (field == "offset") offset = json.DecimalString(field);
            else if (field == "numerator") numerator = json.DecimalString(field);
            else if (field == "denominator") denominator = json.DecimalString(field);
            else return false;
            return true;
        });
        if (numerator is null or 0 || denominator is null or <= 0)
            throw json.Wrong($"numerator {numerator}, denominator {denominator}", "a numerator that is not 0 and a denominator above 0", "the file was changed by hand");
        return new Calibration(origin ?? throw Missing("origin"), offset ?? throw Missing("offset"), numerator.Value, denominator.Value);
    }

    private AxisHeader ReadAxis()
    {
        long? count = null, first = null, samples = null, milliseconds = null, asChannel = null, period = null;
        bool? declared = null;
        bool hasPeriod = false;
        json.Object("axis", field =>
        {
            switch (field)
            {
                case "count":
                    count = json.Whole(field, 0, int.MaxValue);
                    return true;
                case "firstMilliseconds":
                    first = json.Whole(field, -RecordingFields.MostMilliseconds, RecordingFields.MostMilliseconds);
                    return true;
                case "samples":
                    samples = json.Whole(field, 1, 1_000_000_000_000_000);
                    return true;
                case "milliseconds":
                    milliseconds = json.Whole(field, 1, 1_000_000_000_000_000);
                    return true;
                case "periodDeclared":
                    declared = json.Boolean(field);
                    return true;
                case "asChannel":
                    asChannel = json.Whole(field, 0, int.MaxValue);
                    return true;
                case "periodMilliseconds":
                    hasPeriod = true;
                    period = json.Token == JsonTokenType.Null ? null : json.Whole(field, 1, RecordingFields.MostMilliseconds);
                    return true;
                default:
                    return false;
            }
        });
        int rows = (int)(count ?? throw Missing("count"));
        if (asChannel is { } earlier && first is null && !hasPeriod)
        {
            return earlier < channels.Count && channels[(int)earlier].Axis.Count == rows && channels[(int)earlier].Axis is not AxisHeader.Same
                ? new AxisHeader.Same((int)earlier, rows)
                : throw json.Wrong($"the times of channel {earlier}", $"an earlier channel of {rows} rows with times of its own", "the file was changed by hand");
        }

        if (hasPeriod && first is null) return new AxisHeader.Uneven(rows, period is { } p ? new Duration(p) : null);
        if (first is not { } at || samples is not { } per || milliseconds is not { } span || declared is not { } isDeclared || hasPeriod || asChannel is not null)
            throw json.Wrong("an axis that is neither even, nor uneven, nor that of another channel", "one of the three", "the file was changed by hand");
        var rate = SampleRate.Of(per, span);
        bool fits = (Int128)rows * rate.Milliseconds / rate.Samples <= RecordingFields.MostMilliseconds;
        if (!fits || (!isDeclared && !rate.IsWholeMilliseconds))
            throw json.Wrong($"{rows} rows of {per} in {span} ms", "an axis that ends within a hundred thousand years, declared where its step is no whole number of milliseconds", "the file was changed by hand");
        return new AxisHeader.Even(new SampleTime(at), rate, rows, isDeclared);
    }

    private Annotation ReadAnnotation()
    {
        long? at = null, length = null;
        string? text = null;
        AnnotationOrigin? origin = null;
        json.Object("an annotation", field =>
        {
            switch (field)
            {
                case "milliseconds":
                    at = json.Whole(field, -RecordingFields.MostMilliseconds, RecordingFields.MostMilliseconds);
                    return true;
                case "lengthMilliseconds":
                    length = json.Whole(field, 0, RecordingFields.MostMilliseconds);
                    return true;
                case "text":
                    text = json.String(field);
                    return true;
                case "origin":
                    origin = RecordingFields.Origins.TryGetValue(json.String(field), out var known)
                        ? known
                        : throw json.Wrong(IssueLog.Show(json.Text), "one of " + string.Join(", ", RecordingFields.Origins.Keys), "another version wrote the file");
                    return true;
                default:
                    return false;
            }
        });
        return new Annotation(
            new SampleTime(at ?? throw Missing("milliseconds")), new Duration(length ?? throw Missing("lengthMilliseconds")),
            text ?? throw Missing("text"), origin ?? throw Missing("origin"));
    }
}
