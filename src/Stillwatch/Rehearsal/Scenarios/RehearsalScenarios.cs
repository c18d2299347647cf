namespace Stillwatch.Rehearsal.Scenarios;

/// <summary>All scenarios, in the order in which they are best taught.</summary>
public static class RehearsalScenarios
{
    public static IReadOnlyList<RehearsalScenario> All { get; } =
    [
        NightScenarios.QuietNight,
        MovementScenarios.MovementWithoutHypoxaemia,
        MovementScenarios.HypoxaemiaBehindMovement,
        SensorScenarios.SensorSlipped,
        SensorScenarios.ColdHand,
        SensorScenarios.LampLight,
        SensorScenarios.FeedLost,
        BreathingScenarios.OpioidOnAir,
        BreathingScenarios.OpioidOnOxygen,
        BreathingScenarios.SedatedChild,
        NightScenarios.ObstructivePauses,
        NightScenarios.SlowPneumonia,
        OxygenScenarios.OxygenLittleAnswer,
        OxygenScenarios.HypercapnicGenerousOxygen,
        PretermScenarios.PeriodicBreathing,
        PretermScenarios.TooMuchOxygen,
    ];

    /// <summary>The scenario of a name, small and capital letters alike; null where there is none.</summary>
    public static RehearsalScenario? Find(string name) =>
        All.FirstOrDefault(s => string.Equals(s.Name, name.Trim(), StringComparison.OrdinalIgnoreCase));
}
