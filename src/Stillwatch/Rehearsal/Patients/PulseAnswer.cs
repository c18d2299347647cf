namespace Stillwatch.Rehearsal.Patients;

/// <summary>The pulse rate, second by second: it wanders slowly and answers to saturation, carbon dioxide and events.</summary>
/// <remarks>Gains and time constants are from memory and chosen to look alive; no scenario's lesson rests on their exact size.</remarks>
internal sealed class PulseAnswer(PatientParameters patient, SeededRandom random)
{
    private const double WanderSeconds = 90;
    private const double SensingSeconds = 10; // from the blood to the answer
    private const double FollowingSeconds = 5; // of the heart behind what it is asked for

    private double wander = patient.PulseWanderPerMinute * random.Normal();
    private double lacking;
    private double rate = patient.UsualPulsePerMinute;
    private bool begun;

    public double PerMinute => rate;

    /// <summary>One second on.</summary>
    public void Advance(double arterialSaturationPercent, double carbonDioxideTorr, double offsetPerMinute)
    {
        double keep = Math.Exp(-1 / WanderSeconds);
        wander = keep * wander + patient.PulseWanderPerMinute * Math.Sqrt(1 - keep * keep) * random.Normal();
        double lack = Math.Max(0, patient.PulseAnswersBelowPercent - arterialSaturationPercent);
        lacking = begun ? lacking + (lack - lacking) / SensingSeconds : lack;
        double retained = Math.Clamp(carbonDioxideTorr - patient.UsualCarbonDioxideTorr, -20, 60);
        double asked = patient.UsualPulsePerMinute + wander + offsetPerMinute + patient.PulsePerMinutePerPoint * lacking + patient.PulsePerMinutePerTorr * retained;
        double held = Math.Clamp(asked, patient.UsualPulsePerMinute * 0.4, patient.UsualPulsePerMinute * 2);
        rate = begun ? rate + (held - rate) / FollowingSeconds : held;
        begun = true;
    }
}
