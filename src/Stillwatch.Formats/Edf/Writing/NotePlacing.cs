using Stillwatch.Signals;

namespace Stillwatch.Formats.Edf.Writing;

/// <summary>Decides which data record holds which notes, so that the annotation signal, which is as long in every record, stays short.</summary>
/// <remarks>
/// A note stands in the record of its time, or in an earlier one where that is full; in the order of the recording always. A list says its
/// own time, so where it stands does not matter to a reader (EDF+ specification, 2.2.2).
/// </remarks>
internal sealed class NotePlacing
{
    private readonly byte[][] lists;
    private readonly long[] recordOf; // index among the records written, rising

    private NotePlacing(byte[][] lists, long[] recordOf, int bytes)
    {
        this.lists = lists;
        this.recordOf = recordOf;
        Bytes = bytes;
    }

    /// <summary>Bytes of the annotation signal in every data record.</summary>
    public int Bytes { get; }

    public static NotePlacing Of(Recording recording, RecordPlan plan, NoteTexts texts, long originMilliseconds)
    {
        var lists = recording.Annotations.Select(texts.Of).ToArray();
        int timeKeeping = texts.TimeKeepingRoom(plan.LastNumber * plan.Milliseconds, plan.Milliseconds % 1000 == 0);
        long longest = 0, most = 0;
        foreach (byte[] list in lists)
        {
            longest = Math.Max(longest, list.Length);
            most += list.Length;
        }

        long[] own = OwnRecords(recording.Annotations, plan, originMilliseconds);
        for (long room = longest; ; room = Math.Min(most, room * 2))
        {
            if (TryPlace(lists, own, room) is { } placed) return new NotePlacing(lists, placed, checked((int)(timeKeeping + room)));
        }
    }

    /// <summary>Writes the notes of a record; calls must go forwards.</summary>
    /// <param name="index">Of the record among those written.</param>
    /// <param name="next">The note to begin with; moved on.</param>
    /// <param name="to">Behind the time-keeping list.</param>
    public void Write(long index, ref int next, Span<byte> to)
    {
        for (; next < lists.Length && recordOf[next] == index; next++)
        {
            lists[next].CopyTo(to);
            to = to[lists[next].Length..];
        }
    }

    private static long[] OwnRecords(IReadOnlyList<Annotation> notes, RecordPlan plan, long originMilliseconds)
    {
        var own = new long[notes.Count];
        Array.Fill(own, plan.Count - 1);
        long index = 0;
        int next = 0;
        foreach (long number in plan.Numbers())
        {
            // The last record that begins at or before the note.
            while (next < own.Length && notes[next].Time.Milliseconds - originMilliseconds < number * plan.Milliseconds) own[next++] = Math.Max(0, index - 1);
            if (next == own.Length) break;
            index++;
        }

        return own;
    }

    // From the last note backwards: each into its own record, or the nearest before it that has room.
    private static long[]? TryPlace(byte[][] lists, long[] own, long room)
    {
        var placed = new long[lists.Length];
        long record = long.MaxValue, left = 0;
        for (int i = lists.Length - 1; i >= 0; i--)
        {
            if (own[i] < record) (record, left) = (own[i], room);
            if (lists[i].Length > left) (record, left) = (record - 1, room);
            if (record < 0) return null;
            placed[i] = record;
            left -= lists[i].Length;
        }

        return placed;
    }
}
