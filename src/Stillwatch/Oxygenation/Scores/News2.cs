using Stillwatch.Oxygenation.Indices;
using Stillwatch.Quantities;

namespace Stillwatch.Oxygenation.Scores;

/// <summary>What an aggregate score calls for; the response itself is local policy.</summary>
public enum News2Risk
{
    /// <summary>0–4, and no single 3.</summary>
    Low,

    /// <summary>0–4 with a single 3: urgent review on the ward.</summary>
    LowMedium,

    /// <summary>5–6.</summary>
    Medium,

    /// <summary>7 or more.</summary>
    High,
}

/// <summary>Points of each part of the chart.</summary>
public sealed record News2Score(int Respiration, int SpO2, int Oxygen, int Systolic, int Pulse, int Consciousness, int Temperature)
{
    public int Aggregate => Respiration + SpO2 + Oxygen + Systolic + Pulse + Consciousness + Temperature;

    public bool HasSingleThree => Respiration == 3 || SpO2 == 3 || Systolic == 3 || Pulse == 3 || Consciousness == 3 || Temperature == 3;

    /// <summary>Bands from memory; one source calls a single 3 "medium" instead.</summary>
    public News2Risk Risk => Aggregate switch
    {
        >= 7 => News2Risk.High,
        >= 5 => News2Risk.Medium,
        _ => HasSingleThree ? News2Risk.LowMedium : News2Risk.Low,
    };
}

/// <summary>
/// The national early warning score of the Royal College of Physicians, 2017. Not for children under 16 or in pregnancy (from memory).
/// It supports judgement and local policy; it replaces neither.
/// </summary>
/// <remarks>Chart: RCP 2017, read as a secondary copy in Thorax. Rows marked so in the tests.</remarks>
public static class News2
{
    /// <summary>Points of SpO2 alone.</summary>
    /// <returns>0–3, or why there is none: no reading.</returns>
    public static Answer<int> PointsOfSpO2(Percent spO2, SpO2Scale scale, bool onOxygen)
    {
        if (UsableReading.WhyNot(spO2) is { } why) return Answer.None<int>(why);
        int percent = FixedPoint.RoundToWhole(spO2.Micro) / FixedPoint.One;
        return Answer.Of(scale == SpO2Scale.Scale1
            ? percent switch { <= 91 => 3, <= 93 => 2, <= 95 => 1, _ => 0 }
            : percent switch
            {
                <= 83 => 3,
                <= 85 => 2,
                <= 87 => 1,
                <= 92 => 0,
                _ when !onOxygen => 0,
                <= 94 => 1,
                <= 96 => 2,
                _ => 3,
            });
    }

    /// <summary>2 on oxygen, 0 on air.</summary>
    public static int PointsOfOxygen(bool onOxygen) => onOxygen ? 2 : 0;

    /// <summary>The whole chart.</summary>
    /// <returns>The points, or why there are none: every observation that is missing or impossible is named.</returns>
    public static Answer<News2Score> Score(News2Observation observation)
    {
        ArgumentNullException.ThrowIfNull(observation);
        var wanting = Wanting(observation).ToList();
        if (wanting.Count > 0) return Answer.None<News2Score>(string.Join("; ", wanting));
        bool onOxygen = observation.OnOxygen!.Value;
        return Answer.Of(new News2Score(
            Respiration: observation.RespiratoryRatePerMinute!.Value switch { <= 8 => 3, <= 11 => 1, <= 20 => 0, <= 24 => 2, _ => 3 },
            SpO2: PointsOfSpO2(observation.SpO2!.Value, observation.Scale, onOxygen).Value,
            Oxygen: PointsOfOxygen(onOxygen),
            Systolic: observation.SystolicMmHg!.Value switch { <= 90 => 3, <= 100 => 2, <= 110 => 1, <= 219 => 0, _ => 3 },
            Pulse: observation.PulsePerMinute!.Value switch { <= 40 => 3, <= 50 => 1, <= 90 => 0, <= 110 => 1, <= 130 => 2, _ => 3 },
            Consciousness: observation.Consciousness == Scores.Consciousness.Alert ? 0 : 3,
            Temperature: Math.Round(observation.TemperatureCelsius!.Value, 1, MidpointRounding.AwayFromZero) switch
            {
                <= 35.0m => 3,
                <= 36.0m => 1,
                <= 38.0m => 0,
                <= 39.0m => 1,
                _ => 2,
            }));
    }

    private static IEnumerable<string> Wanting(News2Observation observation)
    {
        if (Beyond(observation.RespiratoryRatePerMinute, "respiratory rate", "/min", 0, 100) is { } respiration) yield return respiration;
        if (observation.SpO2 is not { } spO2) yield return "SpO2 is missing";
        else if (UsableReading.WhyNot(spO2) is { } noReading) yield return noReading;
        if (observation.OnOxygen is null) yield return "air or oxygen is missing";
        if (Beyond(observation.SystolicMmHg, "systolic pressure", "mmHg", 0, 350) is { } systolic) yield return systolic;
        if (Beyond(observation.PulsePerMinute, "pulse", "/min", 0, 350) is { } pulse) yield return pulse;
        if (observation.Consciousness is null) yield return "consciousness is missing";
        if (Beyond(observation.TemperatureCelsius, "temperature", "°C", 20, 45) is { } temperature) yield return temperature;
    }

    private static string? Beyond(decimal? value, string what, string unit, int lowest, int highest)
    {
        if (value is not { } number) return $"{what} is missing";
        return number >= lowest && number <= highest ? null : $"{what} is {number} {unit}; expected {lowest} to {highest}";
    }
}
