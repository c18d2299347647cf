using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Oximetry.Feed;

/// <summary>One or two channels of a recording as samples on one even grid, chunk by chunk; memory does not grow with the recording.</summary>
public sealed class LightFeed
{
    private readonly Channel pulse;
    private readonly Channel? red;
    private readonly GridChoice choice;

    private LightFeed(Channel pulse, Channel? red, GridChoice choice)
    {
        this.pulse = pulse;
        this.red = red;
        this.choice = choice;
    }

    /// <summary>Of the even grid.</summary>
    public SampleRate Rate => choice.Rate;

    /// <summary>Time of the first sample.</summary>
    public SampleTime Start => choice.Start;

    public FeedGrid Grid => choice.Grid;

    /// <summary>Looks at the channels' times and chooses the grid; reads no values.</summary>
    /// <exception cref="FeedRefusedException">No rows; fewer than 25 or more than 500 samples a second; two channels with different times.</exception>
    public static LightFeed Of(Channel pulse, Channel? red = null)
    {
        ArgumentNullException.ThrowIfNull(pulse);
        if (red is not null) PairedAxes.Check(pulse, red);
        return new LightFeed(pulse, red, GridChoice.For(pulse.Label, PairedAxes.Longer(pulse, red)));
    }

    /// <summary>Gives all samples to the sink, in order, and says what was given. May be run again.</summary>
    public FeedSummary Run(IFrameSink sink)
    {
        ArgumentNullException.ThrowIfNull(sink);
        return choice.Grid switch
        {
            FeedGrid.Even => EvenRows.Run(pulse, red, choice, sink),
            FeedGrid.Snapped => SnappedRows.Run(pulse, red, choice, sink),
            _ => ResampledRows.Run(pulse, red, choice, sink),
        };
    }
}
