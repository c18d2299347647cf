using Stillwatch.Oximetry;
using Stillwatch.Rehearsal.Sensor;
using Stillwatch.Time;

namespace Stillwatch.Tests.Oximetry.Stream;

/// <summary>Lamps stand where they are; a heart that is early, changes or alternates is not a lamp. With one channel there is no colour to tell them apart by.</summary>
public sealed class FlickerTests
{
    private const int RateHz = 125;

    // what the heart does | what else is in the light | seconds 20 to 100 that are called flicker, at least and at most
    private const string Table = """
        steady                        | nothing               | 0  0
        one early beat each minute    | nothing               | 0  0
        an early beat every ten       | nothing               | 0  0
        every other beat weaker       | nothing               | 0  0
        every other beat early        | nothing               | 0  0
        from 70 to 110 in ten seconds | nothing               | 0  0
        irregular                     | nothing               | 0  0
        steady                        | a lamp for 5 s        | 0  0
        """;

    public static TheoryData<string> Rows => [.. Table.Split('\n')];

    [Theory, MemberData(nameof(Rows))]
    public void In_a_pleth_alone_only_a_line_that_stays_and_is_foreign_to_the_pulse_is_called_flicker(string row)
    {
        string[] cells = row.Split('|', StringSplitOptions.TrimEntries);
        var heard = Heard.Of(StreamInput.Pleth(SampleRate.Of(RateHz, 1000)), Pleth(cells[0], cells[1]), []);
        int[] expected = [.. cells[2].Split(' ', StringSplitOptions.RemoveEmptyEntries).Select(int.Parse)];
        int told = heard.Seconds.Skip(20).Take(80).Count(s => s.State == LightState.Flicker);
        Assert.True(told >= expected[0] && told <= expected[1], $"{told} s; {string.Join(' ', heard.Seconds.Skip(20).Take(80).GroupBy(s => s.State).Select(g => $"{g.Key} {g.Count()}"))}");
    }

    [Theory]
    [InlineData(true, 10)]
    [InlineData(false, 22)]
    public void A_lamp_beside_the_pulse_is_told_soon_by_its_colour_and_later_without_one(bool hasRed, int withinSeconds)
    {
        var light = new SensorTrial { Seconds = 100 }.Light(OpticalSensorSettings.Default, 4800, s => s < 40 ? default : new SensorMoment { Flicker = 0.006, FlickerHz = 1.7 });
        var heard = hasRed ? Heard.Of(Heard.TwoLights(RateHz), light.Infrared(), light.Red())
            : Heard.Of(new StreamInput(SampleRate.Of(RateHz, 1000), HasRed: false, FallsWithBlood: true, IsLight: false), light.Infrared(), []);
        Assert.DoesNotContain(heard.Seconds.Take(35), s => s.State == LightState.Flicker);
        var from = heard.Seconds.Skip(40 + withinSeconds).Take(50 - withinSeconds).GroupBy(s => s.State).OrderByDescending(g => g.Count()).ToList();
        Assert.True(from.Any(g => g.Key == LightState.Flicker) && from.All(g => g.Key != LightState.Valid), string.Join(' ', from.Select(g => $"{g.Key} {g.Count()}")));
    }

    private static double[] Pleth(string heart, string lamp)
    {
        var random = new Random(5);
        var values = new double[110 * RateHz];
        double start = 0;
        for (int beat = 0, i = 0; i < values.Length; beat++)
        {
            double usual = 0.8, length = heart switch
            {
                "one early beat each minute" when beat % 75 == 40 => 0.55,
                "one early beat each minute" when beat % 75 == 41 => 1.05,
                "an early beat every ten" when beat % 10 == 5 => 0.55,
                "an early beat every ten" when beat % 10 == 6 => 1.05,
                "every other beat early" => beat % 2 == 0 ? 0.65 : 0.95,
                "from 70 to 110 in ten seconds" => 60 / Math.Clamp(70 + (start - 50) * 4, 70, 110),
                "irregular" => usual * (0.8 + 0.4 * random.NextDouble()),
                _ => usual * (0.99 + 0.02 * random.NextDouble()),
            };
            double height = heart == "every other beat weaker" && beat % 2 == 1 ? 0.6 : 1;
            for (; i < values.Length && i / (double)RateHz < start + length; i++)
                values[i] = 0.5 + height * PlainLight.Pulse((i / (double)RateHz - start) / length) + 0.002 * random.NextDouble() + Lamp(lamp, i / (double)RateHz);
            start += length;
        }

        return values;
    }

    private static double Lamp(string lamp, double t) => lamp switch
    {
        "a lamp for 5 s" when t is > 50 and < 55 => 0.16 * Math.Sin(2 * Math.PI * 1.7 * t),
        _ => 0,
    };
}
