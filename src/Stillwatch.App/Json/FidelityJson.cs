using System.Text.Json;
using Stillwatch.App.Jobs;
using Stillwatch.Replay.Fidelity;

namespace Stillwatch.App.Json;

/// <summary><c>fidelity</c> of <c>review --json</c> and <c>tune --json</c>: a replay beside what the monitor itself signalled.</summary>
internal static class FidelityJson
{
    public static void Write(Utf8JsonWriter json, TuneFidelity? fidelity)
    {
        if (fidelity is null)
        {
            json.WriteNull("fidelity");
            return;
        }

        json.Object("fidelity", () =>
        {
            Figure(json, "physiological", fidelity.Physiological);
            Figure(json, "technical", fidelity.Technical);
            json.List("recordings", fidelity.Recordings, r => json.Object(() =>
            {
                json.WriteString("file", r.Loaded.File.Name);
                Write(json, r.Fidelity);
            }));
        });
    }

    public static void Write(Utf8JsonWriter json, FidelityModel model)
    {
        var result = model.Result;
        json.WriteString("log", result.LogName);
        json.WriteString("logFrom", model.Origin switch { LogOrigin.Given => "option", LogOrigin.Ward => "ward", _ => "notes" });
        json.Seconds("toleranceSeconds", result.Options.Tolerance);
        json.Seconds("offsetSeconds", result.Options.Offset);
        json.Seconds("startSeconds", result.Span.Start);
        json.Seconds("endSeconds", result.Span.End);
        json.WriteBoolean("spanAssumed", result.IsSpanAssumed);
        json.WriteString("notComparedBecause", result.WhyNot);
        Figure(json, "physiological", result.Physiological);
        Figure(json, "technical", result.Technical);
        Lines(json, result.Lines);
        json.List("conditions", result.Conditions, c => json.Object(() =>
        {
            json.WriteString("condition", Shapes.Name(c.Condition));
            Figure(json, c.Figure);
        }));
        json.List("pairs", result.Matched, m => json.Object(() =>
        {
            json.WriteString("condition", Shapes.Name(m.Replayed.Condition));
            json.Seconds("loggedSeconds", m.Logged.Start);
            json.Seconds("replayedSeconds", m.Replayed.Start);
        }));
        json.List("missingSignals", result.Missing, m => json.Object(() =>
        {
            json.WriteString("condition", Shapes.Name(m.Signal.Condition!.Value));
            json.WriteString("text", m.Signal.Text);
            json.Seconds("startSeconds", m.Signal.Start);
            Reasons(json, m.Because);
        }));
        json.List("extraSignals", result.Extra, e => json.Object(() =>
        {
            json.WriteString("condition", Shapes.Name(e.Signal.Condition));
            json.Seconds("startSeconds", e.Signal.Start);
            json.Seconds("endSeconds", e.Signal.End);
            Reasons(json, e.Because);
        }));
        json.List("notComparable", result.NotComparable, n => json.Object(() =>
        {
            json.WriteString("condition", Shapes.Name(n.Condition));
            json.WriteNumber("count", n.Count);
            json.WriteString("because", n.Because);
        }));
        json.List("notUnderstood", result.NotUnderstood, t => json.Object(() =>
        {
            json.WriteString("text", t.Text);
            json.WriteNumber("count", t.Count);
            json.Seconds("startSeconds", t.First);
        }));
        json.WriteNumber("outsideSpan", result.Outside);
        Clock(json, result.Clock);
        json.List("betterChanges", result.BetterChanges, c => json.Object(() =>
        {
            json.WriteString("condition", Shapes.Name(c.Condition));
            json.WriteString("setting", Shapes.Name(c.Change.Kind));
            json.WriteString("words", c.Change.ToString());
            Figure(json, "physiological", c.Physiological);
        }));
        json.Issues(model.Issues);
    }

    private static void Figure(Utf8JsonWriter json, string name, FidelityFigure? figure)
    {
        if (figure is null) json.WriteNull(name);
        else json.Object(name, () => Figure(json, figure));
    }

    private static void Figure(Utf8JsonWriter json, FidelityFigure figure)
    {
        json.WriteNumber("logged", figure.Logged);
        json.WriteNumber("replayed", figure.Replayed);
        json.WriteNumber("matched", figure.Matched);
        json.WriteNumber("missing", figure.Missing);
        json.WriteNumber("extra", figure.Extra);
        json.Number("shareOfLogged", figure.OfLogged?.Share);
        json.List("shareOfLoggedInterval", Interval(figure.OfLogged), end => json.NumberValue(end));
        json.Number("shareOfReplayed", figure.OfReplayed?.Share);
        json.List("shareOfReplayedInterval", Interval(figure.OfReplayed), end => json.NumberValue(end));
        json.Seconds("medianDifferenceSeconds", figure.MedianDifference);
        json.Seconds("worstDifferenceSeconds", figure.WorstDifference);
    }

    private static double[]? Interval(ShareEstimate? share) => share is { } s ? [s.Low, s.High] : null;

    private static void Reasons(Utf8JsonWriter json, IReadOnlyList<LikelyReason> reasons) => json.List("reasons", reasons, r => json.Object(() =>
    {
        json.WriteString("reason", Shapes.Name(r.Kind));
        json.WriteString("words", r.Words);
    }));

    private static void Lines(Utf8JsonWriter json, LogLines? lines)
    {
        if (lines is null)
        {
            json.WriteNull("withoutFarSignals");
            return;
        }

        json.Object("withoutFarSignals", () =>
        {
            json.Seconds("firstLineSeconds", lines.First);
            json.Seconds("lastLineSeconds", lines.Last);
            json.WriteNumber("extraBeforeFirstLine", lines.Before);
            json.WriteNumber("extraAfterLastLine", lines.After);
            Figure(json, "physiological", lines.Physiological);
            Figure(json, "technical", lines.Technical);
        });
    }

    private static void Clock(Utf8JsonWriter json, ClockDifference? clock)
    {
        if (clock is null)
        {
            json.WriteNull("clockDifference");
            return;
        }

        json.Object("clockDifference", () =>
        {
            json.Seconds("offsetSeconds", clock.Offset);
            json.WriteNumber("matched", clock.Matched);
            json.WriteNumber("matchedWithout", clock.MatchedWithout);
        });
    }
}
