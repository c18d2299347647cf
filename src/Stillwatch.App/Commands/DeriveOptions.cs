using System.CommandLine;
using System.Globalization;
using Stillwatch.App.Files;
using Stillwatch.Oximetry;
using Stillwatch.Oximetry.Calibration;
using Stillwatch.Time;

namespace Stillwatch.App.Commands;

/// <summary>The options that decide what is made of light.</summary>
internal sealed class DeriveOptions
{
    private const decimal LeastAveraging = 2, MostAveraging = 60;

    private static readonly Dictionary<string, BeatMethod> Detectors = new()
    {
        ["default"] = BeatMethod.Default,
        ["slope-sum"] = BeatMethod.SlopeSum,
        ["peaks-and-troughs"] = BeatMethod.PeaksAndTroughs,
        ["threshold"] = BeatMethod.Threshold,
    };

    private readonly Option<string?> curve = new("--curve")
    {
        HelpName = "NAME|FILE.csv",
        Description = $"How a ratio becomes a saturation: {string.Join(", ", CalibrationCurves.All.Select(c => c.Name))}, or a table of your own (docs/files.md) [{CalibrationCurve.Linear.Name} unless given; for a rehearsal's light the one of its own lamps and blood]",
    };

    private readonly Option<Duration> averaging = new("--averaging")
    {
        HelpName = "S",
        Description = $"Numbers are averaged over S seconds [{LeastAveraging}–{MostAveraging}; {new OximetrySettings().Averaging.Seconds:0} unless given]",
        DefaultValueFactory = _ => new OximetrySettings().Averaging,
        CustomParser = result =>
        {
            string text = result.Tokens.Count > 0 ? result.Tokens[^1].Value : string.Empty;
            if (decimal.TryParse(text, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out decimal seconds) && seconds is >= LeastAveraging and <= MostAveraging && decimal.Truncate(seconds) == seconds)
                return Duration.FromSeconds(seconds);
            result.AddError($"--averaging: found '{text}', expected whole seconds from {LeastAveraging} to {MostAveraging}");
            return default;
        },
    };

    private readonly Option<BeatMethod> detector = new("--detector")
    {
        HelpName = "NAME",
        Description = $"How beats are found: {string.Join(", ", Detectors.Keys)} [default unless given; docs/accuracy.md compares them]",
        DefaultValueFactory = _ => BeatMethod.Default,
        CustomParser = result =>
        {
            string text = result.Tokens.Count > 0 ? result.Tokens[^1].Value : string.Empty;
            if (Detectors.TryGetValue(text, out var method)) return method;
            result.AddError($"--detector: found '{text}', expected {string.Join(" or ", Detectors.Keys)}");
            return default;
        },
    };

    public void AddTo(Command command)
    {
        command.Options.Add(curve);
        command.Options.Add(averaging);
        command.Options.Add(detector);
    }

    /// <summary>The curve's file where it is one; null: a named curve.</summary>
    public string? CurveFile(ParseResult parsed) => parsed.GetValue(curve) is { } name && CalibrationCurves.Find(name) is null ? name : null;

    /// <exception cref="StopException">Exit code 2: no curve of that name; 3: the file of a curve cannot be read, or is none.</exception>
    public OximetrySettings Of(ParseResult parsed) => new()
    {
        Curve = parsed.GetValue(curve) is { } name ? CurveFile(parsed) is { } path ? CurveTableFile.Read(path) : CalibrationCurves.Find(name)! : CalibrationCurve.Linear,
        CurveBecause = parsed.GetValue(curve) is null ? DerivedWords.CurveOfNothingElse : DerivedWords.CurveAskedFor,
        Averaging = parsed.GetValue(averaging),
        Beats = parsed.GetValue(detector),
    };

    public static string NameOf(BeatMethod method) => Detectors.First(d => d.Value == method).Key;
}
