using System.Reflection;
using CsCheck;
using Stillwatch.Oximetry;
using Stillwatch.Oximetry.States;
using Stillwatch.Tests.Alarms;

namespace Stillwatch.Tests.Oximetry.States;

/// <summary>The table of rules by which a second of light is judged: a row for each rule, and one just on the other side of it.</summary>
public sealed class StateRulesTests
{
    // what happens | evidence that differs from a quiet second | state. Own rules, no source.
    private const string Rows = """
        quiet                                        |                                                      | Valid
        the converter stands still                   | FlatShare=0.96                                       | SensorOff
        a flat stretch within a second               | FlatShare=0.5                                        | Valid
        dark against before                          | LevelOfReference=0.09                                | SensorOff
        dark against the brightest                   | LevelOfGreatest=0.01                                 | SensorOff
        dark from the start                          | NoiseOfLevel=0.006 LevelOfReference=NaN              | SensorOff
        flood and no pulse                           | LevelOfReference=1.6 Shape=0.5                       | SensorOff
        flood and no beats                           | LevelOfReference=1.6 NearBeats=0                     | SensorOff
        a third less and no pulse out of the noise   | LevelOfReference=0.6 PulseOverNoise=5                | SensorOff
        a third less, the pulse is there             | LevelOfReference=0.6                                 | Motion
        a flat top                                   | ClippedShare=0.03                                    | Saturated
        a touch of the end                           | ClippedShare=0.01                                    | Valid
        a lamp goes on                               | StepOfPulse=0.7 StepAlikeInCounts=0.1                | Ambient
        a jump by as large a share of both           | StepOfPulse=0.7 StepAlikeInCounts=0.9                | Valid
        a great jump by as large a share of both     | StepOfPulse=1.6 StepAlikeInCounts=0.9                | Motion
        a great jump with one channel                | StepOfPulse=1.6                                      | Motion
        a lamp beside the pulse                      | LineShare=0.12 LineInCounts=1.05 LineSeconds=5       | Flicker
        a line that does not stay                    | LineShare=0.12 LineInCounts=1.05 LineSeconds=4       | Valid
        a line of the blood's colour                 | LineShare=0.12 LineInCounts=0.6 LineSeconds=60 LineOfPulse=1.3 | Valid
        a line of the colour of the pulse itself     | LineShare=0.12 LineInCounts=1 PulseInCounts=1 LineSeconds=14 LineOfPulse=1.3 | Valid
        a lamp beside the pulse, one channel         | LineShare=0.12 PulseInCounts=NaN LineSeconds=15 LineOfPulse=1.3 | Flicker
        one channel, a line that does not stay       | LineShare=0.12 PulseInCounts=NaN LineSeconds=14 LineOfPulse=1.3 | Valid
        one channel, every other beat weaker         | LineShare=0.12 PulseInCounts=NaN LineSeconds=60 LineOfPulse=1.5 | Valid
        one channel, a line of little power          | LineShare=0.09 PulseInCounts=NaN LineSeconds=60 LineOfPulse=1.3 | Valid
        a lamp instead of the pulse                  | PeakOvertone=0.01 PeakInCounts=0.97                  | Flicker
        a pulse of few overtones                     | PeakOvertone=0.01 PeakInCounts=0.6                   | Valid
        a pulse that is one in counts                | PeakOvertone=0.2 PeakInCounts=0.97                   | Valid
        no beats                                     | NearBeats=0                                          | NoPulse
        one beat                                     | NearBeats=1                                          | NoPulse
        lost in the noise                            | PulseOverNoise=3                                     | NoPulse
        weak and of no common shape                  | PulseOverNoise=10 Shape=0.7                          | NoPulse
        a tenth of the pulse, of no common shape     | AmplitudeOfReference=0.09 Shape=0.7                  | NoPulse
        a tenth of the pulse, of one shape           | AmplitudeOfReference=0.09                            | Valid
        beats three times as large                   | AmplitudeOfReference=3.1                             | Motion
        beats twice as large                         | AmplitudeOfReference=2                               | Valid
        the level wanders                            | Wander=2.1                                           | Motion
        the sensor has moved to more light           | LevelOfReference=1.2                                 | Motion
        the sensor has moved to less light           | LevelOfReference=0.8                                 | Motion
        a hand is raised                             | LevelOfReference=1.1                                 | Valid
        signs add up                                 | Shape=0.91 AmplitudeSpread=1.9 Skewness=-0.1         | Motion
        one sign alone                               | Shape=0.91                                           | Valid
        an irregular heart                           | AmplitudeSpread=2.5 IntervalSpread=2.5 Shape=0.95    | Valid
        the colours do not move together             | Unlike=0.08 Skewness=0                               | Motion
        signs weigh more near a ratio of one         | Ratio=1 Shape=0.91 Wander=1                          | Motion
        the same signs elsewhere                     | Ratio=0.5 Shape=0.91 Wander=1                        | Valid
        the same signs in noise                      | PulseOverNoise=15 Ratio=1 Shape=0.91 Wander=1        | Weak
        a pulse that leans the other way             | Ratio=1 Skewness=-0.35                               | Valid
        the same pulse in brighter blood             | Ratio=0.5 Skewness=-0.35                             | Valid
        the ratio leaps up                           | RatioChange=0.25                                     | Motion
        the ratio leaps down                         | RatioChange=-0.25                                    | Motion
        the ratio falls as in an apnoea              | RatioChange=0.1                                      | Valid
        three beats after the start                  | WindowBeats=3 SecondsSinceStart=3                    | Settling
        three good beats later                       | WindowBeats=3                                        | Valid
        two good beats later                         | WindowBeats=2                                        | Weak
        unlike shapes and nothing else               | Shape=0.79 Skewness=0.5                              | Motion
        unlike shapes in noise                       | Shape=0.79 PulseOverNoise=15                         | Weak
        an uncertain ratio                           | RatioError=0.07                                      | Weak
        off goes before saturated                    | FlatShare=1 ClippedShare=1                           | SensorOff
        saturated goes before movement               | ClippedShare=0.5 Wander=5                            | Saturated
        """;

    [Fact]
    public void Each_row_of_evidence_gives_its_state()
    {
        foreach (string row in Rows.Split('\n'))
        {
            string[] cells = row.Split('|', StringSplitOptions.TrimEntries);
            Assert.Equal((cells[0], Enum.Parse<LightState>(cells[2])), (cells[0], StateRules.Judge(Evidence(cells[1]))));
        }
    }

    [Fact]
    public void Every_rule_decides_at_least_one_row()
    {
        var used = Rows.Split('\n').Select(row => Evidence(row.Split('|', StringSplitOptions.TrimEntries)[1]))
            .Select(e => StateRules.All.FirstOrDefault(rule => rule.Holds(e))).ToHashSet();
        Assert.All(StateRules.All, rule => Assert.True(used.Contains(rule), rule.Words));
    }

    [Fact]
    public void What_is_not_known_accuses_nobody()
    {
        object unknown = SecondEvidence.Quiet;
        foreach (var property in typeof(SecondEvidence).GetProperties().Where(p => p.PropertyType == typeof(double) && p.CanWrite)) property.SetValue(unknown, double.NaN);
        Assert.Equal(LightState.Valid, StateRules.Judge((SecondEvidence)unknown));
        Assert.Equal(0, MovementSigns.Of((SecondEvidence)unknown));
    }

    [Fact]
    public void More_of_a_sign_is_never_less_movement_and_never_more_quality() =>
        Gen.Select(Gen.Double[0.5, 1], Gen.Double[-1, 1], Gen.Double[1, 4], Gen.Double[1, 4], Gen.Double[0, 1], Gen.Double[0, 3], Gen.Double[0, 0.3], Gen.Double[0, 1])
            .Sample((shape, skewness, amplitude, interval, spectral, wander, unlike, more) =>
            {
                var e = SecondEvidence.Quiet with
                {
                    Shape = shape,
                    Skewness = skewness,
                    AmplitudeSpread = amplitude,
                    IntervalSpread = interval,
                    SpectralShare = spectral,
                    Wander = wander,
                    Unlike = unlike,
                };
                SecondEvidence[] worse =
                [
                    e with { Shape = shape - more }, e with { Skewness = skewness - more }, e with { AmplitudeSpread = amplitude + more },
                    e with { IntervalSpread = interval + more }, e with { SpectralShare = spectral - more }, e with { Wander = wander + more }, e with { Unlike = unlike + more },
                ];
                foreach (var w in worse)
                {
                    Assert.True(MovementSigns.Of(w) >= MovementSigns.Of(e));
                    Assert.True(SecondQuality.Of(w) <= SecondQuality.Of(e));
                }

                Assert.InRange(SecondQuality.Of(e), 0, 1);
            }, iter: Sampling.Cases(500));

    [Fact]
    public void A_quiet_second_has_full_quality_and_no_sign_of_movement()
    {
        Assert.Equal(1, SecondQuality.Of(SecondEvidence.Quiet));
        Assert.Equal(0, MovementSigns.Of(SecondEvidence.Quiet), 0.2);
        Assert.Equal(0, SecondQuality.Of(SecondEvidence.Quiet with { NearBeats = 0 }));
    }

    // seconds one after another as they are judged by themselves: v valid, m motion, w weak, o sensor off, n no pulse | what is said of them
    [Theory]
    [InlineData("vvvv", "vvvv")]
    [InlineData("vmvvvvvvv", "vmmmmmmvv")]
    [InlineData("vmvmvvvvvvv", "vmmmmmmmmvv")]
    [InlineData("vovvvvvvv", "vooooooVv")]
    [InlineData("vmwvnvvvvv", "vmwmnmmvvv")]
    [InlineData("wvvnv", "wvvnv")]
    public void A_disturbance_is_over_when_it_has_been_away_for_five_seconds(string own, string said)
    {
        var hold = new StateHold();
        string got = string.Concat(own.Select((letter, second) => Letter(hold.Next(second, State(letter), isTrusted: true))));
        Assert.Equal(said.ToLowerInvariant(), got);
        hold.Reset();
        Assert.Equal(LightState.Valid, hold.Next(own.Length, LightState.Valid, isTrusted: true));
    }

    [Fact]
    public void Before_a_number_was_ever_shown_a_disturbance_must_be_away_for_ten_seconds()
    {
        var hold = new StateHold();
        Assert.Equal(LightState.Motion, hold.Next(0, LightState.Motion, isTrusted: false));
        for (int second = 1; second <= 10; second++) Assert.Equal(LightState.Motion, hold.Next(second, LightState.Valid, isTrusted: false));
        Assert.Equal(LightState.Valid, hold.Next(11, LightState.Valid, isTrusted: false));
    }

    private static LightState State(char letter) => letter switch
    {
        'm' => LightState.Motion,
        'w' => LightState.Weak,
        'o' => LightState.SensorOff,
        'n' => LightState.NoPulse,
        _ => LightState.Valid,
    };

    private static char Letter(LightState state) => state switch
    {
        LightState.Motion => 'm',
        LightState.Weak => 'w',
        LightState.SensorOff => 'o',
        LightState.NoPulse => 'n',
        _ => 'v',
    };

    private static SecondEvidence Evidence(string changes)
    {
        object evidence = SecondEvidence.Quiet;
        foreach (string change in changes.Split(' ', StringSplitOptions.RemoveEmptyEntries))
        {
            string[] parts = change.Split('=');
            var property = typeof(SecondEvidence).GetProperty(parts[0], BindingFlags.Public | BindingFlags.Instance) ?? throw new ArgumentException(parts[0]);
            double value = double.Parse(parts[1]);
            property.SetValue(evidence, property.PropertyType == typeof(int) ? (object)(int)value : value);
        }

        return (SecondEvidence)evidence;
    }
}
