using Stillwatch.Replay.Fidelity;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Formats.AlarmLists;

/// <summary>The alarms that a recording's own notes speak of.</summary>
public static class AnnotationAlarms
{
    /// <summary>
    /// A log of the source's notes; null where none of them is understood as an alarm. What Stillwatch itself wrote into an export is left aside. A
    /// note of no length is a start; one that says that an alarm is over ends the last one of its condition.
    /// </summary>
    public static AlarmLog? Of(Recording recording)
    {
        var entries = new List<LoggedSignal>();
        var open = new Dictionary<Alarms.AlarmCondition, int>();
        bool any = false;
        foreach (var note in recording.Annotations.Where(a => a.Origin == AnnotationOrigin.Source && a.Text.Trim().Length > 0).OrderBy(a => a.Time))
        {
            var meaning = AlarmText.Read(note.Text);
            any |= meaning.Condition is not null;
            if (meaning is { IsEnd: true, Condition: { } over })
            {
                if (open.Remove(over, out int begun)) entries[begun] = entries[begun] with { Length = note.Time - entries[begun].Start };
                continue;
            }

            Duration? length = note.Length > Duration.Zero ? note.Length : null;
            if (meaning.Condition is { } condition && length is null) open[condition] = entries.Count;
            entries.Add(new LoggedSignal(note.Time, note.Text, meaning.Condition, length, null, meaning.LimitMicro));
        }

        return any ? new AlarmLog($"{recording.Name}, its own notes", entries) : null;
    }
}
