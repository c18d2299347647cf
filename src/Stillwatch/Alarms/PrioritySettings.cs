namespace Stillwatch.Alarms;

/// <summary>What may come of it when nobody responds (rows of the priority table of IEC 60601-1-8).</summary>
public enum FailureResult
{
    MinorInjuryOrDiscomfort,
    ReversibleInjury,
    DeathOrIrreversibleInjury,
}

/// <summary>How soon that harm sets in (columns of the priority table of IEC 60601-1-8).</summary>
public enum HarmOnset
{
    Delayed,
    Prompt,
    Immediate,
}

/// <summary>Where a condition stands in the priority table.</summary>
public readonly record struct AlarmRisk(FailureResult Result, HarmOnset Onset);

/// <summary>
/// The priority table: potential result × onset → priority. The standard leaves minor and delayed harm open ("low or no
/// signal"); <see cref="MinorDelayed"/> decides it.
/// </summary>
/// <remarks>Source: IEC 60601-1-8, Table 1, from memory; configurable for that reason.</remarks>
public sealed record PriorityTable
{
    public static readonly PriorityTable Default = new();

    public AlarmPriority DeathImmediate { get; init; } = AlarmPriority.High;

    public AlarmPriority DeathPrompt { get; init; } = AlarmPriority.High;

    public AlarmPriority DeathDelayed { get; init; } = AlarmPriority.Medium;

    public AlarmPriority ReversibleImmediate { get; init; } = AlarmPriority.High;

    public AlarmPriority ReversiblePrompt { get; init; } = AlarmPriority.Medium;

    public AlarmPriority ReversibleDelayed { get; init; } = AlarmPriority.Low;

    public AlarmPriority MinorImmediate { get; init; } = AlarmPriority.Medium;

    public AlarmPriority MinorPrompt { get; init; } = AlarmPriority.Low;

    public AlarmPriority MinorDelayed { get; init; } = AlarmPriority.Low;

    public AlarmPriority Of(AlarmRisk risk) => (risk.Result, risk.Onset) switch
    {
        (FailureResult.DeathOrIrreversibleInjury, HarmOnset.Immediate) => DeathImmediate,
        (FailureResult.DeathOrIrreversibleInjury, HarmOnset.Prompt) => DeathPrompt,
        (FailureResult.DeathOrIrreversibleInjury, HarmOnset.Delayed) => DeathDelayed,
        (FailureResult.ReversibleInjury, HarmOnset.Immediate) => ReversibleImmediate,
        (FailureResult.ReversibleInjury, HarmOnset.Prompt) => ReversiblePrompt,
        (FailureResult.ReversibleInjury, HarmOnset.Delayed) => ReversibleDelayed,
        (FailureResult.MinorInjuryOrDiscomfort, HarmOnset.Immediate) => MinorImmediate,
        (FailureResult.MinorInjuryOrDiscomfort, HarmOnset.Prompt) => MinorPrompt,
        (FailureResult.MinorInjuryOrDiscomfort, HarmOnset.Delayed) => MinorDelayed,
        _ => throw new ArgumentOutOfRangeException(nameof(risk), risk, "No such cell in the priority table."),
    };
}

/// <summary>
/// Each condition's place in the priority table. The defaults are unit policy, no source: what a response that never comes
/// may lead to is for the unit to judge. A technical condition whose priority comes out as <see cref="AlarmPriority.None"/>
/// gives no signal of its own.
/// </summary>
public sealed record PrioritySettings
{
    private static readonly AlarmRisk PromptAndGrave = new(FailureResult.DeathOrIrreversibleInjury, HarmOnset.Prompt);
    private static readonly AlarmRisk PromptAndReversible = new(FailureResult.ReversibleInjury, HarmOnset.Prompt);
    private static readonly AlarmRisk DelayedAndReversible = new(FailureResult.ReversibleInjury, HarmOnset.Delayed);
    private static readonly AlarmRisk DelayedAndMinor = new(FailureResult.MinorInjuryOrDiscomfort, HarmOnset.Delayed);

    // After what it is made of: static fields are set in the order they stand.
    public static readonly PrioritySettings Default = new();

    public PriorityTable Table { get; init; } = PriorityTable.Default;

    public AlarmRisk SpO2Low { get; init; } = PromptAndReversible;

    /// <summary>The backstop's share of the SpO2 low condition (R8): may not rank under <see cref="SpO2Low"/>.</summary>
    public AlarmRisk Backstop { get; init; } = PromptAndGrave;

    public AlarmRisk SpO2High { get; init; } = DelayedAndReversible;

    public AlarmRisk PulseRateLow { get; init; } = PromptAndReversible;

    public AlarmRisk PulseRateHigh { get; init; } = PromptAndReversible;

    /// <summary>Without an open run; with one, the highest priority then open holds instead (R9).</summary>
    public AlarmRisk NoReading { get; init; } = DelayedAndReversible;

    public AlarmRisk SignalInadequate { get; init; } = DelayedAndReversible;

    public AlarmRisk LowPerfusion { get; init; } = DelayedAndReversible;

    public AlarmRisk Interference { get; init; } = DelayedAndReversible;

    public AlarmRisk SensorOff { get; init; } = DelayedAndReversible;

    public AlarmRisk SensorDisconnected { get; init; } = DelayedAndReversible;

    public AlarmRisk StaleFeed { get; init; } = PromptAndReversible;

    public AlarmRisk SourceOnBattery { get; init; } = DelayedAndMinor;

    public AlarmRisk SourceBatteryLow { get; init; } = PromptAndReversible;

    public AlarmRisk ImplausibleValue { get; init; } = PromptAndReversible;

    public AlarmPriority OfBackstop => Table.Of(Backstop);

    public AlarmPriority Of(AlarmCondition condition) => Table.Of(RiskOf(condition));

    /// <exception cref="ArgumentOutOfRangeException">There is no such condition.</exception>
    public AlarmRisk RiskOf(AlarmCondition condition) => condition switch
    {
        AlarmCondition.SpO2Low => SpO2Low,
        AlarmCondition.SpO2High => SpO2High,
        AlarmCondition.PulseRateLow => PulseRateLow,
        AlarmCondition.PulseRateHigh => PulseRateHigh,
        AlarmCondition.NoReading => NoReading,
        AlarmCondition.SignalInadequate => SignalInadequate,
        AlarmCondition.LowPerfusion => LowPerfusion,
        AlarmCondition.Interference => Interference,
        AlarmCondition.SensorOff => SensorOff,
        AlarmCondition.SensorDisconnected => SensorDisconnected,
        AlarmCondition.StaleFeed => StaleFeed,
        AlarmCondition.SourceOnBattery => SourceOnBattery,
        AlarmCondition.SourceBatteryLow => SourceBatteryLow,
        AlarmCondition.ImplausibleValue => ImplausibleValue,
        _ => throw new ArgumentOutOfRangeException(nameof(condition), condition, "No such alarm condition."),
    };
}
