using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Oximetry.Planning;

/// <summary>Chooses the channels.</summary>
internal static class OpticalPlanner
{
    public static (OpticalPlan Plan, SampleTime Start, double[] Pulse, double[] Red) Plan(Recording recording)
    {
        var infrared = recording.Find(ChannelKind.InfraredLight);
        var red = recording.Find(ChannelKind.RedLight);
        var pulse = infrared ?? recording.Find(ChannelKind.Pleth) ?? throw new NoLightException("no channel of light", "a pleth or red and infrared light");
        bool isLight = infrared is not null;
        if (!isLight) red = null;
        var rate = pulse.Times.Rate ?? SampleRate.FromPeriod(pulse.Times.Period);
        var start = pulse.Times.First;
        int length = (int)Math.Round((pulse.Times.Last - start).Seconds * rate.Hertz) + 1;
        var plan = new OpticalPlan
        {
            PulseLabel = pulse.Label,
            RedLabel = red?.Label,
            FallsWithBlood = isLight,
            IsLight = isLight,
            Rate = rate,
            Candidates = [new ChannelCandidate(pulse.Label, double.NaN, true, "by its kind")],
        };
        return (plan, start, Even(pulse, start, rate, length), red is null ? [] : Even(red, start, rate, length));
    }

    private static double[] Even(Channel channel, SampleTime start, SampleRate rate, int length)
    {
        var values = new double[length];
        Array.Fill(values, double.NaN);
        var chunk = new double[TimeAxis.ChunkLength];
        var times = new long[TimeAxis.ChunkLength];
        for (int i = 0; i < channel.Times.ChunkCount; i++)
        {
            channel.Times.CopyChunk(i, times);
            int count = channel.CopyValues(i, chunk);
            for (int j = 0; j < count; j++)
            {
                long index = (long)Math.Round((times[j] - start.Milliseconds) / 1000.0 * rate.Hertz);
                if (index >= 0 && index < length) values[index] = chunk[j];
            }
        }

        return values;
    }
}
