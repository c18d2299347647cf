using Stillwatch.Oxygenation.Scores;
using Stillwatch.Quantities;

namespace Stillwatch.Tests.Physiology;

/// <summary>NEWS2, Royal College of Physicians 2017; the chart as a secondary copy in Thorax, the bands of the aggregate from memory.</summary>
public sealed class News2Tests
{
    // scale | SpO2 % | air or oxygen | points of SpO2 | points of oxygen | source
    [Theory]
    [InlineData("1 | 95 | oxygen | 1 | 2 | arithmetic on the chart")]
    [InlineData("2 | 90 | air | 0 | 0 | arithmetic on the chart")]
    [InlineData("1 | 90 | air | 3 | 0 | arithmetic on the chart: the same patient on the wrong scale")]
    [InlineData("2 | 93 | air | 0 | 0 | arithmetic on the chart")]
    [InlineData("2 | 93 | oxygen | 1 | 2 | arithmetic on the chart")]
    [InlineData("2 | 96 | oxygen | 2 | 2 | arithmetic on the chart")]
    [InlineData("2 | 97 | oxygen | 3 | 2 | arithmetic on the chart")]
    [InlineData("2 | 83 | oxygen | 3 | 2 | arithmetic on the chart")]
    [InlineData("2 | 83 | air | 3 | 0 | arithmetic on the chart")]
    [InlineData("1 | 91 | air | 3 | 0 | chart, secondary copy")]
    [InlineData("1 | 92 | air | 2 | 0 | chart, secondary copy")]
    [InlineData("1 | 93 | air | 2 | 0 | chart, secondary copy")]
    [InlineData("1 | 94 | air | 1 | 0 | chart, secondary copy")]
    [InlineData("1 | 96 | air | 0 | 0 | chart, secondary copy")]
    [InlineData("1 | 100 | oxygen | 0 | 2 | chart, secondary copy: scale 1 does not see too much oxygen")]
    [InlineData("2 | 84 | air | 2 | 0 | chart, secondary copy")]
    [InlineData("2 | 85 | air | 2 | 0 | chart, secondary copy")]
    [InlineData("2 | 86 | oxygen | 1 | 2 | chart, secondary copy")]
    [InlineData("2 | 87 | oxygen | 1 | 2 | chart, secondary copy")]
    [InlineData("2 | 88 | oxygen | 0 | 2 | chart, secondary copy")]
    [InlineData("2 | 92 | oxygen | 0 | 2 | chart, secondary copy")]
    [InlineData("2 | 94 | oxygen | 1 | 2 | chart, secondary copy")]
    [InlineData("2 | 95 | oxygen | 2 | 2 | chart, secondary copy")]
    [InlineData("2 | 100 | air | 0 | 0 | chart, secondary copy")]
    [InlineData("1 | 91.5 | air | 2 | 0 | rounded to whole percent, half away from zero: our own reading of a chart of whole numbers")]
    [InlineData("1 | 91.499999 | air | 3 | 0 | the same")]
    public void Points_of_saturation_and_oxygen(string row)
    {
        var cells = new Cells(row);
        bool onOxygen = cells[2] == "oxygen";
        Assert.Equal(cells.Number(3), News2.PointsOfSpO2(Percent.Of(cells.Decimal(1)), Scale(cells[0]), onOxygen).Value);
        Assert.Equal(cells.Number(4), News2.PointsOfOxygen(onOxygen));
    }

    // what | value | points | source: chart, secondary copy
    [Theory]
    [InlineData("respiration | 8 | 3")]
    [InlineData("respiration | 9 | 1")]
    [InlineData("respiration | 11 | 1")]
    [InlineData("respiration | 12 | 0")]
    [InlineData("respiration | 20 | 0")]
    [InlineData("respiration | 21 | 2")]
    [InlineData("respiration | 24 | 2")]
    [InlineData("respiration | 25 | 3")]
    [InlineData("systolic | 90 | 3")]
    [InlineData("systolic | 91 | 2")]
    [InlineData("systolic | 100 | 2")]
    [InlineData("systolic | 101 | 1")]
    [InlineData("systolic | 110 | 1")]
    [InlineData("systolic | 111 | 0")]
    [InlineData("systolic | 219 | 0")]
    [InlineData("systolic | 220 | 3")]
    [InlineData("pulse | 40 | 3")]
    [InlineData("pulse | 41 | 1")]
    [InlineData("pulse | 50 | 1")]
    [InlineData("pulse | 51 | 0")]
    [InlineData("pulse | 90 | 0")]
    [InlineData("pulse | 91 | 1")]
    [InlineData("pulse | 110 | 1")]
    [InlineData("pulse | 111 | 2")]
    [InlineData("pulse | 130 | 2")]
    [InlineData("pulse | 131 | 3")]
    [InlineData("temperature | 35.0 | 3")]
    [InlineData("temperature | 35.1 | 1")]
    [InlineData("temperature | 36.0 | 1")]
    [InlineData("temperature | 36.1 | 0")]
    [InlineData("temperature | 38.0 | 0")]
    [InlineData("temperature | 38.1 | 1")]
    [InlineData("temperature | 39.0 | 1")]
    [InlineData("temperature | 39.1 | 2")]
    [InlineData("temperature | 39.04 | 1")] // to 0.1 °C first
    [InlineData("temperature | 39.05 | 2")]
    public void Points_of_the_rest_of_the_chart(string row)
    {
        var cells = new Cells(row);
        var observation = cells[0] switch
        {
            "respiration" => Well with { RespiratoryRatePerMinute = (int)cells.Number(1) },
            "systolic" => Well with { SystolicMmHg = (int)cells.Number(1) },
            "pulse" => Well with { PulsePerMinute = (int)cells.Number(1) },
            _ => Well with { TemperatureCelsius = cells.Decimal(1) },
        };
        var score = News2.Score(observation).Value;
        Assert.Equal(cells.Number(2), cells[0] switch { "respiration" => score.Respiration, "systolic" => score.Systolic, "pulse" => score.Pulse, _ => score.Temperature });
        Assert.Equal(cells.Number(2), score.Aggregate); // all else is normal
    }

    // RR | SpO2 | scale | oxygen | systolic | pulse | consciousness | temperature | aggregate | risk | source: points from the chart, bands from memory
    [Theory]
    [InlineData("16 | 97 | 1 | air | 120 | 70 | Alert | 37.0 | 0 | Low")]
    [InlineData("21 | 95 | 1 | air | 120 | 95 | Alert | 37.0 | 4 | Low")]
    [InlineData("25 | 97 | 1 | air | 120 | 70 | Alert | 37.0 | 3 | LowMedium")]
    [InlineData("16 | 97 | 1 | air | 120 | 70 | ConfusedOrBelow | 37.0 | 3 | LowMedium")]
    [InlineData("21 | 95 | 1 | oxygen | 120 | 70 | Alert | 37.0 | 5 | Medium")]
    [InlineData("21 | 95 | 1 | oxygen | 120 | 95 | Alert | 37.0 | 6 | Medium")]
    [InlineData("21 | 95 | 1 | oxygen | 105 | 95 | Alert | 37.0 | 7 | High")]
    [InlineData("22 | 90 | 2 | oxygen | 120 | 95 | Alert | 37.0 | 5 | Medium")]
    [InlineData("22 | 90 | 1 | oxygen | 120 | 95 | Alert | 37.0 | 8 | High")]
    [InlineData("30 | 80 | 1 | oxygen | 80 | 140 | ConfusedOrBelow | 34.0 | 20 | High")]
    public void The_aggregate_and_what_it_calls_for(string row)
    {
        var cells = new Cells(row);
        var score = News2.Score(new News2Observation
        {
            RespiratoryRatePerMinute = (int)cells.Number(0),
            SpO2 = Percent.Of(cells.Decimal(1)),
            Scale = Scale(cells[2]),
            OnOxygen = cells[3] == "oxygen",
            SystolicMmHg = (int)cells.Number(4),
            PulsePerMinute = (int)cells.Number(5),
            Consciousness = Enum.Parse<Consciousness>(cells[6]),
            TemperatureCelsius = cells.Decimal(7),
        }).Value;
        Assert.Equal(cells.Number(8), score.Aggregate);
        Assert.Equal(cells[9], score.Risk.ToString());
    }

    [Fact]
    public void A_missing_observation_is_never_scored_as_normal()
    {
        var answer = News2.Score(new News2Observation { Scale = SpO2Scale.Scale1 });
        Assert.False(answer.HasValue);
        foreach (string what in new[] { "respiratory rate", "SpO2", "air or oxygen", "systolic pressure", "pulse", "consciousness", "temperature" })
            Assert.Contains($"{what} is missing", answer.WhyNot, StringComparison.Ordinal);
    }

    [Fact]
    public void An_impossible_observation_is_refused_with_its_name()
    {
        Assert.Contains("SpO2 is 0 %", News2.Score(Well with { SpO2 = Percent.Of(0) }).WhyNot, StringComparison.Ordinal);
        Assert.Contains("temperature is 98.6 °C", News2.Score(Well with { TemperatureCelsius = 98.6m }).WhyNot, StringComparison.Ordinal);
        Assert.Contains("pulse is -1 /min", News2.Score(Well with { PulsePerMinute = -1 }).WhyNot, StringComparison.Ordinal);
        Assert.False(News2.PointsOfSpO2(Percent.Of(101), SpO2Scale.Scale2, true).HasValue);
    }

    private static News2Observation Well { get; } = new()
    {
        RespiratoryRatePerMinute = 16,
        SpO2 = Percent.Of(97),
        Scale = SpO2Scale.Scale1,
        OnOxygen = false,
        SystolicMmHg = 120,
        PulsePerMinute = 70,
        Consciousness = Consciousness.Alert,
        TemperatureCelsius = 37.0m,
    };

    private static SpO2Scale Scale(string number) => number == "2" ? SpO2Scale.Scale2 : SpO2Scale.Scale1;
}
