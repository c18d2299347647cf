using System.Text.Json;
using Stillwatch.Alarms;
using Stillwatch.App.Commands;
using Stillwatch.App.Files;
using Stillwatch.App.Jobs;
using Stillwatch.Quantities;
using Stillwatch.Replay;
using Stillwatch.Signals;
using Stillwatch.Time;
using Stillwatch.Tuning.MustCatch;

namespace Stillwatch.App.Json;

/// <summary>Shapes that several documents share.</summary>
internal static class Shapes
{
    public static string Name(ChannelKind kind) => CamelCase(kind switch { ChannelKind.SpO2 => "Spo2", _ => kind.ToString() });

    public static string Name<TEnum>(TEnum value)
        where TEnum : struct, Enum => CamelCase(value.ToString().Replace("SpO2", "Spo2", StringComparison.Ordinal));

    public static void Issues(this Utf8JsonWriter json, IEnumerable<ReadIssue> issues) => json.List("issues", issues, i => json.Object(() => Issue(json, i)));

    public static void Issue(Utf8JsonWriter json, ReadIssue i)
    {
        json.WriteString("severity", Name(i.Severity));
        json.WriteString("code", i.Code);
        json.WriteString("place", i.Place);
        json.WriteString("found", i.Found);
        json.WriteString("expected", i.Expected);
        json.WriteString("assumed", i.Assumed);
        json.WriteNumber("count", i.Count);
    }

    /// <summary>The file, whose it is and what must match before two are pooled.</summary>
    public static void Source(this Utf8JsonWriter json, LoadedRecording loaded)
    {
        json.WriteString("file", loaded.File.Name);
        json.WriteString("sha256", loaded.File.Sha256);
        if (loaded.File.Parts.Count > 0)
        {
            json.List("filesBeside", loaded.File.Parts, part => json.Object(() =>
            {
                json.WriteString("file", part.Name);
                json.WriteString("sha256", part.Sha256);
            }));
        }

        json.WriteString("patient", loaded.Patient);
        json.Category(loaded.Category);
        json.WriteString("oxygen", WardManifest.NameOf(loaded.Oxygen));
        json.Seconds("sourceAveragingSeconds", loaded.Recording.SourceAveraging.Window);
    }

    public static void Category(this Utf8JsonWriter json, CategoryChoice category)
    {
        json.WriteString("category", category.Name);
        json.WriteBoolean("categoryAssumed", category.IsAssumed);
    }

    public static void Definition(this Utf8JsonWriter json, string name, MustCatchDefinition definition) => json.Object(name, () =>
    {
        json.WriteString("name", definition.Name);
        json.WriteString("source", definition.Source);
        json.List("lines", definition.Lines, line => json.Object(() =>
        {
            json.Number("level", (double)line.Level.Value);
            json.WriteString("comparison", line.Inclusive ? "atOrBelow" : "below");
            json.Seconds("forSeconds", line.AtLeast);
        }));
    });

    /// <summary>A settings set in the words of docs/files.md, so that it can be given back with --settings.</summary>
    public static void SettingsBody(this Utf8JsonWriter json, AlarmSettings settings)
    {
        json.Limit("spo2Low", settings.SpO2Low);
        json.Backstop(settings.Backstop);
        json.Limit("spo2High", settings.SpO2High);
        json.Limit("pulseRateLow", settings.PulseRateLow);
        json.Limit("pulseRateHigh", settings.PulseRateHigh);
        json.Seconds("averagingSeconds", settings.SpO2Conditioning.Averaging);
        json.Seconds("pulseAveragingSeconds", settings.PulseConditioning.Averaging);
        json.Seconds("gapToleranceSeconds", settings.SpO2Conditioning.GapTolerance);
        json.WriteString("validity", Name(settings.SpO2Conditioning.Validity));
        json.WriteString("rounding", Name(settings.SpO2Conditioning.Rounding));
    }

    public static void Limit<TQuantity>(this Utf8JsonWriter json, string name, LimitSettings<TQuantity>? limit)
        where TQuantity : struct, IQuantity<TQuantity>
    {
        if (limit is null)
        {
            json.WriteNull(name);
            return;
        }

        json.Object(name, () =>
        {
            json.Number("limit", limit.Limit.Micro / (double)FixedPoint.One);
            json.Seconds("delaySeconds", limit.Delay);
            json.Number("areaThreshold", (double)limit.AreaThreshold.Value);
            json.Number("clearMargin", limit.ClearMargin.Micro / (double)FixedPoint.One);
        });
    }

    public static void Backstop(this Utf8JsonWriter json, BackstopSettings? backstop)
    {
        if (backstop is null)
        {
            json.WriteNull("backstop");
            return;
        }

        json.Object("backstop", () =>
        {
            json.Number("limit", (double)backstop.Limit.Value);
            json.Seconds("delaySeconds", backstop.Delay);
        });
    }

    public static void Signals(this Utf8JsonWriter json, string name, IEnumerable<ReplayedSignal> signals) => json.List(name, signals, s => json.Object(() =>
    {
        json.WriteString("condition", Name(s.Condition));
        json.WriteBoolean("physiological", s.Condition.IsPhysiological());
        json.Seconds("startSeconds", s.Start);
        json.Seconds("endSeconds", s.End);
        json.Seconds("activeSeconds", s.Active);
        json.WriteString("ending", Name(s.Ending));
        json.WriteString("priority", Name(s.HighestPriority));
    }));

    /// <summary>Onset, end, nadir and parts of a must-catch event; further fields by <paramref name="more"/>.</summary>
    public static void Event(this Utf8JsonWriter json, MustCatchEvent e, Action more) => json.Object(() =>
    {
        json.Seconds("onset", e.Onset);
        json.Seconds("end", e.End);
        json.Number("nadir", (double)e.Nadir.Value);
        json.List("parts", e.Parts, p => json.Object(() =>
        {
            json.Seconds("onset", p.Onset);
            json.Seconds("end", p.End);
            json.Seconds("withinSeconds", p.Within);
            json.WriteString("because", p.Because);
        }));
        more();
    });

    public static void Unreadable(this Utf8JsonWriter json, IReadOnlyList<UnreadableFile> files) => json.List("unreadable", files, f => json.Object(() =>
    {
        json.WriteString("file", f.Path);
        Trouble trouble = f.Trouble;
        json.WriteString("found", trouble.Found);
        json.WriteString("expected", trouble.Expected);
        json.WriteString("where", trouble.Where);
        json.WriteString("likelyCause", trouble.LikelyCause);
    }));

    private static string CamelCase(string name) => char.ToLowerInvariant(name[0]) + name[1..];
}
