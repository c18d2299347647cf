using Stillwatch.Formats.Labels;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Formats.Digital;

/// <summary>
/// Takes the counts of one signal of a binary file and makes the channel's samples: exact decimals for what the rules judge, the counts
/// themselves for a waveform.
/// </summary>
internal sealed class SampleSink
{
    private readonly PlannedChannel plan;
    private Calibration calibration;
    private readonly IssueLog issues;
    private readonly CountColumn.Builder? counts;
    private readonly ValueColumn.Builder? values;
    private readonly Dictionary<int, int> microOf = []; // a reading repeats itself: the division is done once per count
    private const int CountsRemembered = 1 << 17;

    /// <param name="plan">The channel.</param>
    /// <param name="calibration">Of the counts to come.</param>
    /// <param name="issues">Where a value that no column can hold is listed.</param>
    /// <param name="asDecimals">Decimals for a waveform too, one rounding each: where its calibration changes on the way and no common one is exact.</param>
    public SampleSink(PlannedChannel plan, Calibration calibration, IssueLog issues, bool asDecimals = false)
    {
        this.plan = plan;
        this.calibration = calibration;
        this.issues = issues;
        if (plan.Kind.MayBeCounts() && !asDecimals) counts = new CountColumn.Builder();
        else values = new ValueColumn.Builder();
    }

    public int Count => counts?.Count ?? values!.Count;

    /// <summary>Counts from here on have another calibration. For decimals only: a column of counts has one.</summary>
    public void Recalibrate(Calibration next)
    {
        if (calibration == next) return;
        if (counts is not null) throw new InvalidOperationException($"Channel '{plan.Label}': found a second calibration, expected one for a column of counts.");
        calibration = next;
        microOf.Clear();
    }

    /// <param name="samples"><see cref="CountColumn.Missing"/>: no number.</param>
    public void Add(ReadOnlySpan<int> samples)
    {
        if (counts is not null)
        {
            counts.Add(samples);
            return;
        }

        foreach (int sample in samples) values!.Add(MicroOf(sample));
    }

    /// <summary>Samples that the file should hold and does not.</summary>
    public void AddMissing(int count)
    {
        for (int i = 0; i < count; i++)
        {
            if (counts is not null) counts.Add(CountColumn.Missing);
            else values!.Add(ValueColumn.Missing);
        }
    }

    /// <param name="times">As many as samples were added.</param>
    public FilledChannel Build(TimeAxis times) => counts is not null
        ? new FilledChannel(plan, times, null, counts.Build(calibration))
        : new FilledChannel(plan, times, values!.Build(), null);

    private int MicroOf(int sample)
    {
        if (sample == CountColumn.Missing) return ValueColumn.Missing;
        if (microOf.TryGetValue(sample, out int known)) return known == ValueColumn.Missing ? TooLarge(sample) : known;
        int micro = calibration.MicroOf(sample) ?? ValueColumn.Missing;
        if (microOf.Count < CountsRemembered) microOf[sample] = micro;
        return micro == ValueColumn.Missing ? TooLarge(sample) : micro;
    }

    private int TooLarge(int sample)
    {
        issues.Doubt(ChannelIssueCodes.ValueTooLarge, plan.Label, $"signal {plan.Index + 1} {IssueLog.Show(plan.Label)}", $"{calibration.ValueOf(sample):0.###} {plan.Unit}", "a value within ±2147", "no number");
        return ValueColumn.Missing;
    }
}
