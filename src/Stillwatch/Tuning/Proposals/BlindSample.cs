using Stillwatch.Alarms;
using Stillwatch.Conditioning;
using Stillwatch.Replay;
using Stillwatch.Time;

namespace Stillwatch.Tuning.Proposals;

/// <summary>A stretch for a reviewer, with nothing that tells what any settings made of it.</summary>
public sealed record BlindStretch(string Patient, string Recording, TimeSlice Slice);

/// <summary>
/// A random sample of stretches that did not signal, for reviewers who do not know the alarms (R14.10): what nobody was called
/// to, nobody has judged.
/// </summary>
/// <param name="Drawn">In drawn order, so that the order tells nothing.</param>
/// <param name="Silent">Stretches without a signal, of all recordings.</param>
/// <param name="Reviewed">Of these, those that lie wholly inside what a reviewer has looked at.</param>
/// <param name="StretchLength">Length of a stretch; the last of a recording may be shorter.</param>
/// <param name="Under">The settings whose silence is meant.</param>
public sealed record BlindSample(
    IReadOnlyList<BlindStretch> Drawn, int Silent, int Reviewed, Duration StretchLength, CandidateSettings Under)
{
    /// <summary>0–1; 1 when nothing was reviewed or nothing was silent.</summary>
    public double ShareNotReviewed => Silent == 0 ? 1 : 1 - Reviewed / (double)Silent;
}

internal static class BlindSampling
{
    /// <param name="recordings">In a fixed order, so that the draw does not depend on the order given.</param>
    /// <param name="under">The settings whose silence is meant.</param>
    /// <param name="signalsOf">The engine's signals over one recording under these settings.</param>
    /// <param name="policy">Length, number and seed.</param>
    public static BlindSample Draw(
        IEnumerable<(string Patient, TuningRecording Recording)> recordings, CandidateSettings under,
        Func<TuningRecording, CandidateSettings, IReadOnlyList<ReplayedSignal>> signalsOf, ProposalPolicy policy)
    {
        var waiting = new List<BlindStretch>();
        int silent = 0, reviewed = 0;
        foreach (var (patient, recording) in recordings)
        {
            var signals = signalsOf(recording, under);
            var series = ConditionedSeries.Of(recording.SpO2, policy.Conditioning with { Averaging = Duration.Zero });
            int piece = 0;
            for (var at = series.Start; at < series.End; at += policy.BlindStretch)
            {
                var end = at + policy.BlindStretch;
                var slice = new TimeSlice(at, end < series.End ? end : series.End);
                if (!HasValue(series, slice, ref piece) || signals.Any(s => s.Condition.IsPhysiological() && s.Start < slice.End && slice.Start < s.End)) continue;
                silent++;
                if (recording.ReviewedBlind.Any(r => r.Start <= slice.Start && slice.End <= r.End)) reviewed++;
                else waiting.Add(new BlindStretch(patient, recording.Name, slice));
            }
        }

        var pool = waiting.ToArray();
        var draws = SeededDraws.For(policy.Seed, purpose: 3);
        draws.Shuffle(pool);
        return new BlindSample([.. pool.Take(policy.BlindStretches)], silent, reviewed, policy.BlindStretch, under);
    }

    /// <summary>A stretch without any value shows a reviewer nothing.</summary>
    private static bool HasValue(ConditionedSeries series, TimeSlice slice, ref int piece)
    {
        while (piece < series.Pieces.Count && series.Pieces[piece].End <= slice.Start) piece++;
        return piece < series.Pieces.Count && series.Pieces[piece].Start < slice.End;
    }
}
