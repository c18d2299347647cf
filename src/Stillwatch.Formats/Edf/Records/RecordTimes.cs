using System.Globalization;
using Stillwatch.Formats.Edf.Header;
using Stillwatch.Formats.Edf.Notes;

namespace Stillwatch.Formats.Edf.Records;

/// <summary>Records that follow each other in the file and in time.</summary>
/// <param name="FirstRecord">0-based.</param>
/// <param name="Count">At least 1.</param>
/// <param name="StartNanoseconds">When the first of them begins, from the header's start time.</param>
internal readonly record struct RecordRun(long FirstRecord, long Count, long StartNanoseconds);

/// <summary>When the data records were, and which of them have a place in time at all.</summary>
/// <param name="OriginNanoseconds">Where the recording's time line begins: the first record used, from the header's start time.</param>
/// <param name="Runs">In file order and in time order.</param>
internal sealed record RecordTimes(long OriginNanoseconds, IReadOnlyList<RecordRun> Runs)
{
    // Times are compared to the millisecond (rule R1): what is nearer than that is no gap and no overlap.
    private const long Tolerance = 1_000_000;
    private const decimal NanosecondsPerSecond = 1_000_000_000m;

    public static RecordTimes Of(EdfHeader header, RecordLayout layout, NotePass notes, IssueLog issues)
    {
        bool hasTimes = notes.Onsets.Any(o => o != NotePass.NoTime);
        if (header.IsPlus && !header.NoteSignals.Any() && layout.Count > 0)
        {
            string assumed = header.IsDiscontinuous ? "no record has a time, so no sample is used" : "the records follow each other without a gap, as the header says";
            if (header.IsDiscontinuous) issues.Failure(EdfIssueCodes.NotesNone, "", "header", "no annotation signal", "one, which says when each data record begins", assumed);
            else issues.Doubt(EdfIssueCodes.NotesNone, "", "header", "no annotation signal", "one, as EDF+ wants", assumed);
        }
        else if (!header.IsPlus && header.NoteSignals.Any())
        {
            issues.Doubt(EdfIssueCodes.NotesUnexpected, "", "header", "an annotation signal in a file that does not call itself EDF+ or BDF+", "\"EDF+C\" in the reserved field",
                "its annotations are read; the records follow each other without a gap");
        }

        var times = header.IsDiscontinuous ? Discontinuous(header, layout, notes, issues) : Continuous(header, layout, notes, issues);
        if (hasTimes && (times.OriginNanoseconds < 0 || times.OriginNanoseconds >= NanosecondsPerSecond))
        {
            issues.Doubt(EdfIssueCodes.NotesFirstTime, "", "data record 1", $"it begins {Show(times.OriginNanoseconds)} s from the header's start time", "less than a second after it",
                "the recording begins then");
        }

        return times;
    }

    private static RecordTimes Continuous(EdfHeader header, RecordLayout layout, NotePass notes, IssueLog issues)
    {
        long origin = notes.Onsets.Count > 0 && notes.Onsets[0] != NotePass.NoTime ? notes.Onsets[0] : 0;
        decimal length = (header.RecordSeconds ?? 0) * NanosecondsPerSecond;
        for (int r = 0; r < notes.Onsets.Count; r++)
        {
            if (notes.Onsets[r] == NotePass.NoTime)
            {
                if (!issues.TryCount(EdfIssueCodes.NotesNoTime, ""))
                    issues.Doubt(EdfIssueCodes.NotesNoTime, "", $"data record {r + 1}", "no time-keeping annotation", "one at the beginning of each record", "the record follows the one before without a gap");
                continue;
            }

            decimal drift = notes.Onsets[r] - origin - r * length;
            if (length <= 0 || Math.Abs(drift) <= Tolerance || issues.TryCount(EdfIssueCodes.RecordDrift, "")) continue;
            issues.Doubt(EdfIssueCodes.RecordDrift, "", $"data record {r + 1}", $"it says that it begins {Show(notes.Onsets[r])} s from the start", $"{Show(origin + (long)(r * length))} s, for the file calls itself continuous",
                "the records follow each other without a gap");
        }

        return new RecordTimes(origin, layout.Count > 0 ? [new RecordRun(0, layout.Count, origin)] : []);
    }

    private static RecordTimes Discontinuous(EdfHeader header, RecordLayout layout, NotePass notes, IssueLog issues)
    {
        if (!header.NoteSignals.Any())
        {
            if (layout.Count > 0) issues.Doubt(EdfIssueCodes.RecordNoTime, "", "data record 1", "no time", "a time-keeping annotation", "its samples are not used", layout.Count);
            return new RecordTimes(0, []);
        }

        decimal length = Math.Max(0, header.RecordSeconds ?? 0) * NanosecondsPerSecond;
        var timed = new List<int>();
        for (int r = 0; r < notes.Onsets.Count; r++)
        {
            if (notes.Onsets[r] != NotePass.NoTime) timed.Add(r);
            else if (!issues.TryCount(EdfIssueCodes.RecordNoTime, ""))
                issues.Doubt(EdfIssueCodes.RecordNoTime, "", $"data record {r + 1}", "no time-keeping annotation", "one at the beginning of each record of a discontinuous file", "its samples are not used");
        }

        var used = MostInOrder(timed, notes.Onsets, length);
        NoteLeftOut(timed, used, notes.Onsets, issues);
        var runs = Join(used, notes.Onsets, length);
        foreach (var (before, after) in runs.Zip(runs.Skip(1)))
        {
            if (after.StartNanoseconds - (before.StartNanoseconds + before.Count * length) <= Tolerance || issues.TryCount(EdfIssueCodes.RecordGaps, "")) continue;
            issues.Note(EdfIssueCodes.RecordGaps, "", $"data record {after.FirstRecord + 1}", $"it begins {Show(after.StartNanoseconds)} s from the start, later than the record before ends", "a discontinuous file may do so",
                "no rows between");
        }

        return new RecordTimes(used.Count > 0 ? notes.Onsets[used[0]] : 0, runs);
    }

    /// <summary>
    /// The most records that lie in time as they do in the file, each after the end of the one before: a single wrong time must not cost
    /// the rest of the night. Patience sorting: <c>last[n]</c> is the record that ends a chain of n + 1 soonest.
    /// </summary>
    private static List<int> MostInOrder(List<int> timed, List<long> onsets, decimal length)
    {
        long step = (long)Math.Max(1, length - Tolerance);
        var last = new List<int>();
        var before = new int[timed.Count];
        for (int i = 0; i < timed.Count; i++)
        {
            int low = 0, high = last.Count;
            while (low < high)
            {
                int middle = (low + high) / 2;
                if (onsets[timed[last[middle]]] + (decimal)step <= onsets[timed[i]]) low = middle + 1;
                else high = middle;
            }

            before[i] = low > 0 ? last[low - 1] : -1;
            if (low == last.Count) last.Add(i);
            else if (onsets[timed[i]] < onsets[timed[last[low]]]) last[low] = i; // of equal ones the first in the file stays
        }

        var used = new List<int>();
        for (int i = last.Count > 0 ? last[^1] : -1; i >= 0; i = before[i]) used.Add(timed[i]);
        used.Reverse();
        return used;
    }

    private static void NoteLeftOut(List<int> timed, List<int> used, List<long> onsets, IssueLog issues)
    {
        int u = 0;
        foreach (int record in timed)
        {
            if (u < used.Count && used[u] == record)
            {
                u++;
                continue;
            }

            if (issues.TryCount(EdfIssueCodes.RecordOrder, "")) continue;
            issues.Doubt(EdfIssueCodes.RecordOrder, "", $"data record {record + 1}", $"it begins {Show(onsets[record])} s from the start, out of order or over another record", "records in the order of their times, none over another",
                "its samples are not used; as few records as possible are left out");
        }
    }

    private static List<RecordRun> Join(List<int> used, List<long> onsets, decimal length)
    {
        var runs = new List<RecordRun>();
        foreach (int record in used)
        {
            if (runs.Count > 0)
            {
                var run = runs[^1];
                bool follows = record == run.FirstRecord + run.Count && Math.Abs(onsets[record] - (run.StartNanoseconds + run.Count * length)) <= Tolerance;
                if (follows)
                {
                    runs[^1] = run with { Count = run.Count + 1 };
                    continue;
                }
            }

            runs.Add(new RecordRun(record, 1, onsets[record]));
        }

        return runs;
    }

    private static string Show(long nanoseconds) => (nanoseconds / NanosecondsPerSecond).ToString("0.######", CultureInfo.InvariantCulture);
}
