namespace Stillwatch.Alarms;

/// <summary>Conditions in a sentence, the same on every page and in every reason.</summary>
public static class ConditionWords
{
    public static string InWords(this AlarmCondition condition) => condition switch
    {
        AlarmCondition.SpO2Low => "SpO2 low",
        AlarmCondition.SpO2High => "SpO2 high",
        AlarmCondition.PulseRateLow => "pulse rate low",
        AlarmCondition.PulseRateHigh => "pulse rate high",
        AlarmCondition.NoReading => "no reading",
        AlarmCondition.SignalInadequate => "signal inadequate",
        AlarmCondition.LowPerfusion => "low perfusion",
        AlarmCondition.Interference => "interference",
        AlarmCondition.SensorOff => "sensor off",
        AlarmCondition.SensorDisconnected => "sensor disconnected",
        AlarmCondition.StaleFeed => "stale feed",
        AlarmCondition.SourceOnBattery => "source on battery",
        AlarmCondition.SourceBatteryLow => "source's battery low",
        _ => "implausible value",
    };
}
