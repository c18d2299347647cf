namespace Stillwatch.Alarms;

/// <summary>What an alarm signal can be about. The first four are physiological, the rest technical; their loads are never added together (R12).</summary>
public enum AlarmCondition
{
    /// <summary>SpO2 below its low limit or its backstop: one signal, counted once (R8).</summary>
    SpO2Low,
    SpO2High,
    PulseRateLow,
    PulseRateHigh,

    /// <summary>No value: nothing valid came for longer than a value holds.</summary>
    NoReading,

    /// <summary>The source says that its signal does not suffice.</summary>
    SignalInadequate,
    LowPerfusion,
    Interference,
    SensorOff,
    SensorDisconnected,

    /// <summary>No row came at all for too long.</summary>
    StaleFeed,
    SourceOnBattery,
    SourceBatteryLow,

    /// <summary>SpO2 from 1 to 29 % (R2): counted, and pointed out besides.</summary>
    ImplausibleValue,
}

public static class AlarmConditions
{
    public static bool IsPhysiological(this AlarmCondition condition) => condition <= AlarmCondition.PulseRateHigh;
}

/// <summary>Priority of an alarm condition (IEC 60601-1-8).</summary>
public enum AlarmPriority
{
    None,
    Low,
    Medium,
    High,
}

/// <summary>How a signal ended.</summary>
public enum SignalEnding
{
    /// <summary>By a value at or beyond limit and margin.</summary>
    Cleared,

    /// <summary>The value was lost and did not come back in time, or came back recovered (R9).</summary>
    Lost,

    /// <summary>With the recording.</summary>
    End,
}
