using Stillwatch.Accuracy.Beats;
using Stillwatch.Accuracy.Page;
using Stillwatch.Accuracy.Rehearsals;
using Stillwatch.Oximetry;
using Stillwatch.Rehearsal.Sensor;

namespace Stillwatch.Accuracy.Rows;

/// <summary>The beat detectors on the same rehearsed light; the default is the best of them by this row, and no recording has a say.</summary>
internal static class DetectorRow
{
    private const double ToleranceSeconds = 0.1;
    private const double EdgeSeconds = 2; // the first beats teach a detector, the last have no neighbour

    private static readonly BeatMethod[] Methods = [BeatMethod.Threshold, BeatMethod.SlopeSum, BeatMethod.PeaksAndTroughs];

    public static IEnumerable<AccuracyRow> Of()
    {
        var trials = DetectorTrials.All();
        var scores = trials.AsParallel().AsOrdered().Select(t =>
        {
            var light = t.Trial.Light(BloodTable.GratzerKollias, t.NoisePercent);
            return Methods.Select(m => F1(light, m)).ToArray();
        }).ToList();
        var figures = new List<Figure>();
        string[] kinds = ["rest", "noise", "movement"];
        for (int m = 0; m < Methods.Length; m++)
        {
            var ofMethod = trials.Select((t, i) => (t.Kind, F1: scores[i][m])).ToList();
            // The figure that decides weighs each kind alike, however many trials stand for it.
            figures.Add(new Figure($"F1, {Methods[m]}{(Methods[m] == Default ? ", the default" : "")}", kinds.Average(k => ofMethod.Where(o => o.Kind == k).Average(o => o.F1)), "", 4));
            figures.AddRange(kinds.Select(k => new Figure($"F1 {k}, {Methods[m]}", ofMethod.Where(o => o.Kind == k).Average(o => o.F1), "", 4)));
        }

        double best = figures.Where(f => f.Name.StartsWith("F1, ", StringComparison.Ordinal)).Max(f => f.Value);
        double ours = figures.Single(f => f.Name.EndsWith(", the default", StringComparison.Ordinal)).Value;
        figures.Insert(0, new Figure("the best detector's F1 less the default's", best - ours, "", 4, Reach.AtMost(0.0005)));
        return
        [
            new AccuracyRow
            {
                Key = "detectors",
                Data = "rehearsal, the beat detectors compared",
                Origin = "invented",
                Source = "invented light, seeds from 20 000 on, which no other row and no number inside a detector uses; by this row the default detector is chosen",
                Method = $"{trials.Count} pieces of light of {trials[0].Trial.Patient.Seconds / 60} min: four shapes of pulse; at rest at 30 to 240 beats a minute, with noise at perfusions down to 0.05 %, and with "
                    + "movement for half of the time, irregular and rhythmic. Every beat found, whatever its quality and whatever the state of its second, against every beat of the heart, one to one within 0.1 s, "
                    + "the first and last 2 s aside. F1 = 2 S P / (S + P) with sensitivity S and positive predictive value P, a mean over the pieces of each kind, then over the three kinds.",
                Figures = figures,
            },
        ];
    }

    private static BeatMethod Default => Stillwatch.Oximetry.Beats.BeatDetectors.DefaultMethod;

    private static double F1(RehearsedLight light, BeatMethod method)
    {
        double end = light.Patient.Count - EdgeSeconds;
        var truth = light.BeatSeconds.Where(t => t >= EdgeSeconds && t <= end).ToList();
        var found = Derivation.Of(light.Recording, new OximetrySettings { Beats = method }).Beats.Select(b => b.UpstrokeSeconds)
            .Where(t => t >= EdgeSeconds - ToleranceSeconds && t <= end + ToleranceSeconds).ToList();
        return 2.0 * BeatMatching.Pairs(truth, found, ToleranceSeconds).Count / (truth.Count + found.Count);
    }
}
