namespace Stillwatch.Tuning.Proposals;

/// <summary>What a weighted set of patients says of one candidate.</summary>
internal readonly record struct Tally(
    long Signals, long ActiveMilliseconds, long Technical,
    int Missed, int Late, int MissedAtHalfLength, int PossibleMissed,
    int PatientsMissed, int PatientsMissedAtWorst);

/// <summary>What a weighted set of patients holds, alike for every candidate.</summary>
internal readonly record struct Totals(
    long ValidMilliseconds, long ConnectedMilliseconds, int Patients, int Events, int PatientsWithEvents, int EventsAtWorst, int PatientsWithEventsAtWorst, long EventMilliseconds)
{
    /// <summary>The part of the valid time in signal beyond what the must-catch events last, 0–1.</summary>
    public double SignalTimeShare(long activeMilliseconds) =>
        ValidMilliseconds > 0 ? Math.Max(0, activeMilliseconds - EventMilliseconds) / (double)ValidMilliseconds : 0;
}

/// <summary>
/// The evidence of all patients laid out per candidate, so that the whole set, a fold, a resample or all but one patient is
/// the same sum with other weights (how often each patient counts).
/// </summary>
internal sealed class SearchTable
{
    private const double MillisecondsPerDay = 86_400_000.0;

    private readonly Dictionary<(int Seen, int Of), double> bounds = [];
    private readonly Cell[] cells; // candidate by candidate, patients side by side

    public SearchTable(CandidateGrid grid, IReadOnlyList<PatientEvidence> patients)
    {
        Grid = grid;
        Patients = patients;
        cells = new Cell[grid.Count * patients.Count];
        IsNull = new bool[grid.Count];
        foreach (var patient in patients)
        {
            if (patient.Signals.Length != grid.Count)
                throw new ArgumentException($"Patient {patient.Patient}: found evidence on {patient.Signals.Length} candidates, expected {grid.Count}.", nameof(patients));
        }

        for (int c = 0; c < grid.Count; c++)
        {
            for (int p = 0; p < patients.Count; p++)
            {
                var e = patients[p];
                IsNull[c] |= e.Signals[c] < 0;
                cells[c * patients.Count + p] = new Cell(
                    e.Signals[c], e.ActiveMilliseconds[c], e.TechnicalSignals[c],
                    e.Missed[c], e.Late[c], e.MissedAtHalfLength[c], e.PossibleMissed[c]);
            }
        }
    }

    public CandidateGrid Grid { get; }

    public IReadOnlyList<PatientEvidence> Patients { get; }

    /// <summary>Candidates without a cell (R7, R8): a limit at or below the backstop, a limit and margin above 100 %.</summary>
    public bool[] IsNull { get; }

    public int[] Everyone
    {
        get
        {
            var weights = new int[Patients.Count];
            Array.Fill(weights, 1);
            return weights;
        }
    }

    public Totals TotalsOf(ReadOnlySpan<int> weights)
    {
        long valid = 0, connected = 0, lasted = 0;
        int patients = 0, events = 0, withEvents = 0, atWorst = 0, withAtWorst = 0;
        for (int p = 0; p < weights.Length; p++)
        {
            int w = weights[p];
            if (w == 0) continue;
            var e = Patients[p];
            int worst = e.Events.Count + e.Possible.Count;
            valid += w * e.Valid.Milliseconds;
            connected += w * e.Connected.Milliseconds;
            patients += w;
            events += w * e.Events.Count;
            lasted += w * e.EventTime.Milliseconds;
            atWorst += w * worst;
            if (e.Events.Count > 0) withEvents += w;
            if (worst > 0) withAtWorst += w;
        }

        return new Totals(valid, connected, patients, events, withEvents, atWorst, withAtWorst, lasted);
    }

    public Tally TallyOf(int candidate, ReadOnlySpan<int> weights)
    {
        var row = cells.AsSpan(candidate * Patients.Count, Patients.Count);
        long signals = 0, active = 0, technical = 0;
        int missed = 0, late = 0, half = 0, possible = 0, patientsMissed = 0, patientsAtWorst = 0;
        for (int p = 0; p < row.Length; p++)
        {
            int w = weights[p];
            if (w == 0) continue;
            ref readonly var cell = ref row[p];
            signals += w * cell.Signals;
            active += w * cell.ActiveMilliseconds;
            technical += w * cell.Technical;
            missed += w * cell.Missed;
            late += w * cell.Late;
            half += w * cell.MissedAtHalfLength;
            possible += w * cell.PossibleMissed;
            if (cell.Missed > 0) patientsMissed += w;
            if (cell.Missed + cell.PossibleMissed > 0) patientsAtWorst += w;
        }

        return new Tally(signals, active, technical, missed, late, half, possible, patientsMissed, patientsAtWorst);
    }

    public static double PerDay(long count, long milliseconds) => milliseconds > 0 ? count * (MillisecondsPerDay / milliseconds) : double.NaN;

    /// <summary><see cref="ExactBound.Upper"/> at 95 %, remembered.</summary>
    public double Bound(int seen, int of)
    {
        if (!bounds.TryGetValue((seen, of), out double bound)) bounds[(seen, of)] = bound = ExactBound.Upper(seen, of);
        return bound;
    }

    private readonly record struct Cell(
        long Signals, long ActiveMilliseconds, long Technical, int Missed, int Late, int MissedAtHalfLength, int PossibleMissed);
}
