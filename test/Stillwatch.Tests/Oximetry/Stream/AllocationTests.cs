using Stillwatch.Oximetry;

namespace Stillwatch.Tests.Oximetry.Stream;

/// <summary>A stream that runs for days may not leave rubbish behind with every sample.</summary>
public class AllocationTests
{
    [Theory]
    [InlineData(BeatMethod.Default)]
    [InlineData(BeatMethod.SlopeSum)]
    [InlineData(BeatMethod.PeaksAndTroughs)]
    public void Once_it_runs_nothing_is_allocated(BeatMethod method)
    {
        var (infrared, red) = PlainLight.Light(125, 120, 80, 1, 0.6, noise: 0.05);
        for (int i = 4000; i < 4600; i++) infrared[i] = red[i] = double.NaN; // a gap is part of the run
        var stream = new OximetryStream(Heard.TwoLights(125), new OximetrySettings { Beats = method }, new Deaf());
        for (int i = 0; i < 20; i++) stream.Push(infrared, red); // until every method is compiled for good
        Thread.Yield();
        long before = GC.GetAllocatedBytesForCurrentThread();
        for (int i = 0; i < 5; i++) stream.Push(infrared, red);
        stream.PushGap(100_000);
        Assert.Equal(0, GC.GetAllocatedBytesForCurrentThread() - before);
    }

    private sealed class Deaf : IOximetrySink
    {
        public void Take(in Beat beat)
        {
        }

        public void Take(int secondIndex, in SecondReading reading)
        {
        }

        public void Take(in BreathingReading reading)
        {
        }
    }
}
