using Stillwatch.Replay;
using Stillwatch.Time;
using Stillwatch.Tuning.MustCatch;

namespace Stillwatch.Tuning.Proposals;

/// <summary>A stretch for a reviewer, with nothing that tells what any settings made of it.</summary>
public sealed record BlindStretch(string Patient, string Recording, TimeSlice Slice);

/// <summary>
/// A random sample of stretches that did not signal, for reviewers who do not know the alarms (R14.10): what nobody was called
/// to, nobody has judged.
/// </summary>
/// <param name="Drawn">In drawn order, so that the order tells nothing.</param>
/// <param name="Waiting">Stretches without a signal that nobody has wholly reviewed: what was drawn from.</param>
/// <param name="Quiet">Valid time without a signal.</param>
/// <param name="ShareNotReviewed">The part of it that no reviewer has looked at blind, 0–1; 1 where there is no such time.</param>
/// <param name="Under">The settings whose silence is meant.</param>
public sealed record BlindSample(
    IReadOnlyList<BlindStretch> Drawn, int Waiting, Duration Quiet, double ShareNotReviewed, CandidateSettings Under);

internal static class BlindSampling
{
    /// <param name="recordings">In a fixed order, so that the draw does not depend on the order given.</param>
    /// <param name="under">The settings whose silence is meant; the engine can run them.</param>
    /// <param name="rules">Conditioning, length, number and seed.</param>
    public static BlindSample Draw(IEnumerable<(string Patient, TuningRecording Recording)> recordings, CandidateSettings under, ProposalRules rules)
    {
        var waiting = new List<BlindStretch>();
        var quiet = Duration.Zero;
        double notReviewedSeconds = 0;
        foreach (var (patient, recording) in recordings)
        {
            var run = Replayer.RunLow(recording.SpO2, under.SpO2Low, under.Backstop, rules.Conditioning with { Averaging = under.Averaging });
            List<TimeSlice> signals = [.. run.Select(s => new TimeSlice(s.Start, s.End))];
            var series = MustCatchFinder.SeriesFor(recording.SpO2, rules.Conditioning);

            // Every stretch of the recording: the draw is made once, over the whole group.
            var all = StretchSampler.Draw(series, signals, rules.BlindStretch, int.MaxValue, seed: 0);
            quiet += all.Quiet;
            notReviewedSeconds += all.Quiet.Seconds * (StretchSampler.ShareNotReviewed(series, signals, recording.ReviewedBlind) ?? 0);
            waiting.AddRange(all.Stretches
                .Where(s => !recording.ReviewedBlind.Any(r => r.Start <= s.Start && s.End <= r.End))
                .Select(s => new BlindStretch(patient, recording.Name, s)));
        }

        var pool = waiting.ToArray();
        var draws = SeededDraws.For(rules.Seed, purpose: 3);
        draws.Shuffle(pool);
        double share = quiet > Duration.Zero ? notReviewedSeconds / quiet.Seconds : 1;
        return new BlindSample([.. pool.Take(rules.BlindStretches)], pool.Length, quiet, share, under);
    }
}
