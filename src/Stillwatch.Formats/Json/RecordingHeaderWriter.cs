using System.Globalization;
using System.Text.Json;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Formats.Json;

/// <summary>Writes what a recording says besides its times and values, field by field into an open object.</summary>
internal static class RecordingHeaderWriter
{
    /// <param name="json">Inside an object.</param>
    /// <param name="recording">The recording.</param>
    /// <param name="more">Writes further fields of a channel (its times and values).</param>
    public static void Write(Utf8JsonWriter json, Recording recording, Action<int, AxisHeader>? more = null)
    {
        Start(json, recording.Start);
        if (recording.SourceAveraging.Window is { } window) json.WriteNumber("sourceAveragingMilliseconds", window.Milliseconds);
        else json.WriteNull("sourceAveragingMilliseconds");
        json.WriteStartArray("channels");
        var axes = AxisHeader.Of(recording.Channels);
        for (int c = 0; c < axes.Count; c++)
        {
            json.WriteStartObject();
            Channel(json, recording.Channels[c], axes[c]);
            more?.Invoke(c, axes[c]);
            json.WriteEndObject();
        }

        json.WriteEndArray();
        json.WriteStartArray("annotations");
        foreach (var note in recording.Annotations)
        {
            json.WriteStartObject();
            json.WriteNumber("milliseconds", note.Time.Milliseconds);
            json.WriteNumber("lengthMilliseconds", note.Length.Milliseconds);
            json.WriteString("text", note.Text);
            json.WriteString("origin", RecordingFields.Name(note.Origin));
            json.WriteEndObject();
            if (json.BytesPending > 1 << 16) json.Flush();
        }

        json.WriteEndArray();
    }

    private static void Start(Utf8JsonWriter json, RecordingStart start)
    {
        var culture = CultureInfo.InvariantCulture;
        json.WriteStartObject("start");
        switch (start)
        {
            case RecordingStart.TimeOfDay ofDay:
                json.WriteString("kind", "timeOfDay");
                json.WriteString("time", ofDay.Time.ToString(RecordingFields.TimeForm, culture));
                break;
            case RecordingStart.Local local:
                json.WriteString("kind", "local");
                json.WriteString("time", local.DateTime.ToString(RecordingFields.DateTimeForm, culture));
                break;
            case RecordingStart.Zoned zoned:
                json.WriteString("kind", "zoned");
                json.WriteString("time", zoned.DateTime.ToString(RecordingFields.DateTimeForm + "zzz", culture));
                break;
            default:
                json.WriteString("kind", "unknown");
                break;
        }

        json.WriteEndObject();
    }

    private static void Channel(Utf8JsonWriter json, Channel channel, AxisHeader axis)
    {
        json.WriteString("label", channel.Label);
        json.WriteString("kind", RecordingFields.Name(channel.Kind));
        json.WriteString("unit", channel.Unit);
        if (channel.Counts is { } counts)
        {
            var culture = CultureInfo.InvariantCulture;
            json.WriteStartObject("calibration");
            json.WriteNumber("origin", counts.Calibration.Origin);
            json.WriteString("offset", counts.Calibration.Offset.ToString(culture));
            json.WriteString("numerator", counts.Calibration.Numerator.ToString(culture));
            json.WriteString("denominator", counts.Calibration.Denominator.ToString(culture));
            json.WriteEndObject();
        }

        json.WriteStartObject("axis");
        json.WriteNumber("count", axis.Count);
        switch (axis)
        {
            case AxisHeader.Even even:
                json.WriteNumber("firstMilliseconds", even.First.Milliseconds);
                json.WriteNumber("samples", even.Rate.Samples);
                json.WriteNumber("milliseconds", even.Rate.Milliseconds);
                json.WriteBoolean("periodDeclared", even.IsDeclared);
                break;
            case AxisHeader.Same same:
                json.WriteNumber("asChannel", same.Channel);
                break;
            case AxisHeader.Uneven { DeclaredPeriod: { } period }:
                json.WriteNumber("periodMilliseconds", period.Milliseconds);
                break;
            default:
                json.WriteNull("periodMilliseconds");
                break;
        }

        json.WriteEndObject();
    }
}
