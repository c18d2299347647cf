using Stillwatch.Signals;

namespace Stillwatch.Rehearsal;

/// <summary>The invented ward of the demonstration: twelve patients, several categories, two nights each.</summary>
public static class DemoWard
{
    public const ulong DefaultSeed = 20260302;

    /// <summary>Length of a night in rows of one second.</summary>
    public const int NightSeconds = 8 * 3600;

    private static readonly RehearsalProfile[] Profiles =
    [
        new() { Story = "Recovering well after abdominal surgery; two short obstructions a night.", SignificantPerNight = 3 },
        new() { Story = "Asleep on opioids: slow, shallow breathing and long falls.", Saturation = 94.5, SignificantPerNight = 9, SignificantHoldSeconds = (110, 260), ShortDipsPerHour = 4, Oxygen = "air" },
        new() { Story = "Repeated obstructive pauses: trains of short dips, some deep.", Saturation = 94, ShortDipsPerHour = 14, SignificantPerNight = 9 },
        new() { Story = "Restless and moving: most falls on the screen are movement.", MotionsPerHour = 9, SignificantPerNight = 3, SensorOffPerNight = 5 },
        new() { Story = "Pneumonia getting worse in the second night.", Saturation = 94, DeclinePerHour = 0.8, SignificantPerNight = 5, PulseRate = 92 },
        new() { Story = "Sensor slips off again and again.", SensorOffPerNight = 14, SignificantPerNight = 4 },
        new() { Story = "Cold hands, little perfusion, noisy reading.", Perfusion = 0.4, Wander = 1.3, MotionsPerHour = 4, SignificantPerNight = 4 },
        new() { Story = "Quiet nights with a few falls.", Saturation = 96.5, ShortDipsPerHour = 0.5, MotionsPerHour = 0.3, SignificantPerNight = 3 },
        new() { Story = "Heart failure, low reserve, lies flat at night.", Saturation = 93.5, Wander = 1.0, ShortDipsPerHour = 7, SignificantPerNight = 6, PulseRate = 84 },
        new()
        {
            Story = "Chronic lung disease with a lower prescribed target.", Category = PatientCategory.AdultHypercapnicRisk, CategoryName = "hypercapnic",
            Oxygen = "oxygen", Saturation = 90, Wander = 1.0, SignificantPerNight = 5, SignificantNadir = (68, 78), ShortDipsPerHour = 5,
        },
        new()
        {
            Story = "Infant with bronchiolitis.", Category = PatientCategory.PaediatricInfant, CategoryName = "paediatric:8mo", Oxygen = "oxygen",
            Saturation = 94.5, PulseRate = 138, MotionsPerHour = 6, SignificantPerNight = 4, ShortDipsPerHour = 5,
        },
        new()
        {
            Story = "Preterm on a little oxygen, periodic breathing with slow heart beats.", Category = PatientCategory.NeonatalOnOxygen, CategoryName = "neonate-oxygen", Oxygen = "oxygen",
            SourceAveragingSeconds = 2, Saturation = 93, Wander = 1.4, PulseRate = 152, PulseResponse = -55, ShortDipsPerHour = 16, SignificantPerNight = 12, SignificantNadir = (66, 78), SignificantHoldSeconds = (12, 60),
        },
    ];

    /// <summary>The ward; the same seed gives the same ward to the last digit.</summary>
    /// <param name="seed">Where all chance comes from.</param>
    /// <param name="nightSeconds">Rows a night; fewer for quick tests.</param>
    public static RehearsalWard Compose(ulong seed = DefaultSeed, int nightSeconds = NightSeconds)
    {
        var patients = new List<RehearsalPatient>();
        for (int p = 0; p < Profiles.Length; p++)
        {
            string key = $"patient-{p + 1:00}";
            var nights = new List<RehearsalNight>();
            for (int n = 0; n < 2; n++)
            {
                var start = new DateTime(2026, 3, 2 + n, 22, 0, 0, DateTimeKind.Unspecified).AddSeconds(97 * p + 31 * n);
                nights.Add(NightComposer.Compose(Profiles[p], SeededRandom.For(seed, p, n), nightSeconds, $"{key}-night-{n + 1}", start, declines: n == 1));
            }

            patients.Add(new RehearsalPatient(key, Profiles[p], nights));
        }

        return new RehearsalWard("Invented ward", seed, patients);
    }
}
