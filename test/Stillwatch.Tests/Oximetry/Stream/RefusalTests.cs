using Stillwatch.Oximetry;

namespace Stillwatch.Tests.Oximetry.Stream;

/// <summary>Light in which there is no number to be had: none is made up, and a reason stands there.</summary>
public class RefusalTests
{
    private const int RateHz = 125;

    /// <summary>What the light is | the states that may be given from second 20 to 40.</summary>
    private const string Table = """
        a steady light                          | SensorOff
        no light                                | SensorOff
        no samples                              | NoSamples
        a steady light with noise               | NoPulse Weak Motion
        light that wanders up and down slowly   | NoPulse Weak Motion
        the top of every pulse cut              | Saturated
        one beat every four seconds             | NoPulse Weak Motion
        lamps alone at 1.5 Hz                   | Flicker NoPulse
        """;

    public static TheoryData<string, string> Rows
    {
        get
        {
            var rows = new TheoryData<string, string>();
            foreach (string line in Table.Split('\n')) rows.Add(line.Split('|')[0].Trim(), line.Split('|')[1].Trim());
            return rows;
        }
    }

    [Theory, MemberData(nameof(Rows))]
    public void No_number_is_shown_and_the_reason_is_one_of_these(string light, string states)
    {
        var random = new Random(11);
        var (infrared, red) = (new double[60 * RateHz], new double[60 * RateHz]);
        for (int i = 0; i < infrared.Length; i++)
        {
            double t = (double)i / RateHz, noise = random.NextDouble() - 0.5, redNoise = random.NextDouble() - 0.5;
            double blood = light switch
            {
                "light that wanders up and down slowly" => 0.02 * Math.Sin(2 * Math.PI * t / 11) + 1e-4 * noise,
                "the top of every pulse cut" => Math.Min(0.01 * PlainLight.Pulse(1.2 * t), 0.006),
                "one beat every four seconds" => 0.01 * PlainLight.Pulse(Math.Min(t % 4, 0.8) / 0.8) + 1e-5 * noise,
                _ => 0,
            };
            (infrared[i], red[i]) = light switch
            {
                "no light" => (0, 0),
                "no samples" => (double.NaN, double.NaN),
                "a steady light" => (80_000, 50_000),
                "a steady light with noise" => (80_000 + 20 * noise, 50_000 + 20 * redNoise),
                "lamps alone at 1.5 Hz" => (80_000 + 400 * Math.Sin(3 * Math.PI * t) + noise, 50_000 + 400 * Math.Sin(3 * Math.PI * t) + redNoise),
                _ => (80_000 * Math.Exp(-blood), 50_000 * Math.Exp(-0.6 * blood - 1e-5 * redNoise)),
            };
        }

        var heard = Heard.Of(Heard.TwoLights(RateHz), infrared, red);
        Assert.All(heard.Seconds.Skip(20).Take(20), s => Assert.Contains(s.State.ToString(), states.Split(' ')));
        heard.Sound();
    }

    [Fact]
    public void When_the_pulse_stops_its_numbers_stop_within_the_averaging_time()
    {
        var random = new Random(4);
        var (infrared, red) = PlainLight.Light(RateHz, 120, 72, 1, 0.6, noise: 0.01);
        for (int i = 60 * RateHz; i < infrared.Length; i++) (infrared[i], red[i]) = (79_000 + 8 * random.NextDouble(), 49_500 + 5 * random.NextDouble());
        var heard = Heard.Of(Heard.TwoLights(RateHz), infrared, red);
        Assert.Equal(LightState.Valid, heard.Seconds[50].State);
        Assert.All(heard.Seconds.Skip(68), s => Assert.NotEqual(LightState.Valid, s.State));
        Assert.All(heard.Seconds.Skip(56).Take(12), s => Assert.True(double.IsNaN(s.PulseRatePerMinute) || Math.Abs(s.PulseRatePerMinute - 72) < 3));
    }
}
