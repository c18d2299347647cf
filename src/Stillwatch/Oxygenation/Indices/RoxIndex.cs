using Stillwatch.Quantities;

namespace Stillwatch.Oxygenation.Indices;

/// <summary>What the published cut points say of a ROX index at their own hour.</summary>
public enum RoxVerdict
{
    /// <summary>At least 4.88: lower risk of being intubated.</summary>
    LowerRisk,

    /// <summary>Between the cut points: neither; look again.</summary>
    Undecided,

    /// <summary>Below the hour's own cut point: failure of high-flow oxygen is likely.</summary>
    FailureLikely,
}

/// <summary>The ROX index of a patient on high-flow nasal oxygen: SpO2 in percent over inhaled fraction, over breaths a minute.</summary>
/// <remarks>
/// Roca et al., Am J Respir Crit Care Med 2019;199:1368, n = 191 with pneumonia on high-flow oxygen. At least 4.88 at 2, 6 or 12 h: hazard
/// ratio 0.434, 0.304, 0.291. Failure: below 2.85 at 2 h, 3.47 at 6 h, 3.85 at 12 h (area under the curve 0.679, 0.703, 0.759). With
/// heart rate: ROX/HR·100 above 6.80 at 10 h (PMC7310118). It supports judgement; it does not replace it, nor delay intubation.
/// </remarks>
public static class RoxIndex
{
    /// <summary>At and above it, at any of the published hours.</summary>
    public const double LowerRiskFrom = 4.88;

    /// <summary>Above it at 10 h, for the index with heart rate.</summary>
    public const double LowerRiskWithHeartRateAbove = 6.80;

    /// <returns>The index, or why there is none: no reading, SpO2 above 97 % (the rule for every ratio of this sort), inhaled oxygen not known or less than in air, or no rate of 1–100 a minute.</returns>
    public static Answer<double> Of(Percent spO2, InhaledOxygen inhaled, double respiratoryRatePerMinute)
    {
        if (!(respiratoryRatePerMinute is >= 1 and <= 100)) return Answer.None<double>($"respiratory rate is {respiratoryRatePerMinute:0.#} /min; expected 1 to 100");
        var ratio = OxygenationRatios.SaturationOverInhaled(spO2, inhaled);
        return ratio.HasValue ? Answer.Of(ratio.Value / respiratoryRatePerMinute) : ratio;
    }

    /// <param name="rox">The index.</param>
    /// <param name="hoursOnHighFlow">2, 6 or 12: no cut point is published for other hours, and none is made up between them.</param>
    /// <returns>The verdict, or why there is none.</returns>
    public static Answer<RoxVerdict> Judge(double rox, int hoursOnHighFlow)
    {
        if (!(rox > 0)) return Answer.None<RoxVerdict>($"ROX is {rox:0.###}; expected above 0");
        double failureBelow;
        switch (hoursOnHighFlow)
        {
            case 2: failureBelow = 2.85; break;
            case 6: failureBelow = 3.47; break;
            case 12: failureBelow = 3.85; break;
            default: return Answer.None<RoxVerdict>($"{hoursOnHighFlow} h on high-flow oxygen; cut points are published for 2, 6 and 12 h");
        }

        if (rox >= LowerRiskFrom) return Answer.Of(RoxVerdict.LowerRisk);
        return Answer.Of(rox < failureBelow ? RoxVerdict.FailureLikely : RoxVerdict.Undecided);
    }

    /// <summary>ROX over heart rate, × 100. Its cut point belongs to 10 h.</summary>
    /// <returns>The index, or why there is none: no ROX above zero, or no heart rate of 20–300 a minute.</returns>
    public static Answer<double> WithHeartRate(double rox, double heartRatePerMinute)
    {
        if (!(rox > 0) || double.IsInfinity(rox)) return Answer.None<double>($"ROX is {rox:0.###}; expected above 0");
        return heartRatePerMinute is >= 20 and <= 300 ? Answer.Of(rox / heartRatePerMinute * 100) : Answer.None<double>($"heart rate is {heartRatePerMinute:0.#} /min; expected 20 to 300");
    }
}
