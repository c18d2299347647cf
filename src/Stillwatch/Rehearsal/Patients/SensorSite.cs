namespace Stillwatch.Rehearsal.Patients;

/// <summary>The blood under the sensor: arterial blood a circulation time later, smoothed on its way, and a pulse whose height wanders.</summary>
internal sealed class SensorSite
{
    private const double WanderSeconds = 200;
    private const double VesselsSeconds = 15; // how fast vessels narrow and widen

    private readonly PatientParameters patient;
    private readonly SeededRandom random;
    private readonly double[] onItsWay; // a ring of what left the heart, one value a step
    private readonly double keepPerStep;
    private int next;
    private double wander;
    private double factor;

    public SensorSite(PatientParameters patient, SeededRandom random, double stepSeconds, double saturation, double perfusionFactor)
    {
        this.patient = patient;
        this.random = random;
        onItsWay = new double[Math.Max(1, (int)Math.Round(patient.SiteDelaySeconds / stepSeconds))];
        Array.Fill(onItsWay, saturation);
        keepPerStep = Math.Exp(-stepSeconds / patient.SiteSmoothingSeconds);
        Saturation = saturation;
        factor = perfusionFactor;
        wander = patient.PerfusionWander * random.Normal();
    }

    /// <summary>0–1.</summary>
    public double Saturation { get; private set; }

    /// <summary>The venous blood here has lost what this tissue takes; more of it where less blood comes.</summary>
    public double VenousSaturation => Math.Max(0.05, Saturation - patient.SiteExtractionPoints / 100 * Math.Clamp(1 / Math.Sqrt(factor), 0.7, 2));

    public double PerfusionPercent => patient.UsualPerfusionPercent * factor * Math.Exp(wander);

    /// <summary>One small step on.</summary>
    public void Take(double arterialSaturation)
    {
        double arriving = onItsWay[next];
        onItsWay[next] = arterialSaturation;
        next = (next + 1) % onItsWay.Length;
        Saturation = keepPerStep * Saturation + (1 - keepPerStep) * arriving;
    }

    /// <summary>One second on.</summary>
    public void Wander(double perfusionFactor)
    {
        double keep = Math.Exp(-1 / WanderSeconds);
        wander = keep * wander + patient.PerfusionWander * Math.Sqrt(1 - keep * keep) * random.Normal();
        factor += (perfusionFactor - factor) / VesselsSeconds;
    }
}
