using Stillwatch.Quantities;

namespace Stillwatch.Oxygenation.Scores;

/// <summary>Which of the two SpO2 scales of NEWS2 is used.</summary>
public enum SpO2Scale
{
    /// <summary>For everyone else.</summary>
    Scale1,

    /// <summary>For patients with a prescribed target of 88–92 %; who that is, a clinician decides, never a program.</summary>
    Scale2,
}

/// <summary>Consciousness as the chart has it.</summary>
public enum Consciousness
{
    Alert,

    /// <summary>New confusion, or answers to voice or to pain only, or not at all.</summary>
    ConfusedOrBelow,
}

/// <summary>One set of observations. Null: not taken; a missing one is never scored as normal.</summary>
public sealed record News2Observation
{
    public int? RespiratoryRatePerMinute { get; init; }

    /// <summary>Rounded to whole percent (half away from zero), as the chart is.</summary>
    public Percent? SpO2 { get; init; }

    public required SpO2Scale Scale { get; init; }

    public bool? OnOxygen { get; init; }

    public int? SystolicMmHg { get; init; }

    public int? PulsePerMinute { get; init; }

    public Consciousness? Consciousness { get; init; }

    /// <summary>Rounded to 0.1 °C (half away from zero), as the chart is.</summary>
    public decimal? TemperatureCelsius { get; init; }
}
