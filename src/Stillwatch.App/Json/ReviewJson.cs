using System.Text.Json;
using Stillwatch.App.Jobs;
using Stillwatch.Oxygenation;
using Stillwatch.Time;

namespace Stillwatch.App.Json;

/// <summary><c>review --json</c>.</summary>
internal static class ReviewJson
{
    public static void Write(Utf8JsonWriter json, ReviewModel model)
    {
        var review = model.Review;
        json.Source(model.Loaded);
        json.WriteString("channel", model.Source.Channel.Label);
        json.WriteString("definition", review.Definition);
        json.Seconds("averagingSeconds", model.Conditioning.Averaging);
        json.Number("monitoredHours", review.Monitored.Hours);
        json.Number("validHours", review.Valid.Hours);
        json.Number("coverage", review.Coverage);
        json.Object("exposure", () => Exposure(json, review.Exposure));
        json.List("events", review.Events, e => json.Object(() => Event(json, e)));
        json.List("hours", review.Hours, h => json.Object(() => Hour(json, model, h)));
        json.Texts("notApplicable", review.NotApplicable);
        json.Definition("mustCatchDefinition", model.Definition);
        var answers = model.Replay?.Answers;
        int index = 0;
        json.List("mustCatch", model.MustCatch, e => json.Event(e, () =>
        {
            var answer = answers?[index++];
            if (answer is null) return;
            json.WriteString("verdict", Shapes.Name(answer.Verdict));
            json.Seconds("secondsToSignal", answer.TimeToSignal);
        }));
        if (model.Replay is { } replay)
        {
            json.Object("settings", () =>
            {
                json.WriteString("name", replay.Settings.Name);
                json.SettingsBody(replay.Settings.Settings);
            });
            json.Signals("signals", replay.Signals);
        }

        if (model.Fidelity is { } fidelity) json.Object("fidelity", () => FidelityJson.Write(json, fidelity));

        json.Issues(model.Loaded.Issues);
    }

    private static void Exposure(Utf8JsonWriter json, Exposure exposure)
    {
        json.Object("minutesBelow", () => Below(json, exposure.Below, b => b.Time.Minutes));
        json.Object("percentBelow", () => Below(json, exposure.Below, b => b.PercentOfValid));
        json.Object("minutesPerHourBelow", () => Below(json, exposure.Below, b => b.MinutesPerHour));
        json.Number("mean", exposure.Mean);
        json.Number("median", exposure.Median);
        json.Number("p1", exposure.Percentile1);
        json.Number("p5", exposure.Percentile5);
        json.Number("min", exposure.Minimum);
        json.Number("odi3", exposure.Odi3);
        json.Number("odi4", exposure.Odi4);
        json.Number("areaBelow90PerHour", exposure.AreaBelow90PerHour);
        json.List("histogramMinutes", exposure.Histogram, time => json.NumberValue(time.Minutes));
        if (exposure.Target is not { } target) return;
        json.Object("target", () =>
        {
            json.Number("low", (double)target.Low.Value);
            json.Number("high", (double)target.High.Value);
            json.Number("minutesBelow", target.Below.Minutes);
            json.Number("minutesWithin", target.Within.Minutes);
            json.Number("minutesAbove", target.Above.Minutes);
        });
    }

    private static void Below(Utf8JsonWriter json, IEnumerable<TimeBelow> below, Func<TimeBelow, double> value)
    {
        foreach (var level in below) json.Number(level.Level.Value.ToString("0.###"), value(level));
    }

    private static void Event(Utf8JsonWriter json, DesaturationEvent e)
    {
        json.Seconds("startSeconds", e.Start);
        json.Seconds("endSeconds", e.End);
        json.Seconds("nadirSeconds", e.NadirTime);
        json.Number("nadir", (double)e.Nadir.Value);
        json.Number("baseline", (double)e.Baseline.Value);
        json.Number("depth", (double)e.Depth.Value);
        json.Number("areaPercentSeconds", (double)e.Area.Value);
        json.Seconds("recoverySeconds", e.Recovery);
        json.Number("pulseRateRise", e.PulseRateRise);
        json.WriteBoolean("fallOf4", e.IsFallOf4);
    }

    private static void Hour(Utf8JsonWriter json, ReviewModel model, HourSummary hour)
    {
        json.WriteNumber("number", hour.Number);
        json.WriteString("clock", model.Loaded.Recording.Start.ClockAt(hour.Span.Start));
        json.Seconds("startSeconds", hour.Span.Start);
        json.Seconds("endSeconds", hour.Span.End);
        json.Number("validMinutes", hour.Valid.Minutes);
        json.Object("minutesBelow", () => Below(json, hour.Below, b => b.Time.Minutes));
        json.Number("events", hour.Events);
        json.Number("clusters", hour.Clusters);
        json.Number("median", hour.Median);
        json.Number("changeFromBaseline", hour.ChangeFromBaseline);
        json.WriteString("words", hour.Words);
    }
}
