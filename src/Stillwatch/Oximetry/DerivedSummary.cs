using System.Globalization;
using Stillwatch.Oximetry.Calibration;
using Stillwatch.Time;

namespace Stillwatch.Oximetry;

/// <summary>Derived seconds in figures: how many carry numbers, why the others do not, and what the numbers were.</summary>
public sealed record DerivedSummary
{
    /// <summary>So far noise alone carries a ratio over the end of a curve: a finger at 100 % is no reason for doubt. Own choice.</summary>
    public const double RatioSlack = 0.02;

    /// <summary>Seconds that have begun, gaps too.</summary>
    public required int SecondsTotal { get; init; }

    /// <summary>Seconds in the state <see cref="LightState.Valid"/>.</summary>
    public required int SecondsValid { get; init; }

    /// <summary>Share of seconds with numbers, cut to a tenth of a percent: all but one is not 100 %. Zero without a second.</summary>
    public double PercentValid => SecondsTotal == 0 ? 0 : Math.Floor(1000.0 * SecondsValid / SecondsTotal) / 10;

    /// <summary>Seconds of each state that occurs, the commonest first.</summary>
    public required IReadOnlyList<(LightState State, int Seconds)> States { get; init; }

    /// <summary>Seconds with a SpO2 whose ratio lies outside the range in which the curve is meant to hold, by more than <see cref="RatioSlack"/>: its number is the curve's and not the blood's.</summary>
    public required int SecondsBeyondCurve { get; init; }

    /// <summary>Null where no second has one.</summary>
    public required Spread? PulseRate { get; init; }

    public required Spread? SpO2 { get; init; }

    /// <summary>What SpO2 was read from.</summary>
    public required Spread? Ratio { get; init; }

    public required Spread? Perfusion { get; init; }

    /// <summary>Over the windows that were not refused.</summary>
    public required Spread? RespiratoryRate { get; init; }

    /// <summary>Of all windows, how many have a respiratory rate.</summary>
    public required int WindowsKept { get; init; }

    public required int Windows { get; init; }

    /// <summary>Least, median (the lower of the two middle ones) and greatest of a number over the seconds that have it.</summary>
    public sealed record Spread(double Least, double Median, double Greatest, int Count)
    {
        /// <summary>NaN is no number and is passed over; null where there is none at all.</summary>
        public static Spread? Of(IEnumerable<double> numbers)
        {
            double[] sorted = [.. numbers.Where(n => !double.IsNaN(n)).Order()];
            return sorted.Length == 0 ? null : new Spread(sorted[0], sorted[(sorted.Length - 1) / 2], sorted[^1], sorted.Length);
        }
    }

    public static DerivedSummary Of(DerivedRecording derived) => new()
    {
        SecondsTotal = derived.Seconds.Count,
        SecondsValid = derived.Seconds.Count(s => s.State == LightState.Valid),
        States = [.. derived.Seconds.GroupBy(s => s.State).Select(g => (g.Key, g.Count())).OrderByDescending(s => s.Item2).ThenBy(s => s.Key)],
        SecondsBeyondCurve = derived.Seconds.Count(s => !double.IsNaN(s.SpO2Percent) && (s.RatioOfRatios < derived.Settings.Curve.LowestRatio - RatioSlack || s.RatioOfRatios > derived.Settings.Curve.HighestRatio + RatioSlack)),
        PulseRate = Spread.Of(derived.Seconds.Select(s => s.PulseRatePerMinute)),
        SpO2 = Spread.Of(derived.Seconds.Select(s => s.SpO2Percent)),
        Ratio = Spread.Of(derived.Seconds.Select(s => s.RatioOfRatios)),
        Perfusion = Spread.Of(derived.Seconds.Select(s => s.PerfusionPercent)),
        RespiratoryRate = Spread.Of(derived.Breathing.Select(b => b.RatePerMinute)),
        WindowsKept = derived.Breathing.Count(b => !double.IsNaN(b.RatePerMinute)),
        Windows = derived.Breathing.Count,
    };

    /// <summary>What is to be said where the curve is asked beyond its range; null: nothing is.</summary>
    /// <param name="curveName">Of the curve.</param>
    public string? BeyondCurveInWords(string curveName) => SecondsBeyondCurve == 0 ? null
        : $"In {SecondsBeyondCurve} of {SpO2!.Count} seconds with SpO2 the ratio lies outside the range in which the curve \"{curveName}\" is meant to hold: do not read these numbers as saturations. The light may be of a sensor for which this curve was not made";

    /// <summary>How far another published curve lies from the line at this light's own ratio, to be said where the line was taken for want of anything better; null: it was not.</summary>
    public string? AssumedCurveInWords(OximetrySettings settings)
    {
        ArgumentNullException.ThrowIfNull(settings);
        if (settings.CurveBecause != DerivedWords.CurveOfNothingElse || Ratio is not { } ratio) return null;
        var theory = CalibrationCurves.Find("beer-lambert-b-660-940")!;
        return string.Create(CultureInfo.InvariantCulture,
            $"Nobody said which curve this light goes with. At its median ratio of {ratio.Median:0.00} the curve \"{settings.Curve.Name}\" reads {settings.Curve.SaturationPercent(ratio.Median):0.0} %, the theory of Beer and Lambert for lamps of 660 and 940 nm {theory.SaturationPercent(ratio.Median):0.0} %; at a ratio of 1 it is {settings.Curve.SaturationPercent(1):0} and {theory.SaturationPercent(1):0} %. Take the course from these numbers, not the level; --curve names another");
    }

    /// <summary>Maximal stretches of one state, in order of time, on the recording's own time line.</summary>
    public static IReadOnlyList<(TimeSlice Span, LightState State)> Stretches(DerivedRecording derived)
    {
        var stretches = new List<(TimeSlice Span, LightState State)>();
        for (int i = 0; i < derived.Seconds.Count;)
        {
            int first = i;
            while (i < derived.Seconds.Count && derived.Seconds[i].State == derived.Seconds[first].State) i++;
            stretches.Add((new TimeSlice(derived.Start + new Duration(first * 1000L), derived.Start + new Duration(i * 1000L)), derived.Seconds[first].State));
        }

        return stretches;
    }
}
