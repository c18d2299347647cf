using Stillwatch.Time;

namespace Stillwatch.Tuning.Proposals;

/// <summary>
/// One patient's recordings made ready for settings that are asked about again and again: conditioned once for each averaging time in
/// use, events found once. Nothing in it changes afterwards, so several callers may ask at the same time.
/// </summary>
public sealed class PatientNights
{
    private readonly IReadOnlyList<ReadyRecording> ready;
    private readonly ProposalRules rules;

    /// <param name="patient">The pseudonym.</param>
    /// <param name="recordings">Recordings without a row are left out.</param>
    /// <param name="rules">Conditioning, and what invalid time may hide; the same as for the search that these numbers stand beside.</param>
    /// <param name="averagings">The averaging times that are kept ready; any other takes longer and gives the same.</param>
    public PatientNights(string patient, IEnumerable<TuningRecording> recordings, ProposalRules rules, IReadOnlyCollection<Duration> averagings)
    {
        Patient = patient;
        this.rules = rules;
        ready = [.. recordings.Where(r => r.SpO2.Channel.Times.Count > 0).Select(r => new ReadyRecording(r, rules, averagings))];
    }

    public string Patient { get; }

    public int Recordings => ready.Count;

    /// <summary>What these recordings say of every candidate of a grid; equal to what the search finds.</summary>
    public PatientEvidence Under(CandidateGrid grid) => EvidenceFromMaps.Of(Patient, ready, grid, rules);
}
