using Stillwatch.Conditioning;
using Stillwatch.Time;
using Stillwatch.Tuning.MustCatch;

namespace Stillwatch.Tuning.Proposals;

/// <summary>A recording with all that is the same for every candidate: its events, what invalid time may hide, and its series under some averaging times.</summary>
internal sealed class ReadyRecording
{
    private readonly ConditioningSettings conditioning;
    private readonly Dictionary<Duration, LostTime> kept = [];

    /// <param name="recording">The recording.</param>
    /// <param name="rules">Conditioning, and what invalid time may hide.</param>
    /// <param name="averagings">Averaging times whose series are conditioned now and kept, for who asks again and again; any other is conditioned anew each time.</param>
    public ReadyRecording(TuningRecording recording, ProposalRules rules, params IEnumerable<Duration> averagings)
    {
        Recording = recording;
        conditioning = rules.Conditioning;
        Unaveraged = LostTime.Of(recording.SpO2, conditioning with { Averaging = Duration.Zero, Rounding = Rounding.Display });
        Asked = [.. recording.MustCatch, .. Unaveraged.PossibleEvents(recording.Definition, recording.MustCatch, rules.LowNeighbour)];

        // The map gives an event's worst part; asking for each part as an event of its own keeps them apart.
        Parts = [.. Asked.SelectMany(e => e.Parts.Select(p => new MustCatchEvent(p.Onset, p.End, e.Nadir, [p])))];
        foreach (var averaging in averagings.Distinct()) kept[averaging] = LostTime.Of(recording.SpO2, conditioning with { Averaging = averaging });
    }

    public TuningRecording Recording { get; }

    /// <summary>Of the valid, unaveraged, rounded series: the same for every candidate.</summary>
    public LostTime Unaveraged { get; }

    /// <summary>The must-catch events, then those that invalid time may hide.</summary>
    public IReadOnlyList<MustCatchEvent> Asked { get; }

    /// <summary>The parts of <see cref="Asked"/> in order, each as an event of its own.</summary>
    public IReadOnlyList<MustCatchEvent> Parts { get; }

    public LostTime LostAt(Duration averaging) =>
        kept.TryGetValue(averaging, out var lost) ? lost : LostTime.Of(Recording.SpO2, conditioning with { Averaging = averaging });
}
