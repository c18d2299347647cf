using Stillwatch.Oxygenation.Indices;
using Stillwatch.Quantities;
using Stillwatch.Time;

namespace Stillwatch.Oxygenation.Agreement;

/// <summary>A saturation at a time: off an oximeter, or of a blood sample by CO-oximetry.</summary>
public readonly record struct TimedSaturation(SampleTime Time, Percent Saturation);

/// <summary>What counts as hypoxaemia that the oximeter does not show. Published definitions differ in the window and in the pairing time.</summary>
/// <param name="WindowFrom">SpO2 from here on (≥) looks well.</param>
/// <param name="WindowTo">Up to here (≤); null: no upper end.</param>
/// <param name="ArterialBelow">SaO2 below this (&lt;) is hypoxaemia.</param>
/// <param name="LongestApart">The furthest that reading and blood sample may lie apart, either way.</param>
/// <param name="Source">Where the definition is published.</param>
public sealed record OccultDefinition(Percent WindowFrom, Percent? WindowTo, Percent ArterialBelow, Duration LongestApart, string Source)
{
    public static OccultDefinition From92 { get; } = new(Percent.Of(92), null, Percent.Of(88), Duration.FromSeconds(600), "Valbuena et al., BMJ 2022;378:e069775: SaO2 < 88 % despite SpO2 ≥ 92 %, pairs up to 10 min apart");

    public static OccultDefinition From92To96 { get; } = new(Percent.Of(92), Percent.Of(96), Percent.Of(88), Duration.FromSeconds(600), "Sjoding et al., N Engl J Med 2020;383:2477, from memory");
}

/// <summary>How many, by a definition.</summary>
/// <param name="BloodSamples">All that were given.</param>
/// <param name="Unpaired">Without a usable reading near enough, or without a usable saturation.</param>
/// <param name="OutsideWindow">Paired with an SpO2 outside the window.</param>
/// <param name="InWindow">The denominator.</param>
/// <param name="Occult">Of these, hypoxaemic in the blood.</param>
public sealed record OccultCount(int BloodSamples, int Unpaired, int OutsideWindow, int InWindow, int Occult)
{
    /// <returns>0–1, or why there is none.</returns>
    public Answer<double> Share => InWindow > 0 ? Answer.Of((double)Occult / InWindow) : Answer.None<double>("no pair has an SpO2 in the window");
}

/// <summary>The share of blood samples that are hypoxaemic although the oximeter looked well. A measure of oximeters, not of patients.</summary>
public static class OccultHypoxaemia
{
    /// <summary>Pairs each blood sample with the nearest usable reading in time (of two as near, the earlier) and counts.</summary>
    /// <remarks>Readings of 0 or above 100 % are no readings. A reading may serve several samples.</remarks>
    /// <param name="definition">Window, limit and pairing time.</param>
    /// <param name="bloodSamples">SaO2, in any order.</param>
    /// <param name="readings">SpO2, in order of time.</param>
    /// <exception cref="ArgumentException">Readings that go back in time.</exception>
    public static OccultCount Count(OccultDefinition definition, IReadOnlyList<TimedSaturation> bloodSamples, IReadOnlyList<TimedSaturation> readings)
    {
        ArgumentNullException.ThrowIfNull(definition);
        ArgumentNullException.ThrowIfNull(bloodSamples);
        ArgumentNullException.ThrowIfNull(readings);
        var usable = readings.Where(r => UsableReading.WhyNot(r.Saturation) is null).ToList();
        for (int index = 1; index < usable.Count; index++)
        {
            if (usable[index].Time < usable[index - 1].Time) throw new ArgumentException($"A reading at {usable[index].Time} follows one at {usable[index - 1].Time}; expected in order of time.", nameof(readings));
        }

        int unpaired = 0, outside = 0, inWindow = 0, occult = 0;
        foreach (var sample in bloodSamples)
        {
            if (UsableReading.WhyNot(sample.Saturation) is not null || Nearest(usable, sample.Time, definition.LongestApart) is not { } spO2) unpaired++;
            else if (spO2 < definition.WindowFrom || spO2 > definition.WindowTo) outside++;
            else
            {
                inWindow++;
                if (sample.Saturation < definition.ArterialBelow) occult++;
            }
        }

        return new OccultCount(bloodSamples.Count, unpaired, outside, inWindow, occult);
    }

    private static Percent? Nearest(List<TimedSaturation> readings, SampleTime time, Duration longestApart)
    {
        int low = 0, high = readings.Count;
        while (low < high)
        {
            int middle = low + (high - low) / 2;
            if (readings[middle].Time < time) low = middle + 1;
            else high = middle;
        }

        // 'low' is the first reading at or after the sample; the one before it is the other candidate, and wins a tie.
        var after = low < readings.Count ? readings[low].Time - time : (Duration?)null;
        var before = low > 0 ? time - readings[low - 1].Time : (Duration?)null;
        if (before <= longestApart && (after is null || before <= after)) return readings[low - 1].Saturation;
        return after <= longestApart ? readings[low].Saturation : null;
    }
}
