using Stillwatch.Oximetry.Feed;

namespace Stillwatch.Oximetry.Planning;

/// <summary>A feed through the chain, from its first sample to its last.</summary>
internal static class LightRun
{
    public static FeedSummary Through(LightFeed feed, StreamInput input, OximetrySettings settings, IOximetrySink sink)
    {
        var frames = new Frames(new OximetryStream(input, settings, sink));
        var summary = feed.Run(frames);
        frames.Stream.End();
        return summary;
    }

    private sealed class Frames(OximetryStream stream) : IFrameSink
    {
        public OximetryStream Stream => stream;

        public void Take(ReadOnlySpan<double> pulse, ReadOnlySpan<double> red) => stream.Push(pulse, red);

        public void TakeGap(long samples) => stream.PushGap(samples);
    }
}
