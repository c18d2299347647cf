using Stillwatch.Oximetry;
using Stillwatch.Oximetry.Breathing;

namespace Stillwatch.Tests.Oximetry.Breathing;

/// <summary>Keeps the readings of a run.</summary>
internal sealed class BreathingReadings : IOximetrySink
{
    public List<BreathingReading> All { get; } = [];

    public static List<BreathingReading> Of(IEnumerable<Beat> beats, double endSeconds, double windowSeconds = 32)
    {
        var readings = new BreathingReadings();
        var rate = new BreathingRate(windowSeconds, readings);
        foreach (var beat in beats) rate.Take(beat);
        rate.End(endSeconds);
        return readings.All;
    }

    public void Take(in Beat beat) => Assert.Fail("A respiratory rate makes no beats.");

    public void Take(int secondIndex, in SecondReading reading) => Assert.Fail("A respiratory rate makes no seconds.");

    public void Take(in BreathingReading reading) => All.Add(reading);
}
