using System.Text.Json;
using Stillwatch.App.Jobs;

namespace Stillwatch.App.Json;

/// <summary><c>inspect --json</c>. Statistics are over the numbers present, before validity rules.</summary>
internal static class InspectJson
{
    private const int TextsListed = 100;

    public static void Write(Utf8JsonWriter json, InspectModel model)
    {
        json.List("recordings", model.Recordings, r => json.Object(() => Recording(json, r)));
        json.Unreadable(model.Unreadable);
    }

    private static void Recording(Utf8JsonWriter json, InspectedRecording inspected)
    {
        var recording = inspected.Loaded.Recording;
        json.Source(inspected.Loaded);
        json.WriteString("fileFormat", inspected.Loaded.Format);
        if (recording.Start.IsKnown) json.WriteString("start", Start(recording.Start));
        else json.WriteNull("start");
        json.WriteBoolean("startKnown", recording.Start.IsKnown);
        json.WriteString("startWords", recording.Start.ToString());
        json.Seconds("durationSeconds", inspected.Length);
        json.List("channels", inspected.Channels, c => json.Object(() =>
        {
            json.WriteString("label", c.Channel.Label);
            json.WriteString("kind", Shapes.Name(c.Channel.Kind));
            json.WriteString("unit", c.Channel.Unit);
            json.Number("rateHz", c.RateHz);
            json.WriteBoolean("even", c.Channel.Times.IsEven);
            json.WriteNumber("samples", c.Samples);
            json.WriteNumber("validSamples", c.Present);
            json.Number("min", c.Minimum);
            json.Number("max", c.Maximum);
            json.Number("mean", c.Mean);
        }));
        json.WriteNumber("annotations", recording.Annotations.Count);
        json.List("annotationTexts", inspected.NoteTexts.Take(TextsListed), t => json.Object(() =>
        {
            json.WriteString("text", t.Text);
            json.WriteNumber("count", t.Count);
        }));
        json.Issues(inspected.Loaded.Issues);
    }

    /// <summary>ISO 8601 as far as known: a time of day without a date stays one, a local time carries no zone.</summary>
    private static string Start(Time.RecordingStart start) => start switch
    {
        Time.RecordingStart.TimeOfDay t => t.Time.ToString("HH:mm:ss.FFF"),
        Time.RecordingStart.Local l => l.DateTime.ToString("yyyy-MM-ddTHH:mm:ss.FFF"),
        Time.RecordingStart.Zoned z => z.DateTime.ToString("yyyy-MM-ddTHH:mm:ss.FFFzzz"),
        _ => throw new ArgumentOutOfRangeException(nameof(start), start, "An unknown start has no text."),
    };
}
