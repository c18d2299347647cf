using CsCheck;
using Stillwatch.Alarms;
using Stillwatch.Formats.AlarmLists;
using Stillwatch.Quantities;

namespace Stillwatch.Formats.Tests.AlarmLists;

/// <summary>What the words of a monitor's log are taken to mean. Words of the trade, common practice, no source.</summary>
public class AlarmTextTests
{
    [Theory]
    [InlineData("SpO2 low")]
    [InlineData("LOW SPO2")]
    [InlineData("SpO₂ < 90 %")]
    [InlineData("SpO2 88 < 90")]
    [InlineData("90 > SpO2")]
    [InlineData("SpO2 ↓")]
    [InlineData("Alarm: SpO2 below limit")]
    [InlineData("SpO2 < 90 for > 10 s")]
    [InlineData("Desat")]
    [InlineData("sat low")]
    [InlineData("O2-Sättigung zu niedrig")]
    [InlineData("SpO2 untere Grenze unterschritten")]
    [InlineData("Entsättigung")]
    [InlineData("SpO2 basse")]
    [InlineData("Désaturation")]
    [InlineData("SpO2 baja")]
    [InlineData("SpO2 bassa")]
    [InlineData("SpO2 baixa")]
    [InlineData("SpO2 laag")]
    [InlineData("SpO2 låg")]
    [InlineData("SpO2 lav")]
    [InlineData("Red alarm: SpO2 low")]
    public void Saturation_low_is_understood(string text) => Assert.Equal((AlarmCondition.SpO2Low, false), Plain(text));

    [Theory]
    [InlineData("SpO2 high", AlarmCondition.SpO2High)]
    [InlineData("SpO2 > 98 %", AlarmCondition.SpO2High)]
    [InlineData("SpO2 zu hoch", AlarmCondition.SpO2High)]
    [InlineData("pulse rate low", AlarmCondition.PulseRateLow)]
    [InlineData("PR < 50", AlarmCondition.PulseRateLow)]
    [InlineData("Puls niedrig", AlarmCondition.PulseRateLow)]
    [InlineData("Pulse rate high", AlarmCondition.PulseRateHigh)]
    [InlineData("PR 131 > 120", AlarmCondition.PulseRateHigh)]
    [InlineData("pouls élevé", AlarmCondition.PulseRateHigh)]
    [InlineData("pulso alto", AlarmCondition.PulseRateHigh)]
    [InlineData("puls hög", AlarmCondition.PulseRateHigh)]
    public void Other_limits_are_understood(string text, AlarmCondition condition) => Assert.Equal((condition, false), Plain(text));

    [Theory]
    [InlineData("sensor off", AlarmCondition.SensorOff)]
    [InlineData("SpO2 sensor off patient", AlarmCondition.SensorOff)]
    [InlineData("no finger", AlarmCondition.SensorOff)]
    [InlineData("Sensor ab", AlarmCondition.SensorOff)]
    [InlineData("probe disconnected", AlarmCondition.SensorDisconnected)]
    [InlineData("no sensor", AlarmCondition.SensorDisconnected)]
    [InlineData("Sensor getrennt", AlarmCondition.SensorDisconnected)]
    [InlineData("low perfusion", AlarmCondition.LowPerfusion)]
    [InlineData("SpO2 low perfusion", AlarmCondition.LowPerfusion)]
    [InlineData("Perfusion schwach", AlarmCondition.LowPerfusion)]
    [InlineData("no pulse", AlarmCondition.NoReading)]
    [InlineData("Kein Puls", AlarmCondition.NoReading)]
    [InlineData("pas de pouls", AlarmCondition.NoReading)]
    [InlineData("SpO2 pulse search", AlarmCondition.NoReading)]
    [InlineData("no SpO2 reading", AlarmCondition.NoReading)]
    [InlineData("signal lost", AlarmCondition.NoReading)]
    [InlineData("poor signal quality", AlarmCondition.SignalInadequate)]
    [InlineData("SpO2 signal weak", AlarmCondition.SignalInadequate)]
    [InlineData("motion artefact", AlarmCondition.Interference)]
    [InlineData("battery low", AlarmCondition.SourceBatteryLow)]
    [InlineData("on battery", AlarmCondition.SourceOnBattery)]
    [InlineData("mains failure", AlarmCondition.SourceOnBattery)]
    [InlineData("Netzausfall", AlarmCondition.SourceOnBattery)]
    public void Technical_conditions_are_understood_before_limits(string text, AlarmCondition condition) => Assert.Equal((condition, false), Plain(text));

    [Theory]
    [InlineData("SpO2 low end", AlarmCondition.SpO2Low)]
    [InlineData("SpO2 low cleared", AlarmCondition.SpO2Low)]
    [InlineData("SpO2 low alarm off", AlarmCondition.SpO2Low)]
    [InlineData("Ende: Puls hoch", AlarmCondition.PulseRateHigh)]
    [InlineData("sensor off reset", AlarmCondition.SensorOff)]
    public void The_end_of_an_alarm_is_told_from_its_beginning(string text, AlarmCondition condition) => Assert.Equal((condition, true), Plain(text));

    [Theory]
    [InlineData("")]
    [InlineData("SpO2")]
    [InlineData("low")]
    [InlineData("alarm")]
    [InlineData("SpO2 low limit changed to 88")]
    [InlineData("SpO2 low acknowledged")]
    [InlineData("alarm silenced: SpO2 low")]
    [InlineData("Alarm quittiert SpO2 niedrig")]
    [InlineData("no SpO2 alarm")]
    [InlineData("SpO2 not low")]
    [InlineData("SpO2 high or low")]
    [InlineData("SpO2 / pulse low")]
    [InlineData("HR high")]
    [InlineData("heart rate low")]
    [InlineData("asystole")]
    [InlineData("respiration rate low")]
    [InlineData("blood pressure high")]
    [InlineData("check sensor")]
    [InlineData("on mains")]
    [InlineData("auf Netz")]
    [InlineData("not on battery")]
    [InlineData("no interference")]
    [InlineData("Sleep stage 2")]
    [InlineData("test alarm SpO2 low")]
    public void What_is_ambiguous_denied_somebodys_action_or_of_something_else_is_not_guessed_at(string text) => Assert.Null(AlarmText.Read(text).Condition);

    [Theory]
    [InlineData("Oxygen desaturation", null)]
    [InlineData("Desaturation", null)]
    [InlineData("movement", null)]
    [InlineData("EOG artefact", null)]
    [InlineData("Alarm: desaturation", AlarmCondition.SpO2Low)]
    [InlineData("SpO2 low", AlarmCondition.SpO2Low)]
    [InlineData("sensor off", AlarmCondition.SensorOff)]
    public void A_note_that_somebody_scored_is_no_alarm(string text, AlarmCondition? condition) => Assert.Equal(condition, AlarmText.ReadNote(text).Condition);

    [Theory]
    [InlineData("SpO2 88 < 90", "90")]
    [InlineData("SpO2 < 88.5 %", "88.5")]
    [InlineData("90 > SpO2", "90")]
    [InlineData("SpO2 low (limit 85)", "85")]
    [InlineData("PR 131 > 120", "120")]
    [InlineData("SpO2 low 84", null)]
    [InlineData("SpO2 low for > 10 s", null)]
    public void A_limit_is_taken_from_behind_a_sign_or_the_word_and_from_nowhere_else(string text, string? limit) =>
        Assert.Equal(limit is null ? null : FixedPoint.ToMicro(decimal.Parse(limit)), AlarmText.Read(text).LimitMicro);

    [Fact]
    public void Any_text_is_read_without_harm() => Gen.String.Sample(text => AlarmText.Read(text).LimitMicro is null or >= 0, iter: 3000);

    private static (AlarmCondition?, bool) Plain(string text)
    {
        var meaning = AlarmText.Read(text);
        return (meaning.Condition, meaning.IsEnd);
    }
}
