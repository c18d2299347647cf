using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Alarms;

/// <summary>What the source says of itself or of a row.</summary>
[Flags]
public enum SourceStates
{
    None = 0,

    /// <summary>The row is not valid (R2).</summary>
    NotValid = 1,

    /// <summary>The sensor is off the patient. Rows with it are not valid.</summary>
    SensorOff = 2,

    /// <summary>The sensor is not connected. Rows with it are not valid.</summary>
    SensorDisconnected = 4,
    Interference = 8,
    SignalInadequate = 16,
    LowPerfusion = 32,
    OnBattery = 64,
    BatteryLow = 128,
}

/// <summary>One row of a feed. Numbers are in millionths of their unit, <see cref="ValueColumn.Missing"/> where there is none.</summary>
/// <param name="Time">Its sample time.</param>
/// <param name="SpO2Micro">SpO2, %.</param>
/// <param name="PulseRateMicro">Pulse rate, /min.</param>
/// <param name="PerfusionMicro">Perfusion index, %.</param>
/// <param name="QualityMicro">Signal quality in the source's own unit.</param>
/// <param name="Flags">What the source says of this row; the states among them hold until the next row.</param>
public readonly record struct AlarmRow(
    SampleTime Time,
    int SpO2Micro = ValueColumn.Missing,
    int PulseRateMicro = ValueColumn.Missing,
    int PerfusionMicro = ValueColumn.Missing,
    int QualityMicro = ValueColumn.Missing,
    SourceStates Flags = SourceStates.None);

/// <summary>What an operator can do. It changes what is heard and shown, never what is counted (R12).</summary>
public enum OperatorAction
{
    /// <summary>Audio paused: nothing heard for a time; resumes by itself.</summary>
    PauseAudio,

    /// <summary>Audio off: nothing heard until somebody ends it; with a reminder.</summary>
    TurnAudioOff,

    /// <summary>Ends audio paused and audio off.</summary>
    ResumeAudio,

    /// <summary>Alarm paused: nothing heard or shown for a time; resumes by itself.</summary>
    PauseAlarm,

    /// <summary>Alarm off: nothing heard or shown until somebody ends it; with a reminder.</summary>
    TurnAlarmOff,

    /// <summary>Ends alarm paused and alarm off.</summary>
    ResumeAlarm,

    /// <summary>Silences what is current, until it clears; ends what is latched.</summary>
    Acknowledge,

    /// <summary>Takes the acknowledgement back.</summary>
    EndAcknowledgement,
}

public enum AlarmInputKind
{
    Advance,
    Row,
    SourceStates,
    OperatorAction,
    SettingsChange,
    EndOfRecording,
}

/// <summary>One input of the engine with the instant it takes effect. The default is an advance to the origin.</summary>
public readonly struct AlarmInput
{
    private AlarmInput(AlarmInputKind kind, SampleTime time)
    {
        Kind = kind;
        Time = time;
    }

    public AlarmInputKind Kind { get; }

    public SampleTime Time { get; private init; }

    public AlarmRow Row { get; private init; }

    public SourceStates States { get; private init; }

    public OperatorAction Action { get; private init; }

    /// <summary>The condition an operator's action is confined to; null: all.</summary>
    public AlarmCondition? Condition { get; private init; }

    /// <summary>How long a pause is to last; null: as the settings say.</summary>
    public Duration? Length { get; private init; }

    public AlarmSettings? Settings { get; private init; }

    public static AlarmInput Of(in AlarmRow row) => new(AlarmInputKind.Row, row.Time) { Row = row };

    /// <summary>The same input, but not a row, taking effect at another instant.</summary>
    internal AlarmInput At(SampleTime time) => this with { Time = time };

    /// <summary>
    /// Says that every input before <paramref name="time"/> has come: deadlines before it fire, those at it do not yet
    /// (R10: an input at the same instant would come first).
    /// </summary>
    public static AlarmInput AdvanceTo(SampleTime time) => new(AlarmInputKind.Advance, time);

    /// <summary>All states of the source from now on; what is not named is over.</summary>
    public static AlarmInput SourceIs(SampleTime time, SourceStates states) => new(AlarmInputKind.SourceStates, time) { States = states };

    public static AlarmInput Operator(SampleTime time, OperatorAction action, AlarmCondition? condition = null, Duration? length = null) =>
        new(AlarmInputKind.OperatorAction, time) { Action = action, Condition = condition, Length = length };

    public static AlarmInput SettingsAre(SampleTime time, AlarmSettings settings) => new(AlarmInputKind.SettingsChange, time) { Settings = settings };

    public static AlarmInput End(SampleTime time) => new(AlarmInputKind.EndOfRecording, time);
}
