namespace Stillwatch.Rehearsal.Patients;

/// <summary>What a body holds: the state that a second of breathing moves.</summary>
/// <param name="AlveolarOxygenTorr">Of the gas that meets blood.</param>
/// <param name="AlveolarCarbonDioxideTorr">Of the gas that meets blood.</param>
/// <param name="TissueOxygen">mL in a mL of blood that leaves the tissues.</param>
/// <param name="VenousOxygen">mL in a mL of mixed venous blood before the lungs.</param>
/// <param name="TissueCarbonDioxideTorr">Of the tissues, and of the mixed venous blood.</param>
internal readonly record struct GasStores(
    double AlveolarOxygenTorr, double AlveolarCarbonDioxideTorr, double TissueOxygen, double VenousOxygen, double TissueCarbonDioxideTorr)
{
    public GasStores Moved(in GasStores rate, double seconds) => new(
        AlveolarOxygenTorr + seconds * rate.AlveolarOxygenTorr,
        AlveolarCarbonDioxideTorr + seconds * rate.AlveolarCarbonDioxideTorr,
        TissueOxygen + seconds * rate.TissueOxygen,
        VenousOxygen + seconds * rate.VenousOxygen,
        TissueCarbonDioxideTorr + seconds * rate.TissueCarbonDioxideTorr);

    public static GasStores Mean(in GasStores a, in GasStores b) => new(
        (a.AlveolarOxygenTorr + b.AlveolarOxygenTorr) / 2,
        (a.AlveolarCarbonDioxideTorr + b.AlveolarCarbonDioxideTorr) / 2,
        (a.TissueOxygen + b.TissueOxygen) / 2,
        (a.VenousOxygen + b.VenousOxygen) / 2,
        (a.TissueCarbonDioxideTorr + b.TissueCarbonDioxideTorr) / 2);
}

/// <summary>
/// Lungs, shunt, tissues and a venous pool in a ring: balances of oxygen and carbon dioxide, in which nothing is lost.
/// </summary>
/// <remarks>
/// One well-mixed gas space of fixed volume and a shunt beside it; blood that meets gas leaves at its pressure. So the steady state is the
/// alveolar gas equation in its short form, PAO2 = FiO2·(PB − 47) − PACO2/R, exactly. Left out: gas drawn in through an open airway while
/// nobody breathes, shrinking of a lung behind a shut one, nitrogen, and the volume of arterial blood. Carbon dioxide
/// content is a straight line of pressure, 0.67 mL/dL for each Torr (from memory, the Haldane effect taken in). Step by Heun's method.
/// </remarks>
internal sealed class GasExchange(PatientParameters patient)
{
    /// <summary>Pressure (Torr) times volume at body temperature (mL) of 1 mL of dry gas at standard conditions: 760·310/273.</summary>
    public const double TorrMlPerMl = 863;

    private const double WaterVapourTorr = 47;
    private const double CarbonDioxidePerTorr = 0.0067; // mL in a mL of blood
    private const double TissueEmptyBelow = 0.02; // mL in a mL: below this the cells get less than they ask for

    private readonly BloodOxygen blood = new(patient);

    public GasStores Stores { get; private set; }

    /// <summary>mL of oxygen taken in from the air less what was given back, and mL used, since <see cref="Settle"/>.</summary>
    public double OxygenTakenInMl { get; private set; }

    public double OxygenUsedMl { get; private set; }

    /// <summary>mL of oxygen in lungs, tissues and venous blood.</summary>
    public double OxygenHeldMl =>
        Stores.AlveolarOxygenTorr * patient.LungVolumeMl / TorrMlPerMl + Stores.TissueOxygen * patient.TissueStoreMl + Stores.VenousOxygen * patient.VenousPoolMl;

    /// <summary>Puts the stores where they would stay for ever under a drive.</summary>
    /// <exception cref="ArgumentException">The drive moves no air or too little oxygen to live on.</exception>
    public void Settle(in PatientDrive drive, double flowFactor)
    {
        double air = AirMlPerSecond(drive), flow = FlowMlPerSecond(flowFactor);
        double used = UseMlPerSecond(drive), made = used * patient.RespiratoryQuotient;
        double carbonDioxide = made * TorrMlPerMl / air;
        double oxygen = InspiredTorr(drive) - carbonDioxide / patient.RespiratoryQuotient;
        if (!(air > 0) || !(oxygen > 20))
        {
            throw new ArgumentException(
                $"A patient cannot begin like this: found {air * 60:0} mL/min of air to the alveoli, which leaves {oxygen:0} Torr of oxygen there, expected air and above 20 Torr; "
                + "the first drive may be a pause of breathing.",
                nameof(drive));
        }

        double shunt = drive.ShuntFraction;
        double tissueCarbonDioxide = carbonDioxide + made / (flow * (1 - shunt) * CarbonDioxidePerTorr);
        double arterialCarbonDioxide = (1 - shunt) * carbonDioxide + shunt * tissueCarbonDioxide;
        double arterial = blood.Content(oxygen, blood.ShiftAt(arterialCarbonDioxide)) - shunt / (1 - shunt) * used / flow;
        Stores = new GasStores(oxygen, carbonDioxide, arterial - used / flow, arterial - used / flow, tissueCarbonDioxide);
        OxygenTakenInMl = 0;
        OxygenUsedMl = 0;
    }

    /// <summary>Goes on for some time under one drive.</summary>
    /// <param name="drive">Unchanged meanwhile.</param>
    /// <param name="flowFactor">Cardiac output over the usual one.</param>
    /// <param name="seconds">Small beside the lungs' own time: 0.1 s serves a preterm.</param>
    public void Advance(in PatientDrive drive, double flowFactor, double seconds)
    {
        var first = Rate(Stores, drive, flowFactor, out double inFirst, out double usedFirst);
        var second = Rate(Stores.Moved(first, seconds), drive, flowFactor, out double inSecond, out double usedSecond);
        Stores = Stores.Moved(GasStores.Mean(first, second), seconds);
        OxygenTakenInMl += seconds * (inFirst + inSecond) / 2;
        OxygenUsedMl += seconds * (usedFirst + usedSecond) / 2;
    }

    /// <summary>Arterial saturation (0–1) and carbon dioxide now.</summary>
    public (double Saturation, double CarbonDioxideTorr) ArterialBlood(in PatientDrive drive)
    {
        double carbonDioxide = ArterialCarbonDioxide(Stores, drive.ShuntFraction);
        double shift = blood.ShiftAt(carbonDioxide);
        double arterial = (1 - drive.ShuntFraction) * blood.Content(Stores.AlveolarOxygenTorr, shift) + drive.ShuntFraction * Stores.VenousOxygen;
        return (blood.SaturationOf(arterial, shift), carbonDioxide);
    }

    private GasStores Rate(in GasStores s, in PatientDrive drive, double flowFactor, out double takenIn, out double used)
    {
        double air = AirMlPerSecond(drive), flow = FlowMlPerSecond(flowFactor), shunt = drive.ShuntFraction;
        double arterialCarbonDioxide = ArterialCarbonDioxide(s, shunt);
        double endCapillary = blood.Content(s.AlveolarOxygenTorr, blood.ShiftAt(arterialCarbonDioxide));
        double uptake = flow * (1 - shunt) * (endCapillary - s.VenousOxygen);
        double arterial = (1 - shunt) * endCapillary + shunt * s.VenousOxygen;
        double asked = UseMlPerSecond(drive);
        used = asked * Math.Clamp(s.TissueOxygen / TissueEmptyBelow, 0, 1);
        takenIn = air / TorrMlPerMl * (InspiredTorr(drive) - s.AlveolarOxygenTorr);
        double given = flow * (1 - shunt) * CarbonDioxidePerTorr * (s.TissueCarbonDioxideTorr - s.AlveolarCarbonDioxideTorr);
        double lung = patient.LungVolumeMl / TorrMlPerMl;
        return new GasStores(
            (takenIn - uptake) / lung,
            (given - air / TorrMlPerMl * s.AlveolarCarbonDioxideTorr) / lung,
            (flow * (arterial - s.TissueOxygen) - used) / patient.TissueStoreMl,
            flow * (s.TissueOxygen - s.VenousOxygen) / patient.VenousPoolMl,
            (asked * patient.RespiratoryQuotient - given) / patient.CarbonDioxideStoreMlPerTorr);
    }

    private static double ArterialCarbonDioxide(in GasStores s, double shunt) => (1 - shunt) * s.AlveolarCarbonDioxideTorr + shunt * s.TissueCarbonDioxideTorr;

    private double AirMlPerSecond(in PatientDrive drive) =>
        Math.Max(0, drive.BreathsPerMinute / 60 * (patient.UsualTidalVolumeMl * drive.BreathDepth - patient.DeadSpaceMl * drive.DeadSpaceFactor));

    private double FlowMlPerSecond(double flowFactor) => patient.CardiacOutputMlPerMinute / 60 * flowFactor;

    private double UseMlPerSecond(in PatientDrive drive) => patient.OxygenUseMlPerMinute / 60 * drive.OxygenUseFactor;

    private double InspiredTorr(in PatientDrive drive) => drive.InhaledOxygenFraction * (patient.BarometricTorr - WaterVapourTorr);
}
