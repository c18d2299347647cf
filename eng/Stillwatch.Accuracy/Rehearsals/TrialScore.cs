using Stillwatch.Accuracy.Beats;
using Stillwatch.Alarms;
using Stillwatch.Conditioning;
using Stillwatch.Oximetry;
using Stillwatch.Oximetry.Calibration;
using Stillwatch.Rehearsal.Sensor;
using Stillwatch.Replay;
using Stillwatch.Time;

namespace Stillwatch.Accuracy.Rehearsals;

/// <summary>What the chain showed on rehearsed light, against its truth, summed over trials.</summary>
internal sealed class TrialScore
{
    // From here up a low alarm at 90 % is false, whatever the averaging.
    private const double SurelyAbovePercent = 92;

    private static readonly AlarmSettings Adult = CategoryPresets.Adult.ToSettings();

    public Agreement All { get; } = new();

    /// <summary>Only seconds in which something disturbs the light.</summary>
    public Agreement Disturbed { get; } = new();

    public int Seconds { get; private set; }

    public int Shown { get; private set; }

    public int DisturbedSeconds { get; private set; }

    public int DisturbedShown { get; private set; }

    public int FalseLow { get; private set; }

    /// <summary>Of trials in which truth stays at 92 % or more.</summary>
    public int SecondsSurelyAbove { get; private set; }

    public double ShownPercent => 100.0 * Shown / Seconds;

    public double DisturbedShownPercent => 100.0 * DisturbedShown / DisturbedSeconds;

    public double FalseLowPerHour => 3600.0 * FalseLow / SecondsSurelyAbove;

    public static TrialScore Of(RehearsedLight light, CalibrationCurve curve)
    {
        var derived = Derivation.Of(light.Recording, new OximetrySettings { Curve = curve });
        var score = new TrialScore();
        int perSecond = (int)light.Rate.Hertz;
        double least = 100;
        for (int second = 0; second < light.Patient.Count; second++)
        {
            double truth = 0;
            bool disturbed = false;
            for (int i = second * perSecond; i < (second + 1) * perSecond; i++)
            {
                truth += light.SaturationPercent[i] / perSecond;
                disturbed |= light.Disturbances[i] != Disturbances.None;
            }

            least = Math.Min(least, truth);
            score.Seconds++;
            if (disturbed) score.DisturbedSeconds++;
            double shown = second < derived.Seconds.Count ? derived.Seconds[second].SpO2Percent : double.NaN;
            if (double.IsNaN(shown)) continue;
            score.Shown++;
            score.All.Add(shown, truth);
            if (!disturbed) continue;
            score.DisturbedShown++;
            score.Disturbed.Add(shown, truth);
        }

        if (least < SurelyAbovePercent) return score;
        score.SecondsSurelyAbove = score.Seconds;
        score.FalseLow = LowSignals(derived);
        return score;
    }

    public void Add(TrialScore other)
    {
        All.Add(other.All);
        Disturbed.Add(other.Disturbed);
        Seconds += other.Seconds;
        Shown += other.Shown;
        DisturbedSeconds += other.DisturbedSeconds;
        DisturbedShown += other.DisturbedShown;
        FalseLow += other.FalseLow;
        SecondsSurelyAbove += other.SecondsSurelyAbove;
    }

    /// <summary>Through the product's own engine, with the starting settings of an adult: low limit 90 %, delay 10 s, backstop below 80 % for 5 s.</summary>
    private static int LowSignals(DerivedRecording derived)
    {
        var shown = derived.Seconds.Select(s => double.IsNaN(s.SpO2Percent) ? (decimal?)null : Math.Round((decimal)s.SpO2Percent, 2, MidpointRounding.AwayFromZero));
        return Replayer.RunLow(ConditionedSource.Even(shown, Duration.FromSeconds(1)), Adult.SpO2Low!, Adult.Backstop, ConditioningSettings.Default).Count;
    }
}
