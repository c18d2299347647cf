using Stillwatch.Alarms;
using Stillwatch.Time;

namespace Stillwatch.Replay.Fidelity;

/// <summary>One line of what a monitor noted of its own alarm signals.</summary>
/// <param name="Start">On the recording's own time line; may lie outside the recording.</param>
/// <param name="Text">As the source has it.</param>
/// <param name="Condition">Null where the text is not understood: it is then counted and listed, never guessed at.</param>
/// <param name="Length">Null where the log gives starts only.</param>
/// <param name="Priority">Null where the log does not state it.</param>
/// <param name="LimitMicro">The limit in force, in millionths of its unit; null where the log does not state it.</param>
public sealed record LoggedSignal(
    SampleTime Start,
    string Text,
    AlarmCondition? Condition = null,
    Duration? Length = null,
    AlarmPriority? Priority = null,
    int? LimitMicro = null)
{
    /// <summary>Null where the log gives starts only.</summary>
    public SampleTime? End => Length is { } length ? Start + length : null;
}

/// <summary>A text of a log that says nothing we know.</summary>
/// <param name="Text">As the source has it, in its first place.</param>
/// <param name="Count">How many lines bear it.</param>
/// <param name="First">Where it stands first.</param>
public sealed record TextNotUnderstood(string Text, int Count, SampleTime First);

/// <summary>What a monitor signalled by its own account, on the time line of a recording of the same patient and time.</summary>
public sealed class AlarmLog
{
    /// <param name="name">To show: a file's name, or what the log was taken from.</param>
    /// <param name="entries">In any order.</param>
    /// <param name="covers">From when to when it was kept; null: the log does not say.</param>
    public AlarmLog(string name, IEnumerable<LoggedSignal> entries, TimeSlice? covers = null)
    {
        Name = name;
        Covers = covers;
        Entries = [.. entries.OrderBy(e => e.Start)];
        Signals = [.. Entries.Where(e => e.Condition is not null)];
        NotUnderstood =
        [
            .. Entries.Where(e => e.Condition is null).GroupBy(e => e.Text.Trim(), StringComparer.OrdinalIgnoreCase)
                .Select(g => new TextNotUnderstood(g.First().Text, g.Count(), g.First().Start)).OrderByDescending(t => t.Count).ThenBy(t => t.First),
        ];
    }

    public string Name { get; }

    /// <summary>Null: not known, as in most lists.</summary>
    public TimeSlice? Covers { get; }

    /// <summary>All lines by time, understood or not.</summary>
    public IReadOnlyList<LoggedSignal> Entries { get; }

    /// <summary>The lines whose condition is understood, by start.</summary>
    public IReadOnlyList<LoggedSignal> Signals { get; }

    /// <summary>The other lines, alike texts counted together, the most frequent first.</summary>
    public IReadOnlyList<TextNotUnderstood> NotUnderstood { get; }
}
