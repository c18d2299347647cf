using Stillwatch.Accuracy.Page;
using Stillwatch.Accuracy.Rehearsals;
using Stillwatch.Oximetry.Calibration;
using Stillwatch.Rehearsal.Sensor;

namespace Stillwatch.Accuracy.Rows;

/// <summary>Rehearsed light, whose truth is known: each row with both tables of blood in the light and both in the curve.</summary>
internal static class RehearsalRows
{
    private const string Origin = "invented; blood of OMLC tables A and B";
    private const string Source = "invented light (seeds from 9000 on) with blood of either published extinction table: A, compiled by S. Prahl (OMLC) from data of Gratzer and of Kollias; "
        + "B, OMLC page of Moaveni's and Schmitt's data; 660 and 940 nm, theory of Beer and Lambert in both simulator and curve, from tables that neither shares with the other";

    private const string TrustedAnew = "When light that differs from what was trusted is trusted again, what is called flicker, and how a lean of the pulse weighs, were changed after this row had been seen; on light of other seeds.";

    private static readonly (string Letter, BloodTable Blood)[] Bloods = [("A", BloodTable.GratzerKollias), ("B", BloodTable.Moaveni)];

    private static readonly (string Letter, CalibrationCurve Curve)[] Curves =
        [("A", new BeerLambertCurve(ExtinctionTable.A, 660, 940)), ("B", new BeerLambertCurve(ExtinctionTable.B, 660, 940))];

    public static IEnumerable<AccuracyRow> Clean() => [Measure(
        new AccuracyRow
        {
            ChangedAfterwards = [TrustedAnew],
            Key = "rehearsal-clean",
            Origin = Origin,
            Data = "rehearsal, clean, PI 1 to 5 %, SpO2 70 to 100 %",
            Source = Source,
            Method = "Perfusion 1, 2, 3.5 and 5 %: level stretches of 2 min at 70, 75 … 100 %, falls and rises of 10 min between 100 and 70 %; pulse rates 52 to 125, three pulse shapes; sensor noise "
                + "0.01 % of the light. Shown SpO2 (averaging 8 s) less the mean truth of the same second, every second that is shown. A light with curve A means blood by table A, read through the curve of table A.",
        },
        Trials.Clean(), 0.01, (name, score, isOwn) =>
        [
            new Figure($"Arms, {name}", score.All.Arms, "%", 2, Reach.AtMost(1.0, "%")),
            new Figure($"bias, {name}", score.All.Bias, "%", 2),
            .. isOwn
                ? (Figure[])[new Figure($"greatest error, {name}", score.All.GreatestError, "%", 2), new Figure($"share of seconds shown, {name}", score.ShownPercent, "%", 1)]
                : [],
        ])];

    public static IEnumerable<AccuracyRow> Weak()
    {
        var row = WeakRow();
        var noisy = Measure(row, Trials.Weak(), 0.03, (name, score, isOwn) => isOwn
            ? [new Figure($"Arms at three times the noise, {name}", score.All.Arms, "%", 2), new Figure($"share shown at three times the noise, {name}", score.ShownPercent, "%", 1)]
            : []);
        return [row with { Figures = [.. row.Figures, .. noisy.Figures] }];
    }

    private static AccuracyRow WeakRow() => Measure(
        new AccuracyRow
        {
            ChangedAfterwards = [TrustedAnew],
            Key = "rehearsal-weak",
            Origin = Origin,
            Data = "rehearsal, PI 0.2 to 0.5 % with sensor noise",
            Source = Source,
            Method = "Perfusion 0.2, 0.3, 0.4 and 0.5 %, each at 70, 78, 85, 90, 94 and 98 % for 5 min; sensor noise of 0.01 % of the light in each sample (one standard deviation): at 0.2 % a "
                + "twentieth of the infrared pulse's height, and a seventh of red's at 98 %. Every second counts towards the share, the first seconds too. Then the same with three times that noise, reported.",
        },
        Trials.Weak(), 0.01, (name, score, isOwn) =>
        [
            new Figure($"Arms, {name}", score.All.Arms, "%", 2, Reach.AtMost(2.0, "%")),
            new Figure($"share of seconds shown, {name}", score.ShownPercent, "%", 1, Reach.AtLeast(90, "%")),
            .. isOwn ? (Figure[])[new Figure($"bias, {name}", score.All.Bias, "%", 2), new Figure($"false low alarms per hour, {name}", score.FalseLowPerHour, "", 2)] : [],
        ]);

    public static IEnumerable<AccuracyRow> Moving() => [Measure(
        new AccuracyRow
        {
            Key = "rehearsal-motion",
            Origin = Origin,
            Data = "rehearsal, motion",
            ChangedAfterwards =
            [
                "The rules by which movement is recognised, and how long it is waited after one, were made stricter after this row had first been seen (2.2 false low alarms an hour); on light of other seeds.",
                TrustedAnew,
            ],
            Source = Source,
            Method = "Half-hours at perfusion 1 and 2.5 % with movements of 8 to 60 s, 10 to 120 s apart, whose light has a standard deviation of 0.33 to 3 times the usual pulse at PI 1 %, half of them "
                + "irregular, half rhythmic at 0.7 to 4 Hz; truth between 93 and 98 %, in a quarter of them falling to 80 % or rising from it. Arms of what is shown as valid. A false low alarm: a signal "
                + "of the product's own engine (low limit 90 %, delay 10 s, backstop below 80 % for 5 s) in a half-hour whose truth never is below 92 %.",
        },
        Trials.Moving(), 0.01, (name, score, isOwn) =>
        [
            new Figure($"Arms of what is shown, {name}", score.All.Arms, "%", 2, Reach.AtMost(3.0, "%")),
            new Figure($"share of seconds shown, {name}", score.ShownPercent, "%", 1),
            new Figure($"false low alarms per hour, {name}", score.FalseLowPerHour, "", 2, Reach.AtMost(1)),
            .. isOwn
                ? (Figure[])
                [
                    new Figure($"Arms of what is shown while it moves, {name}", score.Disturbed.Arms, "%", 2),
                    new Figure($"share of moving seconds shown, {name}", score.DisturbedShownPercent, "%", 1),
                    new Figure($"share of seconds with movement, {name}", 100.0 * score.DisturbedSeconds / score.Seconds, "%", 1),
                ]
                : [],
        ])];

    private static AccuracyRow Measure(AccuracyRow row, IReadOnlyList<Trial> trials, double noisePercent, Func<string, TrialScore, bool, IEnumerable<Figure>> figures)
    {
        var measured = new List<Figure>();
        foreach (var (blood, table) in Bloods)
        {
            // In order, whichever ends first: sums must not depend on the machine's turns.
            var scores = trials.AsParallel().AsOrdered().Select(trial =>
            {
                var light = trial.Light(table, noisePercent);
                return Curves.Select(c => TrialScore.Of(light, c.Curve)).ToArray();
            }).ToList();
            for (int c = 0; c < Curves.Length; c++)
            {
                var sum = new TrialScore();
                foreach (var score in scores) sum.Add(score[c]);
                measured.AddRange(figures($"light {blood}, curve {Curves[c].Letter}", sum, blood == Curves[c].Letter));
            }
        }

        return row with { Figures = measured, Method = $"{row.Method} {trials.Sum(t => t.Patient.Seconds) / 60} min of light for each table of blood." };
    }
}
