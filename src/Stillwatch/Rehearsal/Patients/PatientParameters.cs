namespace Stillwatch.Rehearsal.Patients;

/// <summary>What an invented patient is made of. Rounded textbook figures, from memory; not a physiological reference.</summary>
public sealed record PatientParameters
{
    public required double WeightKg { get; init; }

    /// <summary>Oxygen used by the whole body (mL at standard temperature and pressure, dry).</summary>
    public required double OxygenUseMlPerMinute { get; init; }

    /// <summary>Carbon dioxide made over oxygen used.</summary>
    public double RespiratoryQuotient { get; init; } = 0.8;

    /// <summary>Mean gas volume that takes part in exchange: functional residual capacity and half a breath, at body temperature.</summary>
    public required double LungVolumeMl { get; init; }

    /// <summary>The part of every breath that reaches no blood.</summary>
    public required double DeadSpaceMl { get; init; }

    public required double UsualBreathsPerMinute { get; init; }

    /// <summary>What the usual breaths settle at with the usual dead space, without shunt.</summary>
    public double UsualCarbonDioxideTorr { get; init; } = 40;

    /// <summary>pH at the usual carbon dioxide: chronic retention is made up for by the kidneys.</summary>
    public double UsualPH { get; init; } = 7.40;

    public required double CardiacOutputMlPerMinute { get; init; }

    public required double HaemoglobinGramsPerDl { get; init; }

    /// <summary>P50 at pH 7.40 and 40 Torr of carbon dioxide.</summary>
    public required double HalfSaturationTorr { get; init; }

    /// <summary>Blood and tissue water that give oxygen to the using cells; with <see cref="VenousPoolMl"/> the store outside the lungs.</summary>
    public required double TissueStoreMl { get; init; }

    /// <summary>Blood on its way from the tissues to the lungs.</summary>
    public required double VenousPoolMl { get; init; }

    /// <summary>How much carbon dioxide the body takes up for each Torr, within minutes to an hour.</summary>
    public required double CarbonDioxideStoreMlPerTorr { get; init; }

    public required double UsualPulsePerMinute { get; init; }

    /// <summary>Change of pulse rate for every percentage point of arterial saturation below <see cref="PulseAnswersBelowPercent"/>: up in the grown, down in the preterm.</summary>
    public required double PulsePerMinutePerPoint { get; init; }

    public double PulseAnswersBelowPercent { get; init; } = 92;

    /// <summary>Change of pulse rate for every Torr of arterial carbon dioxide above usual.</summary>
    public double PulsePerMinutePerTorr { get; init; } = 0.25;

    /// <summary>Standard deviation of the slow wander of the pulse rate.</summary>
    public double PulseWanderPerMinute { get; init; } = 2.5;

    /// <summary>Pulse amplitude over mean infrared light, × 100.</summary>
    public required double UsualPerfusionPercent { get; init; }

    /// <summary>Standard deviation of the natural logarithm of the perfusion's slow wander.</summary>
    public double PerfusionWander { get; init; } = 0.15;

    /// <summary>From the heart to the sensor site: the pure delay.</summary>
    public required double SiteDelaySeconds { get; init; }

    /// <summary>How the way to the site smooths: time constant of a first-order lag.</summary>
    public required double SiteSmoothingSeconds { get; init; }

    /// <summary>Percentage points of saturation that the tissue under the sensor takes from its blood.</summary>
    public double SiteExtractionPoints { get; init; } = 15;

    public double BarometricTorr { get; init; } = 760;

    public double UsualTidalVolumeMl =>
        DeadSpaceMl + GasExchange.TorrMlPerMl * RespiratoryQuotient * OxygenUseMlPerMinute / (UsualCarbonDioxideTorr * UsualBreathsPerMinute);

    /// <summary>A sleeping adult of 70 kg with the sensor on a finger.</summary>
    public static PatientParameters Adult { get; } = new()
    {
        WeightKg = 70,
        OxygenUseMlPerMinute = 230,
        LungVolumeMl = 2700,
        DeadSpaceMl = 150,
        UsualBreathsPerMinute = 14,
        CardiacOutputMlPerMinute = 5200,
        HaemoglobinGramsPerDl = 14.5,
        HalfSaturationTorr = 26.86,
        TissueStoreMl = 1500,
        VenousPoolMl = 3000,
        CarbonDioxideStoreMlPerTorr = 57,
        UsualPulsePerMinute = 68,
        PulsePerMinutePerPoint = 1.0,
        UsualPerfusionPercent = 2.4,
        SiteDelaySeconds = 20,
        SiteSmoothingSeconds = 5,
    };

    /// <summary>A sleeping child of four years, 16 kg, with the sensor on a finger.</summary>
    public static PatientParameters Child { get; } = new()
    {
        WeightKg = 16,
        OxygenUseMlPerMinute = 96,
        LungVolumeMl = 470,
        DeadSpaceMl = 35,
        UsualBreathsPerMinute = 24,
        CardiacOutputMlPerMinute = 2400,
        HaemoglobinGramsPerDl = 12.5,
        HalfSaturationTorr = 27,
        TissueStoreMl = 350,
        VenousPoolMl = 750,
        CarbonDioxideStoreMlPerTorr = 13,
        UsualPulsePerMinute = 98,
        PulsePerMinutePerPoint = 1.2,
        PulseWanderPerMinute = 4,
        UsualPerfusionPercent = 2.0,
        SiteDelaySeconds = 12,
        SiteSmoothingSeconds = 4,
    };

    /// <summary>A preterm neonate of 1.2 kg with the sensor on a hand; nearly all of the haemoglobin is foetal.</summary>
    public static PatientParameters Preterm { get; } = new()
    {
        WeightKg = 1.2,
        OxygenUseMlPerMinute = 8.4,
        LungVolumeMl = 31,
        DeadSpaceMl = 2.6,
        UsualBreathsPerMinute = 52,
        UsualCarbonDioxideTorr = 46,
        UsualPH = 7.36,
        CardiacOutputMlPerMinute = 280,
        HaemoglobinGramsPerDl = 15,
        HalfSaturationTorr = 19,
        TissueStoreMl = 30,
        VenousPoolMl = 60,
        CarbonDioxideStoreMlPerTorr = 1.0,
        UsualPulsePerMinute = 152,
        PulsePerMinutePerPoint = -3,
        PulseAnswersBelowPercent = 87,
        PulsePerMinutePerTorr = 0,
        PulseWanderPerMinute = 4,
        UsualPerfusionPercent = 1.1,
        SiteDelaySeconds = 6,
        SiteSmoothingSeconds = 2.5,
        SiteExtractionPoints = 12,
    };
}
