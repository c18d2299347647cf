using Stillwatch.Accuracy.Beats;
using Stillwatch.Accuracy.Page;
using Stillwatch.Accuracy.Recordings;
using Stillwatch.Oximetry;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Accuracy.Rows;

/// <summary>Eight minutes of one intensive-care patient: pulses against heart beats, breathing against two annotators.</summary>
internal static class IcuRows
{
    private const string Folder = "icu-plethysmogram";
    private const string Data = "icu-plethysmogram record 01";
    private const string Origin = "BIDMC, PhysioNet, doi 10.13026/C2208R";
    private const string Source = "BIDMC PPG and Respiration data set, PhysioNet, doi 10.13026/C2208R; Pimentel et al., IEEE TBME 64:1914 (2017)";
    private const double RateHz = 125;
    private const double ToleranceSeconds = 0.15;
    private const int PulseWindowSeconds = 10;
    private const int BreathingWindowSeconds = 32;

    public static IEnumerable<AccuracyRow> Of(OpenData data)
    {
        AccuracyRow beats = new()
        {
            ChangedAfterwards = OpenRows.RulesChanged,
            Key = "icu-beats",
            Origin = Origin,
            Data = $"{Data}, pulses against heart beats",
            Source = Source + "; heart beats from lead II by this table's own detector (730 by the data set's description, a naive pulse detector: 0.974 and 0.993)",
            Method = "Pulses of the whole recording against R peaks: the median time from R to the next pulse is taken off, then one to one within 150 ms, the nearest pairs "
                + "first. A heart beat whose pulse would fall outside the recording is not counted. Nothing else is left out. Beside it the same over the seconds that the chain shows as valid.",
        };
        AccuracyRow rate = new()
        {
            ChangedAfterwards = OpenRows.RulesChanged,
            Key = "icu-pulse-rate",
            Origin = Origin,
            Data = $"{Data}, pulse rate against the electrocardiogram",
            Source = Source,
            Method = "Windows of 10 s side by side; pulse rate averaged over 10 s, the reading of the window's middle second; against 60 (n − 1) over the time from the first to the last R peak of the window.",
        };
        AccuracyRow breathing = new()
        {
            ChangedAfterwards = OpenRows.RulesChanged,
            Key = "icu-breathing",
            Origin = Origin,
            Data = $"{Data}, respiratory rate against annotators",
            Source = Source + "; two annotators' breaths (bidmc_01_Breaths.csv, sample numbers at 125 a second)",
            Method = "Windows of 32 s side by side; each annotator's rate is 60 (n − 1) over the time from the first to the last breath of the window, and the mean of the two is the reference.",
        };
        if (!data.Holds(Folder)) return OpenRows.NotHere(beats, rate, breathing);

        var recording = data.EvenWaveforms($"{Folder}/bidmc_01_Signals.csv", SampleRate.Of(125, 1000L));
        double[] heart = HeartBeats.Find(OpenData.Values(recording.Channels.Single(c => c.Label.Trim() == "II")), RateHz);
        double endSeconds = recording.Channels[0].Times.Count / RateHz;
        var derived = Derived.Of(recording, Derived.Averaged(PulseWindowSeconds), "PLETH");
        return
        [
            BeatRow(beats, recording, heart, endSeconds),
            RateRow(rate, derived, heart, endSeconds),
            BreathingRow(breathing, derived, data, endSeconds),
        ];
    }

    private static AccuracyRow BeatRow(AccuracyRow row, Recording recording, double[] heart, double endSeconds)
    {
        var figures = new List<Figure>();
        foreach (var method in Enum.GetValues<BeatMethod>())
        {
            var derived = Derived.Of(recording, new OximetrySettings { Beats = method }, "PLETH");
            var matching = BeatMatching.Of(heart, [.. derived.Beats.Select(b => b.UpstrokeSeconds)], ToleranceSeconds, 0, endSeconds);
            bool isDefault = method == BeatMethod.Default;
            string detector = isDefault ? "" : $", detector {method}";
            if (isDefault)
            {
                figures.Add(new Figure("heart beats found in lead II", heart.Length, "", 0));
                figures.Add(new Figure("pulses found", matching.Pulses, "", 0));
                figures.Add(new Figure("median transit", 1000 * matching.TransitSeconds, "ms", 0));
            }

            figures.Add(new Figure("sensitivity" + detector, matching.Sensitivity, "", 4, isDefault ? Reach.AtLeast(0.98) : null));
            figures.Add(new Figure("positive predictive value" + detector, matching.PositivePredictiveValue, "", 4, isDefault ? Reach.AtLeast(0.99) : null));
            if (!isDefault) continue;
            var shown = InValidSeconds(derived, heart, matching.TransitSeconds);
            figures.Add(new Figure("sensitivity, seconds shown as valid alone", shown.Sensitivity, "", 4));
            figures.Add(new Figure("positive predictive value, seconds shown as valid alone", shown.PositivePredictiveValue, "", 4));
        }

        row = row with { Figures = figures };
        return !row.IsMissed ? row : row with
        {
            Remarks =
            [
                "Why the sensitivity is missed: from 91.8 to 103.3 s the pleth lies flat or moves in steps (a disturbed sensor, looked at as a picture), and the heart beats there, 16 or so, have no pulse "
                    + "in it; at 43.2 s an ectopic beat has none either. No detector can find what is not there: 0.98 would take invented pulses. The chain shows no number in that stretch.",
            ],
        };
    }

    private static BeatMatching InValidSeconds(DerivedRecording derived, double[] heart, double transitSeconds)
    {
        var pulses = derived.Beats.Select(b => b.UpstrokeSeconds - transitSeconds).ToList();
        bool IsShown(double beat) => (int)(beat + transitSeconds) is var second && second < derived.Seconds.Count && derived.Seconds[second].State == LightState.Valid;
        var pairs = BeatMatching.Pairs(heart, pulses, ToleranceSeconds);
        var (heartPaired, pulsePaired) = (pairs.Select(p => p.Left).ToHashSet(), pairs.Select(p => p.Right).ToHashSet());
        int hearts = heart.Count(IsShown), found = pulses.Count(IsShown);
        return new BeatMatching(transitSeconds, hearts, found)
        {
            MatchedHeartBeats = heartPaired.Count(i => IsShown(heart[i])),
            MatchedPulses = pulsePaired.Count(i => IsShown(pulses[i])),
        };
    }

    private static AccuracyRow RateRow(AccuracyRow row, DerivedRecording derived, double[] heart, double endSeconds)
    {
        var errors = new WindowErrors();
        for (double from = 0; from + PulseWindowSeconds <= endSeconds; from += PulseWindowSeconds)
            errors.Add(Derived.PulseRateAround(derived, from, PulseWindowSeconds), RateWindows.PerMinute(heart, from, from + PulseWindowSeconds));
        return row with { Figures = [.. OpenRows.RateFigures(errors, Reach.AtMost(1.0, "/min"))] };
    }

    private static AccuracyRow BreathingRow(AccuracyRow row, DerivedRecording derived, OpenData data, double endSeconds)
    {
        var breaths = data.Columns($"{Folder}/bidmc_01_Breaths.csv", 2).Select(c => c.Select(s => s / RateHz).ToArray()).ToArray();
        WindowErrors errors = new(), annotators = new();
        for (double from = 0; from + BreathingWindowSeconds <= endSeconds; from += BreathingWindowSeconds)
        {
            double first = RateWindows.PerMinute(breaths[0], from, from + BreathingWindowSeconds), second = RateWindows.PerMinute(breaths[1], from, from + BreathingWindowSeconds);
            var reading = derived.Breathing.Where(b => Math.Abs(b.StartSeconds - from) < 0.5).Select(b => b.RatePerMinute).DefaultIfEmpty(double.NaN).First();
            errors.Add(reading, (first + second) / 2);
            annotators.Add(first, second);
        }

        return row with
        {
            Remarks = errors.ShareKeptPercent >= 80 ? [] :
            [
                "Why windows are missing: besides the one with the disturbed sensor, windows are refused in which two of the three variations agree with each other and with the annotators while the third "
                    + "does not; the fusion asks for more confidence than that.",
            ],
            Figures =
            [
                new Figure("mean absolute error", errors.MeanAbsolute, "/min", 2, Reach.AtMost(1.5, "/min")),
                new Figure("bias", errors.Bias, "/min", 2),
                new Figure("share of windows kept", errors.ShareKeptPercent, "%", 1, Reach.AtLeast(80, "%")),
                new Figure("windows", errors.Asked, "", 0),
                new Figure("annotators apart from each other", annotators.MeanAbsolute, "/min", 2),
            ],
        };
    }
}
