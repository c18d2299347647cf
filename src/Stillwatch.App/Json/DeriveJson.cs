using System.Text.Json;
using Stillwatch.App.Commands;
using Stillwatch.App.Jobs;
using Stillwatch.Oximetry;

namespace Stillwatch.App.Json;

/// <summary><c>derive --json</c>, and what the manifest of derived numbers says of how they were made. A refused number is null, never 0.</summary>
internal static class DeriveJson
{
    public static void Write(Utf8JsonWriter json, DeriveModel model)
    {
        var derived = model.Derived;
        json.Source(model.Loaded);
        json.WriteBoolean("invented", model.Loaded.IsInvented);
        HowItWasMade(json, model);
        json.Seconds("startSeconds", derived.Start);
        json.WriteNumber("secondsTotal", model.Summary.SecondsTotal);
        json.WriteNumber("secondsValid", model.Summary.SecondsValid);
        json.WriteNumber("secondsBeyondCurve", model.Summary.SecondsBeyondCurve);
        json.Object("secondsByState", () =>
        {
            foreach (var (state, seconds) in model.Summary.States) json.WriteNumber(Shapes.Name(state), seconds);
        });
        json.List("beats", derived.Beats, b => json.NumberValue(b.UpstrokeSeconds));
        json.List("beatQuality", derived.Beats, b => json.NumberValue(b.Quality));
        json.Object("perSecond", () =>
        {
            json.List("pulseRate", derived.Seconds, s => json.NumberValue(s.PulseRatePerMinute));
            json.List("spo2", derived.Seconds, s => json.NumberValue(s.SpO2Percent));
            json.List("ratio", derived.Seconds, s => json.NumberValue(s.RatioOfRatios));
            json.List("perfusion", derived.Seconds, s => json.NumberValue(s.PerfusionPercent));
            json.List("quality", derived.Seconds, s => json.NumberValue(s.Quality));
            json.List("state", derived.Seconds, s => json.WriteStringValue(Shapes.Name(s.State)));
        });
        json.Object("respiratoryRate", () =>
        {
            json.Seconds("windowSeconds", derived.Settings.BreathingWindow);
            json.List("values", derived.Breathing, b => json.NumberValue(b.RatePerMinute));
            json.List("fromIntensity", derived.Breathing, b => json.NumberValue(b.FromIntensity));
            json.List("fromAmplitude", derived.Breathing, b => json.NumberValue(b.FromAmplitude));
            json.List("fromFrequency", derived.Breathing, b => json.NumberValue(b.FromFrequency));
        });
        json.WritePropertyName("output");
        if (model.Output is not { } output) json.WriteNullValue();
        else Output(json, output);
        json.Texts("cautions", DeriveModel.Cautions.Append(Lesson.Caution));
        json.Issues(model.Loaded.Issues);
    }

    /// <summary>Channels, curve, averaging, detector: what another person needs to make the same numbers again.</summary>
    public static void HowItWasMade(Utf8JsonWriter json, DeriveModel model)
    {
        var (plan, settings) = (model.Derived.Plan, model.Derived.Settings);
        json.List("channels", Channels(plan), c => json.Object(() =>
        {
            json.WriteString("label", c.Label);
            json.WriteString("usedAs", c.UsedAs);
        }));
        json.List("candidates", plan.Candidates, c => json.Object(() =>
        {
            json.WriteString("label", c.Label);
            json.Number("quality", c.MeanQuality);
            json.WriteBoolean("chosen", c.Chosen);
            json.WriteString("because", c.Reason);
        }));
        json.WriteString("noSaturationBecause", plan.RedLabel is not null ? null : plan.NoSaturationBecause ?? "there is one light only");
        json.WriteBoolean("fallsWithBlood", plan.FallsWithBlood);
        json.WriteBoolean("zeroIsDark", plan.IsLight);
        json.Number("rateHz", plan.Rate.Hertz);
        json.WritePropertyName("resampling");
        if (plan.Resampling is not { } resampling) json.WriteNullValue();
        else
        {
            json.WriteStartObject();
            json.Number("rateHz", resampling.RateHz);
            json.Number("greatestStepSeconds", resampling.GreatestStepSeconds);
            json.Number("relativeError", resampling.RelativeError);
            json.WriteNumber("joinedRows", resampling.JoinedRows);
            json.Number("countedRateHz", resampling.CountedHz ?? double.NaN);
            json.WriteString("doubt", resampling.CoarseTimesInWords);
            json.WriteEndObject();
        }

        json.WritePropertyName("curve");
        if (plan.RedLabel is null) json.WriteNullValue();
        else Curve(json, settings, model.CurveFile);
        json.Seconds("averagingSeconds", settings.Averaging);
        json.WriteString("detector", DeriveOptions.NameOf(settings.Beats));
        json.WriteString("software", ExportFiles.Software);
        json.Object("definitions", () =>
        {
            json.WriteString("beats", DerivedWords.Beats);
            json.WriteString("perSecond", DerivedWords.PerSecond);
            json.WriteString("perfusion", DerivedWords.Perfusion);
            json.WriteString("quality", DerivedWords.Quality);
            json.WriteString("respiratoryRate", DerivedWords.Breathing);
            json.Object("state", () =>
            {
                foreach (var state in LightStates.All) json.WriteString(Shapes.Name(state), $"{(int)state}: {state.Meaning()}");
            });
        });
    }

    private static IEnumerable<(string Label, string UsedAs)> Channels(OpticalPlan plan)
    {
        yield return (plan.PulseLabel, plan.RedLabel is not null ? "infraredLight" : plan.IsLight ? "light" : "pleth");
        if (plan.RedLabel is { } red) yield return (red, "redLight");
    }

    private static void Curve(Utf8JsonWriter json, OximetrySettings settings, Files.InputFile? file)
    {
        var curve = settings.Curve;
        json.WriteStartObject();
        json.WriteString("name", curve.Name);
        json.WriteString("source", curve.Source);
        json.WriteString("range", curve.Range);
        json.WriteString("because", settings.CurveBecause);
        if (file is not null)
        {
            json.WriteString("file", file.Name);
            json.WriteString("sha256", file.Sha256);
        }

        json.WriteEndObject();
    }

    private static void Output(Utf8JsonWriter json, DeriveOutput output)
    {
        json.WriteStartObject();
        json.WriteString("file", output.To);
        json.WriteString("manifest", output.ManifestPath);
        json.WriteString("sha256", output.File.Sha256);
        json.WriteNumber("bytes", output.File.Bytes);
        json.WriteString("fileFormat", output.Format);
        json.List("notHeld", output.Issues, i => json.Object(() => Shapes.Issue(json, i)));
        json.WriteEndObject();
    }
}
