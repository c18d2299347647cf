using System.Globalization;
using Stillwatch.Rehearsal.Sensor;

namespace Stillwatch.Tests.Rehearsal.Sensor;

/// <summary>Light without noise must hold what was put into it, found by arithmetic on paper rather than by the estimator.</summary>
public sealed class RatioAndPerfusionTests
{
    // Ratio of ratios from saturation by the two-species formula (Beer and Lambert, equal path; Webster (ed.), Design of Pulse Oximeters, 1997, from memory;
    // the formula in a secondary copy, chatppg.com/algorithms/spo2-ratio-of-ratios), worked out from the extinction tables
    // of S. Prahl: omlc.org/spectra/hemoglobin (Gratzer and Kollias; secondary copies) and omlc.org/spectra/hemoglobin/moaveni.html.
    private const string RatioOfSaturation = """
        S %  | Gratzer/Kollias 660/940 | 660/905 | Moaveni 660/940 | 660/905
        100  | 0.2633 | 0.2647 | 0.2667 | 0.2645
        97   | 0.3395 | 0.3406 | 0.3421 | 0.3385
        95   | 0.3914 | 0.3921 | 0.3932 | 0.3884
        90   | 0.5252 | 0.5244 | 0.5241 | 0.5157
        85   | 0.6652 | 0.6618 | 0.6596 | 0.6463
        80   | 0.8118 | 0.8046 | 0.8000 | 0.7805
        70   | 1.1265 | 1.1076 | 1.0963 | 1.0600
        50   | 1.8591 | 1.7944 | 1.7600 | 1.6682
        0    | 4.6530 | 4.1979 | 4.0000 | 3.5556
        """;

    private static readonly (BloodTable Blood, InfraredLamp Lamp)[] Columns =
    [
        (BloodTable.GratzerKollias, InfraredLamp.At940Nanometres), (BloodTable.GratzerKollias, InfraredLamp.At905Nanometres),
        (BloodTable.Moaveni, InfraredLamp.At940Nanometres), (BloodTable.Moaveni, InfraredLamp.At905Nanometres),
    ];

    public static TheoryData<double, BloodTable, InfraredLamp, double> Ratio
    {
        get
        {
            var data = new TheoryData<double, BloodTable, InfraredLamp, double>();
            foreach (var row in PlainTwins.Rows(RatioOfSaturation))
            {
                for (int i = 0; i < Columns.Length; i++) data.Add(Number(row[0]), Columns[i].Blood, Columns[i].Lamp, Number(row[i + 1]));
            }

            return data;
        }
    }

    [Theory]
    [MemberData(nameof(Ratio))]
    public void Every_beat_of_quiet_light_has_the_ratio_of_its_saturation(double saturation, BloodTable blood, InfraredLamp lamp, double ratio)
    {
        var light = new SensorTrial { Seconds = 12, SaturationPercent = saturation }.Light(PlainTwins.Ideal with { Blood = blood, Infrared = lamp }, 11);
        // The rows are printed to 0.00005; a count is 0.0008 % of the infrared pulse and 0.003 % of the red one at the least.
        Assert.All(PlainTwins.Ratios(light), found => Assert.InRange(found, ratio - 0.0002, ratio + 0.0002));
        Assert.All(light.SaturationPercent, s => Assert.Equal(saturation, s));
    }

    [Fact]
    public void The_absorption_of_whole_blood_is_the_published_worked_figure()
    {
        // 2.303 · e · 150 g/L / 66 500 g/mol at 660 nm, worked from the table of Gratzer and Kollias: 16.76 and 1.660 per cm.
        var blood = BloodColour.Of(BloodTable.GratzerKollias, InfraredLamp.At940Nanometres);
        Assert.Equal(16.76, blood.Red(0), 0.005);
        Assert.Equal(1.660, blood.Red(1), 0.0005);
    }

    [Fact]
    public void The_two_tables_give_different_light_for_the_same_patient()
    {
        var trial = new SensorTrial { Seconds = 10, SaturationPercent = 75 };
        var one = trial.Light(PlainTwins.Ideal, 3);
        var other = trial.Light(PlainTwins.Ideal with { Blood = BloodTable.Moaveni }, 3);
        Assert.Equal(one.BeatSeconds, other.BeatSeconds);
        Assert.True(Math.Abs(PlainTwins.Ratios(one)[0] - PlainTwins.Ratios(other)[0]) > 0.01);
        Assert.NotEqual(one.Red(), other.Red());
    }

    [Theory]
    [InlineData(0.2, 75, 0.003)]
    [InlineData(1, 75, 0.003)]
    [InlineData(5, 75, 0.003)]
    [InlineData(20, 75, 0.01)]
    [InlineData(2, 30, 0.01)] // the mean moves with the shape, and the shape with the rate
    [InlineData(2, 240, 0.01)]
    public void The_perfusion_found_is_the_perfusion_asked_for(double perfusion, double rate, double relative)
    {
        foreach (var shape in new[] { PulseShape.Adult, PulseShape.Young, PulseShape.Old, PulseShape.Newborn })
        {
            var light = new SensorTrial { Seconds = 20, PerfusionPercent = perfusion, PulseRatePerMinute = rate }.Light(PlainTwins.Ideal with { Shape = shape, SamplesPerSecond = 500 }, 5);
            Assert.All(PlainTwins.Perfusion(light), found => Assert.InRange(found, perfusion * (1 - relative), perfusion * (1 + relative)));
        }
    }

    [Fact]
    public void Without_perfusion_there_is_no_pulse()
    {
        var light = PlainTwins.NoPulse.Light(PlainTwins.Ideal, 5);
        Assert.Single(light.Infrared().Distinct());
        Assert.Single(light.Red().Distinct());
    }

    [Fact]
    public void Pulsing_venous_blood_pulls_the_ratio_towards_its_own()
    {
        var trial = new SensorTrial { Seconds = 30, SaturationPercent = 97, VenousDifferencePercent = 27 };
        double arterial = 0.3395, venous = 1.1265; // rows 97 and 70 of the first column
        double[] pulled = [.. new[] { 0, 0.1, 0.3 }.Select(part => PlainTwins.Mean(PlainTwins.Ratios(trial.Light(PlainTwins.Ideal with { VenousPulse = part }, 5))))];
        Assert.True(pulled[0] < pulled[1] && pulled[1] < pulled[2]);
        Assert.InRange(pulled[2], arterial, (arterial + 0.3 * venous) / 1.3); // at most as if both came at once
        Assert.True(pulled[2] > arterial + 0.05);
    }

    [Fact]
    public void A_falling_saturation_is_in_the_light_when_it_is_in_the_truth()
    {
        // Over ten minutes: in a faster fall the level of red light sinks within a beat, which most over least light takes for pulse.
        var light = new SensorTrial { Seconds = 600, SaturationPercent = 97, LastSaturationPercent = 80 }.Light(PlainTwins.Ideal, 5);
        double[] ratios = PlainTwins.Ratios(light);
        Assert.Equal(97, light.SaturationPercent[0]);
        Assert.Equal(80, light.SaturationPercent[^1], 0.03);
        Assert.True(ratios.Zip(ratios.Skip(1)).All(p => p.Second > p.First));
        Assert.InRange(ratios[0], 0.33, 0.345);
        Assert.InRange(ratios[^1], 0.80, 0.815);
    }

    [Fact]
    public void Darker_blood_darkens_the_red_light_and_not_only_its_pulse()
    {
        // Lasting paths of 0.05 mm of arterial and 0.15 mm of venous blood, both 27 points darker: 2.303 · 150/66 500 · Δe · 0.27 · 0.02 cm.
        double Level(double saturation, Func<RehearsedLight, double[]> of) => of((PlainTwins.NoPulse with { SaturationPercent = saturation }).Light(PlainTwins.Ideal, 5))[0];
        Assert.Equal(0.0815, Math.Log(Level(97, l => l.Red()) / Level(70, l => l.Red())), 0.0002); // Δe = 3226.56 − 319.6
        Assert.Equal(-0.0146, Math.Log(Level(97, l => l.Infrared()) / Level(70, l => l.Infrared())), 0.0002); // Δe = 693.44 − 1214
    }

    private static double Number(string cell) => double.Parse(cell, CultureInfo.InvariantCulture);
}
